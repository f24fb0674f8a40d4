package circuit

import (
	"fmt"
	"math"
)

// The ranges of values. A resistance below the least would lose its current in rounding; use Short.
const (
	leastOhms = 1e-9
	mostOhms  = 1e12
	mostVolts = 1e5
	mostAmps  = 1e6
	mostWatts = 1e9
	mostNodes = 4096
	leastSize = 1e-9 // volts, watts and amperes that are not zero are above this
)

// uses tells which values a kind takes; the others must be zero.
type uses struct{ ohms, volts, watts, amps, diode, intake, outlet, out bool }

var usesOf = [...]uses{
	Resistor:      {ohms: true},
	EMF:           {volts: true},
	PowerLoad:     {watts: true, intake: true},
	PowerSource:   {watts: true, outlet: true},
	CurrentLoad:   {amps: true},
	CurrentSource: {amps: true},
	Photovoltaic:  {diode: true},
	Short:         {},
	Converter:     {watts: true, intake: true, outlet: true, out: true},
}

// check refuses an element whose values are out of range or do not belong to its kind.
func (e *Element) check() error {
	if e.Name == "" {
		return fmt.Errorf("element between %q and %q has no name", e.A, e.B)
	}
	if e.Kind == 0 || int(e.Kind) >= len(usesOf) {
		return fmt.Errorf("element %q: kind %d is none", e.Name, e.Kind)
	}
	if err := e.checkNodes(); err != nil {
		return err
	}
	u := usesOf[e.Kind]
	for _, v := range []struct {
		name             string
		value, low, high float64
		used             bool
	}{
		{"ohms", e.Ohms, leastOhms, mostOhms, u.ohms},
		{"volts", e.Volts, -mostVolts, mostVolts, u.volts},
		{"watts", e.Watts, 0, mostWatts, u.watts},
		{"amps", e.Amps, -mostAmps, mostAmps, u.amps},
		{"efficiency", e.Efficiency, 1e-3, 1, u.out},
		{"intake limit", e.Intake.LimitAmps, 0, mostAmps, u.intake},
		{"intake hold", e.Intake.HoldVolts, 0, mostVolts, u.intake},
		{"intake band", e.Intake.HoldBand, 0, mostVolts, u.intake},
		{"outlet limit", e.Outlet.LimitAmps, 0, mostAmps, u.outlet},
		{"outlet set voltage", e.Outlet.SetVolts, 0, mostVolts, u.outlet},
		{"outlet set resistance", e.Outlet.SetOhms, 0, mostOhms, u.outlet},
		{"photocurrent", e.Diode.LightAmps, 0, mostAmps, u.diode},
		{"saturation current", e.Diode.SaturationAmps, 1e-30, mostAmps, u.diode},
		{"ideality voltage", e.Diode.IdealityVolts, 1e-3, mostVolts, u.diode},
		{"series resistance", e.Diode.SeriesOhms, 0, mostOhms, u.diode},
		{"shunt resistance", e.Diode.ShuntOhms, leastOhms, mostOhms, u.diode},
	} {
		switch {
		case !v.used && v.value != 0:
			return fmt.Errorf("element %q: %s has no %s", e.Name, e.Kind, v.name)
		case v.used && !(v.value >= v.low && v.value <= v.high):
			return fmt.Errorf("element %q: %s %.6g outside %.6g to %.6g", e.Name, v.name, v.value, v.low, v.high)
		case v.value != 0 && v.name != "saturation current" && math.Abs(v.value) < leastSize:
			return fmt.Errorf("element %q: %s %.6g is below %.6g but not zero", e.Name, v.name, v.value, leastSize)
		}
	}
	return e.checkLimits()
}

func (e *Element) checkNodes() error {
	switch {
	case e.A == "" || e.B == "":
		return fmt.Errorf("element %q: a node has no name", e.Name)
	case e.A == e.B:
		return fmt.Errorf("element %q: both ends at node %q", e.Name, e.A)
	case e.Kind == Converter && (e.OutA == "" || e.OutB == ""):
		return fmt.Errorf("element %q: an output node has no name", e.Name)
	case e.Kind == Converter && e.OutA == e.OutB:
		return fmt.Errorf("element %q: both output ends at node %q", e.Name, e.OutA)
	case e.Kind != Converter && (e.OutA != "" || e.OutB != ""):
		return fmt.Errorf("element %q: %s has no output nodes", e.Name, e.Kind)
	}
	return nil
}

// checkLimits refuses limits that do not go together.
func (e *Element) checkLimits() error {
	in, out := e.Intake, e.Outlet
	switch {
	case (in.HoldVolts > 0) != (in.HoldBand > 0):
		return fmt.Errorf("element %q: intake hold %.6g V needs a band above zero, and a band a hold", e.Name, in.HoldVolts)
	case in.HoldBand > in.HoldVolts:
		return fmt.Errorf("element %q: intake band %.6g V above its hold %.6g V", e.Name, in.HoldBand, in.HoldVolts)
	case (out.SetVolts > 0) != (out.SetOhms > 0):
		return fmt.Errorf("element %q: outlet set voltage %.6g V needs a set resistance above zero, and a resistance a voltage", e.Name, out.SetVolts)
	case out.SetVolts > 0 && out.SetOhms < leastOhms:
		return fmt.Errorf("element %q: outlet set resistance %.6g below %.6g", e.Name, out.SetOhms, leastOhms)
	case e.Kind == Converter && e.Watts == 0 && out.LimitAmps == 0 && out.SetVolts == 0:
		return fmt.Errorf("element %q: converter needs an output limit: watts, outlet limit or outlet set voltage", e.Name)
	}
	return nil
}

// finite tells whether a value may pass a border.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

package check

import (
	"fmt"
	"math"
	"slices"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// hotLineC is the temperature of a loaded charge line by which it is judged [°C]: that of the NEC's table of resistance. A cooler line only
// loses less.
const hotLineC = 75

// ChargeLine is the vehicle's line to its dc-dc unit, ready to judge.
type ChargeLine struct {
	Unit *rig.DCDC // as filled in
	Said *rig.DCDC // as its owner wrote it
	Path string    // of the unit
	Vs   figure.Term
	R    figure.Term
	Pin  figure.Term // what the unit asks, with its working
	Fuse figure.Term // smallest fuse; State Absent where there is none
}

// ChargeLine returns the charge line; false without a dc-dc unit or a vehicle.
func (c Case) ChargeLine() (ChargeLine, bool) {
	unit, said, path := c.Unit()
	if unit == nil || c.Doc.Vehicle == nil || !unit.Output.Stands() && !unit.Power.Stands() {
		return ChargeLine{}, false
	}
	l := ChargeLine{Unit: unit, Said: said, Path: path, Vs: Known("Vs", "start of the line, engine running", c.Doc.Vehicle.Volts)}
	ohm, low, high := 0.0, 0.0, 0.0
	links := system.ChargeLinks(c.Doc)
	for i := range links {
		link := &links[i]
		o, lo, hi := system.LinkOhm(link, hotLineC)
		ohm, low, high = ohm+o, low+lo, high+hi
		if f := link.Fuse; f.Stands() && (l.Fuse.Figure.State == figure.Absent || f.Quantity.Base < l.Fuse.Figure.Value) {
			l.Fuse = Known("Ifuse", "fuse of the charge line", f)
		}
	}
	l.R = Between("R", "charge line, there and back, warm", quantity.Resistance, ohm, low, high, "[NEC] chapter 9 table 8 at 75 C; fuses and plugs by common practice")
	if low == high {
		l.R.Figure.State = figure.Plain
	}
	l.Pin = l.asks()
	return l, true
}

// asks is what the unit takes at full output, with the working inside.
func (l ChargeLine) asks() figure.Term {
	out, eta := Known("Iout", "output of the dc-dc unit", l.Unit.Output), Known("η", "its efficiency", l.Unit.Efficiency)
	volts := Known("Vbus", "its charging voltage", l.Unit.Absorption)
	w := figure.Working{Formula: "Pin = Iout × Vbus / η", Terms: []figure.Term{out, volts, eta}, Source: Practice}
	at := func(o, v, e float64) float64 { return o * v / e }
	p := figure.Figure{Name: "what the unit asks at full output", Kind: quantity.Power, State: figure.Plain, Source: "dc-dc unit"}
	p.Value = at(out.Figure.Value, volts.Figure.Value, eta.Figure.Value)
	p.Low = at(out.Figure.Low, volts.Figure.Low, eta.Figure.High)
	p.High = at(out.Figure.High, volts.Figure.High, eta.Figure.Low)
	if !l.Unit.Output.Stands() || l.Unit.Power.Given() && l.Unit.Power.Quantity.Base < out.Figure.Value*volts.Figure.Value {
		most := Known("Pout", "power of the dc-dc unit", l.Unit.Power)
		w.Formula, w.Terms = "Pin = Pout / η", []figure.Term{most, eta}
		p.Value, p.Low, p.High = most.Figure.Value/eta.Figure.Value, most.Figure.Low/eta.Figure.High, most.Figure.High/eta.Figure.Low
	}
	if p.High > p.Low {
		p.State = figure.About
	}
	w.Terms = append([]figure.Term{{Symbol: "Pin", Figure: figure.Figure{Name: p.Name, Value: p.Value, Low: p.Value, High: p.Value, Kind: p.Kind, State: figure.Plain}}}, w.Terms...)
	p.Working = &w
	return figure.Term{Symbol: "Pin", Figure: p}
}

// Model returns the unit as a model whose limits are those that its owner stated, for a bank at its charging voltage.
func (l ChargeLine) Model() (convert.DCDC, error) {
	p := convert.DCDCParams{
		OutputA: l.Unit.Output.Quantity.Base, OutputW: givenBase(l.Unit.Power), BankV: math.Max(1, l.Unit.Absorption.Quantity.Base), Peak: l.Unit.Efficiency.Quantity.Base, Curve: convert.FlatCurve(),
		InputLimitA: givenBase(l.Said.InputLimit), FoldsV: givenBase(l.Said.Folds), CutsOutV: givenBase(l.Said.CutsOut), RestartV: givenBase(l.Said.Restarts),
		Wakes: convert.WakeSwitch,
	}
	if p.CutsOutV == 0 {
		p.RestartV = 0
	}
	p.RestartV = math.Max(p.RestartV, p.CutsOutV)
	if p.CutsOutV > 0 { // as package system takes the times of such a unit
		p.RampS, p.CutDelayS, p.OffS = system.CutTimes()
	}
	u, err := convert.NewDCDC(p)
	if err != nil {
		return convert.DCDC{}, fmt.Errorf("dc-dc unit: %w", err)
	}
	return u, nil
}

// Kind tells whether its owner said how the unit behaves on a weak line.
func (l ChargeLine) Kind() bool {
	return l.Said.InputLimit.Given() || l.Said.Folds.Given() || l.Said.CutsOut.Given()
}

// Point returns the operating point at nominal figures with the line's start at volts [V], at full output.
func (l ChargeLine) Point(volts float64) (convert.LinePoint, error) {
	u, err := l.Model()
	if err != nil {
		return convert.LinePoint{}, err
	}
	return convert.SolveLine(&u, convert.LineInput{SourceV: volts, LoopOhm: l.R.Figure.Value, BusV: l.Unit.Absorption.Quantity.Base, AskW: convert.Unlimited, EngineRuns: true}), nil
}

// HasCable tells whether the file says anything of the charge line's cable.
func (c Case) HasCable() bool {
	return slices.ContainsFunc(system.ChargeLinks(c.Doc), func(l rig.Link) bool { return l.Run != nil || l.Ohms.Stands() })
}

func givenBase(v rig.Value) float64 {
	if v.Given() {
		return v.Quantity.Base
	}
	return 0
}

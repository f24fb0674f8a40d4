package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

// plain is a controller of one efficiency at every load, as the worked cases of the trade assume.
func plain(t testing.TB, kind Kind, outputA, efficiency float64) ControllerParams {
	t.Helper()
	return ControllerParams{Name: "ridge", Kind: kind, SurvivesV: 100, OutputA: outputA, BankV: 12.8, Peak: efficiency, Curve: FlatCurve()}
}

func makeController(t testing.TB, p ControllerParams) Controller {
	t.Helper()
	c, err := NewController(p)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Worked case M17 of the trade practice sheet: 1,200 W of modules at 0.8 in the noon sun, 96 %, 50 A into 13.6 V:
// 922 W against 680 W, 242 W clipped.
func TestDeliver_M17_OutputLimitAtNoon(t *testing.T) {
	c := makeController(t, plain(t, StepDown, 50, 0.96))
	out := c.Deliver(Input{MPPW: 1200 * 0.8, MPPV: 36, OpenV: 44, BusV: 13.6})
	free := c.Loss().Out(1200 * 0.8)
	near.Printed(t, "noon without the limit", free, 922, 0, "M17")
	near.Printed(t, "at the limit", out.BusW, 680, 0, "M17")
	near.Printed(t, "clipped, at the bus", free-out.BusW, 242, 0, "M17")
	near.Rel(t, "clipped, at the array", out.CurrentW, (free-out.BusW)/0.96, 1e-12, "one efficiency")
	if out.Cause != CurrentLimit || !out.Running {
		t.Errorf("cause %v, running %v", out.Cause, out.Running)
	}
}

// Worked case W30 of the trade reference: 400 W at 96 % into 13.6 V is 28.24 A.
func TestDeliver_W30_FourHundredWatts(t *testing.T) {
	c := makeController(t, plain(t, StepDown, 50, 0.96))
	out := c.Deliver(Input{MPPW: 400, MPPV: 36, OpenV: 44, BusV: 13.6})
	near.Printed(t, "output current", out.BusW/13.6, 28.24, 2, "W30")
}

// Worked case M03: one module of 17.6 V, -0.40 %/C, at a cell temperature of 70 C has 14.43 V against 14.4 V + 1 V. Two in series, 28.9 V,
// pass. Hot open-circuit voltage taken as Vmp + 3.5 V, ours.
func TestDeliver_M03_StringTooShortInHeat(t *testing.T) {
	p := plain(t, StepDown, 20, 0.97)
	p.HeadroomV = 1
	c := makeController(t, p)
	vmp := 17.6 * (1 - 0.004*(70-25))
	near.Printed(t, "hot voltage of one", vmp, 14.43, 2, "M03")
	near.Printed(t, "hot voltage of two", 2*vmp, 28.9, 1, "M03")

	one := c.Deliver(Input{MPPW: 80, MPPV: vmp, OpenV: vmp + 3.5, BusV: 14.4})
	if one.Cause != BelowWindow || one.VoltageW <= 0 || !one.Running {
		t.Errorf("one module: %+v, want it held above its best voltage and losing power", one)
	}
	two := c.Deliver(Input{MPPW: 160, MPPV: 2 * vmp, OpenV: 2 * (vmp + 3.5), BusV: 14.4})
	if two.Cause != Tracking || two.VoltageW != 0 {
		t.Errorf("two modules: %+v, want tracking", two)
	}
	both := plain(t, StepBoth, 20, 0.97)
	other := makeController(t, both)
	if got := other.Deliver(Input{MPPW: 80, MPPV: vmp, OpenV: vmp + 3.5, BusV: 14.4}); got.Cause != Tracking {
		t.Errorf("a controller that steps both ways: %v, want tracking", got.Cause)
	}
}

// Every threshold just inside and just outside.
func TestDeliver_Thresholds(t *testing.T) {
	const e = 1e-9
	down := plain(t, StepDown, 20, 0.97)
	down.TracksV, down.StartV, down.HeadroomV = 90, 5, 1
	up := plain(t, StepUp, 20, 0.97)
	up.StartV, up.HeadroomV = 2, 1
	direct := plain(t, Direct, 20, 1)
	limited := plain(t, StepDown, 20, 1)
	limited.PowerW = 200
	cases := []struct {
		name string
		p    ControllerParams
		in   Input
		want Cause
	}{
		{"survives, at", down, Input{MPPW: 100, MPPV: 80, OpenV: 100, BusV: 13}, Tracking},
		{"survives, over", down, Input{MPPW: 100, MPPV: 80, OpenV: 100 + e, BusV: 13}, Destroyed},
		{"tracks, at", down, Input{MPPW: 100, MPPV: 90, OpenV: 99, BusV: 13}, Tracking},
		{"tracks, over", down, Input{MPPW: 100, MPPV: 90 + e, OpenV: 99, BusV: 13}, AboveWindow},
		{"headroom, at", down, Input{MPPW: 100, MPPV: 14, OpenV: 20, BusV: 13}, Tracking},
		{"headroom, under", down, Input{MPPW: 100, MPPV: 14 - e, OpenV: 20, BusV: 13}, BelowWindow},
		{"start, at", down, Input{MPPW: 100, MPPV: 15, OpenV: 18, BusV: 13}, Tracking},
		{"start, under", down, Input{MPPW: 100, MPPV: 15, OpenV: 18 - e, BusV: 13}, NotStarted},
		{"start, under but running", down, Input{MPPW: 100, MPPV: 15, OpenV: 18 - e, BusV: 13, Ran: true}, Tracking},
		{"stops without headroom", down, Input{MPPW: 100, MPPV: 12, OpenV: 14, BusV: 13, Ran: true}, BelowWindow},
		{"step-up, at", up, Input{MPPW: 100, MPPV: 25, OpenV: 26, BusV: 28}, Tracking},
		{"step-up start, over", up, Input{MPPW: 100, MPPV: 25, OpenV: 26 + e, BusV: 28}, NotStarted},
		{"step-up running, window over", up, Input{MPPW: 100, MPPV: 27 + e, OpenV: 30, BusV: 28, Ran: true}, AboveWindow},
		{"step-up running, window at", up, Input{MPPW: 100, MPPV: 27, OpenV: 30, BusV: 28, Ran: true}, Tracking},
		{"direct", direct, Input{MPPW: 100, MPPV: 17, OpenV: 21, BusV: 13, HeldA: 6}, AtBank},
		{"direct, array below bank", direct, Input{MPPW: 5, MPPV: 10, OpenV: 13, BusV: 13, HeldA: 1}, AtBank},
		{"current limit, at", plain(t, StepDown, 20, 1), Input{MPPW: 260, MPPV: 36, OpenV: 44, BusV: 13}, Tracking},
		{"current limit, over", plain(t, StepDown, 20, 1), Input{MPPW: 260 + 1e-6, MPPV: 36, OpenV: 44, BusV: 13}, CurrentLimit},
		{"power limit, at", limited, Input{MPPW: 200, MPPV: 36, OpenV: 44, BusV: 13}, Tracking},
		{"power limit, over", limited, Input{MPPW: 200 + 1e-6, MPPV: 36, OpenV: 44, BusV: 13}, PowerLimit},
		{"dark", down, Input{MPPW: 0, MPPV: 80, OpenV: 90, BusV: 13}, Dark},
		{"no number", down, Input{MPPW: math.NaN(), MPPV: 80, OpenV: 90, BusV: 13}, Dark},
		{"infinite", down, Input{MPPW: math.Inf(1), MPPV: 80, OpenV: 90, BusV: 13}, Dark},
		{"no bank", down, Input{MPPW: 100, MPPV: 80, OpenV: 90}, NoBank},
		{"bank no number", down, Input{MPPW: 100, MPPV: 80, OpenV: 90, BusV: math.NaN()}, NoBank},
		{"open circuit no number", down, Input{MPPW: 100, MPPV: 80, OpenV: math.NaN(), BusV: 13}, NotStarted},
	}
	for _, k := range cases {
		c := makeController(t, k.p)
		out := c.Deliver(k.in)
		if out.Cause != k.want {
			t.Errorf("%s: %v, want %v", k.name, out.Cause, k.want)
		}
		closes(t, k.name, out)
	}
}

// The window of each kind, and the voltage at which a held array stands, told by the estimate there.
func TestController_Window(t *testing.T) {
	for _, k := range []struct {
		kind      Kind
		low, high float64
	}{{StepDown, 14.5, 90}, {StepUp, 0, 11.5}, {StepBoth, 0, 90}, {Direct, 13, 13}} {
		p := plain(t, k.kind, 500, 1)
		p.TracksV, p.HeadroomV, p.StartV = 90, 1.5, 4
		c := makeController(t, p)
		low, high := c.Window(13)
		near.Abs(t, k.kind.String()+": low", low, k.low, 0, "bank 13 V, headroom 1.5 V")
		near.Abs(t, k.kind.String()+": high", high, k.high, 0, "bank 13 V, headroom 1.5 V")
	}
	p := plain(t, StepDown, 500, 1)
	p.HeadroomV, p.StartV = 1.5, 4
	c := makeController(t, p)
	out := c.Deliver(Input{MPPW: 100, MPPV: 14, OpenV: 17, BusV: 13, HeldA: 6})
	near.Abs(t, "held at the window's edge", out.BusW, 14.5*6, 1e-12, "volts times amperes")
	if low := c.Deliver(Input{MPPW: 100, MPPV: 14, OpenV: 17 - 1e-9, BusV: 13, HeldA: 6}); low.Cause != NotStarted {
		t.Errorf("held, under the start-up margin: %v", low.Cause)
	}
}

// A direct controller holds the array at bank voltage: 11.3 A from a 200 W module at 13.6 V are 153.7 W; the other 46.3 W are booked to
// voltage. That such a unit clamps the module to the battery is common practice; the current near short circuit is of a module sheet.
func TestDeliver_DirectAtBankVoltage(t *testing.T) {
	c := makeController(t, plain(t, Direct, 20, 1))
	out := c.Deliver(Input{MPPW: 200, MPPV: 18.6, OpenV: 22.6, BusV: 13.6, HeldA: 11.3})
	near.Abs(t, "into the bank", out.BusW, 153.68, 1e-9, "arithmetic")
	near.Abs(t, "not tracked", out.VoltageW, 46.32, 1e-9, "arithmetic")
}

// closes fails when the watts of an output do not add up to the array's best power.
func closes(t testing.TB, what string, o Output) {
	t.Helper()
	sum := o.BusW + o.LossW + o.VoltageW + o.CurrentW + o.PowerW + o.CurtailedW
	near.Abs(t, what+": watts booked", sum, o.PotentialW, 1e-12*max(1, o.PotentialW), "rounding")
	for _, w := range []float64{o.BusW, o.LossW, o.VoltageW, o.CurrentW, o.PowerW, o.CurtailedW} {
		if !(w >= -1e-12*max(1, o.PotentialW)) || w > o.PotentialW*(1+1e-12) {
			t.Errorf("%s: a part outside the whole in %+v", what, o)
		}
	}
}

func drawController(d draw) ControllerParams {
	p := ControllerParams{
		Kind:      pick(d, StepDown, StepUp, StepBoth, Direct),
		SurvivesV: d.between(40, 500),
		HeadroomV: d.between(0, 2),
		OutputA:   d.between(1, 150),
		BankV:     pick(d, 12.8, 25.6, 51.2),
		Peak:      d.between(0.8, 1),
		Curve: Curve{PeakAt: d.between(0.1, 1),
			FixedShare: d.between(0, 0.5)},
	}
	p.StartV = p.HeadroomV + d.between(0, 5)
	p.TracksV = p.SurvivesV * d.between(0.5, 1)
	if d.yes() {
		p.PowerW = d.between(10, 5000)
	}
	return p
}

func drawInput(d draw) Input {
	in := Input{
		MPPW: d.between(0, 5000), MPPV: d.between(5, 300),
		BusV: d.between(10, 60), Ran: d.yes(),
	}
	in.OpenV = in.MPPV * d.between(1.05, 1.5)
	return in
}

// Properties: every watt booked, whatever the device and the array, throttled or not; more light never gives less; a looser limit never
// gives less; asking less never gives more, and never less than asked when there was as much.
func TestDeliver_Properties(t *testing.T) {
	causes := map[Cause]int{}
	draws(t, 2000, func(d draw) {
		p, in := drawController(d), drawInput(d)
		c, err := NewController(p)
		if err != nil {
			t.Fatal(err)
		}
		out := c.Deliver(in)
		causes[out.Cause]++
		closes(t, "delivered", out)
		if out.BusW > p.OutputA*in.BusV*(1+1e-12) || p.PowerW > 0 && out.BusW > p.PowerW*(1+1e-12) {
			t.Fatalf("limits passed: %+v", out)
		}
		brighter := in
		brighter.MPPW *= d.between(1, 2)
		if more := c.Deliver(brighter); more.BusW < out.BusW*(1-1e-12) {
			t.Fatalf("more light, less power: %v after %v W", more.BusW, out.BusW)
		}
		wider := c
		wider.limitA *= 1.5
		if more := wider.Deliver(in); more.BusW < out.BusW*(1-1e-12) {
			t.Fatalf("wider limit, less power: %v after %v W", more.BusW, out.BusW)
		}
		ask := d.between(-10, 6000)
		less := c.Throttle(out, ask)
		closes(t, "throttled", less)
		near.Abs(t, "throttled", less.BusW, min(out.BusW, max(ask, 0)), 0, "asked, or all there is")
		again := c.Throttle(less, ask)
		if again != less && again.BusW != less.BusW {
			t.Fatalf("throttled twice: %+v then %+v", less, again)
		}
	})
	if len(causes) < 6 {
		t.Errorf("only these causes were met: %v", causes)
	}
}

// The inner loop of a trip makes no garbage.
func TestDeliver_AllocatesNothing(t *testing.T) {
	c := makeController(t, plain(t, StepDown, 50, 0.96))
	in := Input{MPPW: 960, MPPV: 13, OpenV: 20, BusV: 13.6, Ran: true}
	n := testing.AllocsPerRun(100, func() { sinkOutput = c.Throttle(c.Deliver(in), 200) })
	near.Abs(t, "allocations", n, 0, 0, "budget")
}

// The independent reference's year of hours: bus = min(0.97 × array, 512 W) in every row, and its yearly loss and clipped energy.
func TestDeliver_ReferenceYear(t *testing.T) {
	p := plain(t, StepBoth, 500, 0.97)
	p.PowerW = 512
	c := makeController(t, p)
	var doc struct {
		Cases []struct {
			Site, Rig, Trace   string
			ControllerClipped  float64 `json:"controller_clipped_kwh"`
			ControllerLossFree float64 `json:"controller_loss_kwh"`
		}
	}
	referenceJSON(t, &doc, "oracle", "soc.json")
	found := 0
	for _, k := range doc.Cases {
		if k.Rig != "A_600flat_300ah" {
			continue
		}
		found++
		var clipped, loss float64
		worst := near.Worst{What: "bus power"}
		for _, row := range referenceRows(t, 8760, "oracle", k.Trace) {
			in, hours := number(t, row, "pv_dc_w"), number(t, row, "duration_h")
			out := c.Deliver(Input{MPPW: in, MPPV: 36, OpenV: 44, BusV: 12.8})
			worst.See(out.BusW, number(t, row, "bus_pv_w"), row["interval_start_local"])
			clipped += 0.97 * out.PowerW * hours / 1000
			loss += (out.LossW + 0.03*out.PowerW) * hours / 1000
		}
		near.Abs(t, k.Site+": worst hour", worst.Off, 0, 1e-6, "the trace prints six decimals")
		near.Abs(t, k.Site+": clipped at the bus", clipped, k.ControllerClipped, 1e-6, "the reference counts it after the efficiency")
		near.Abs(t, k.Site+": loss", loss, k.ControllerLossFree, 1e-6, "the reference counts loss before clipping")
	}
	if found < 2 {
		t.Fatalf("only %d years found", found)
	}
}

func TestNewController_RefusesAllAtOnce(t *testing.T) {
	good := plain(t, StepDown, 30, 0.97)
	bad := []struct {
		name string
		edit func(*ControllerParams)
	}{
		{"kind", func(p *ControllerParams) { p.Kind = 0 }}, {"kind", func(p *ControllerParams) { p.Kind = Direct + 1 }},
		{"survives", func(p *ControllerParams) { p.SurvivesV = math.NaN() }}, {"survives", func(p *ControllerParams) { p.SurvivesV = 4.99 }},
		{"tracks", func(p *ControllerParams) { p.TracksV = 100.1 }}, {"output", func(p *ControllerParams) { p.OutputA = 0 }},
		{"output", func(p *ControllerParams) { p.OutputA = math.Inf(1) }}, {"efficiency", func(p *ControllerParams) { p.Peak = 1.01 }},
		{"efficiency", func(p *ControllerParams) { p.Peak = 0 }}, {"starts", func(p *ControllerParams) { p.StartV, p.HeadroomV = 1, 2 }},
		{"own use", func(p *ControllerParams) { p.OwnUseW = -1 }}, {"fixed share", func(p *ControllerParams) { p.Curve.FixedShare = 0.6 }},
		{"peak at", func(p *ControllerParams) { p.Curve.PeakAt = 0 }}, {"bank voltage", func(p *ControllerParams) { p.BankV = 0 }},
		{"power", func(p *ControllerParams) { p.PowerW = -5 }}, {"input isc", func(p *ControllerParams) { p.InputIscA = -5 }},
		{"headroom", func(p *ControllerParams) { p.HeadroomV = -0.1 }},
	}
	for _, b := range bad {
		p := good
		b.edit(&p)
		c, err := NewController(p)
		if err == nil || c != (Controller{}) {
			t.Errorf("%s: accepted %+v", b.name, p)
			continue
		}
		if !strings.Contains(err.Error(), b.name) || !strings.HasPrefix(err.Error(), `controller "ridge": `) {
			t.Errorf("%s: message %q names neither place nor value", b.name, err)
		}
	}
	p := good
	p.SurvivesV, p.OutputA, p.Peak = -1, -1, -1
	_, err := NewController(p)
	if err == nil {
		t.Fatal("three faults accepted")
	}
	if n := strings.Count(err.Error(), "\n") + 1; n != 3 {
		t.Errorf("%d faults reported, want 3:\n%v", n, err)
	}
}

// The efficiency curve belongs to the smaller of the two limits, and what is below its fixed loss never reaches the bank.
func TestController_CurveOfItsRating(t *testing.T) {
	p := plain(t, StepDown, 50, 0.96)
	p.Curve = TypicalCurve()
	for _, k := range []struct{ powerW, ratedW float64 }{{0, 640}, {300, 300}, {900, 640}} {
		p.PowerW = k.powerW
		c := makeController(t, p)
		l := c.Loss()
		at, peak := l.Peak()
		near.Rel(t, "place of the peak", at, k.ratedW/2, 1e-12, "half of the smaller limit")
		near.Rel(t, "peak", peak, 0.96, 1e-12, "given")
		for _, w := range []float64{l.FixedW * 0.5, l.FixedW} {
			out := c.Deliver(Input{MPPW: w, MPPV: 36, OpenV: 44, BusV: 13})
			if out.Cause != TooDim || out.Running || out.BusW != 0 || out.LossW != w {
				t.Errorf("%v W: %+v, want too dim", w, out)
			}
		}
		if out := c.Deliver(Input{MPPW: l.FixedW * 1.001, MPPV: 36, OpenV: 44, BusV: 13}); out.Cause != Tracking || !(out.BusW > 0) {
			t.Errorf("just above the fixed loss: %+v", out)
		}
	}
}

// Words of the rig file, both ways.
func TestParseKind(t *testing.T) {
	for k := StepDown; k <= Direct; k++ {
		if got, ok := ParseKind(k.String()); !ok || got != k {
			t.Errorf("%v read back as %v, %v", k, got, ok)
		}
	}
	for _, w := range []string{"", "boost", "Direct"} {
		if k, ok := ParseKind(w); ok {
			t.Errorf("%q taken for %v", w, k)
		}
	}
}

func ExampleController_Deliver() {
	c, err := NewController(ControllerParams{Name: "ridge", Kind: StepDown, SurvivesV: 100, StartV: 5, HeadroomV: 1, OutputA: 50, BankV: 12.8,
		Peak: 0.96, Curve: FlatCurve()})
	if err != nil {
		fmt.Println(err)
		return
	}
	out := c.Deliver(Input{MPPW: 960, MPPV: 36, OpenV: 44, BusV: 13.6})
	fmt.Printf("%.0f W of %.0f W reach the bank: %v, %.0f W not taken, %.0f W heat\n", out.BusW, out.PotentialW, out.Cause, out.CurrentW, out.LossW)
	out = c.Throttle(out, 200)
	fmt.Printf("%.0f W: %v, %.0f W curtailed\n", out.BusW, out.Cause, out.CurtailedW)
	// Output:
	// 680 W of 960 W reach the bank: output current limit, 252 W not taken, 28 W heat
	// 200 W: bank takes less, 500 W curtailed
}

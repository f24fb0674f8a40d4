package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func service(t testing.TB, name string) Service {
	t.Helper()
	s, ok := ServiceNamed(name)
	if !ok {
		t.Fatalf("no service %q", name)
	}
	return s
}

// Every row of the trade reference's table of services.
func TestServices_ReferenceTable(t *testing.T) {
	for _, r := range referenceRows(t, 4, "trade", "shore_services.csv") {
		s := service(t, r["service"])
		near.Abs(t, s.Name+": volt-amperes", s.VA(), number(t, r, "VA"), 0, "table")
		near.Abs(t, s.Name+": for hours", s.ContinuousVA(), number(t, r, "continuous_80pct_VA"), 1e-9, "table")
		near.Abs(t, s.Name+": volts of all legs", s.Volts*float64(s.Legs), number(t, r, "volts"), 0, "table")
		near.Abs(t, s.Name+": legs", float64(s.Legs), number(t, r, "legs"), 0, "table")
	}
}

// The words of the rig file for inlets and hookups all name a service.
func TestServiceNamed_WordsOfTheRigFile(t *testing.T) {
	words := []string{"15 A", "20 A", "30 A", "50 A", "6 A 230 V", "10 A 230 V", "16 A 230 V"}
	if len(words) != len(Services()) {
		t.Errorf("%d services, want %d", len(Services()), len(words))
	}
	for _, w := range words {
		service(t, w)
	}
	if _, ok := ServiceNamed("none"); ok {
		t.Error("none is a service")
	}
	near.Abs(t, "16 A at 230 V", service(t, "16 A 230 V").VA(), 3680, 0, "arithmetic")
}

func TestService_Narrower(t *testing.T) {
	for _, k := range []struct {
		rig, post string
		amps      float64
		legs      int
		ok        bool
	}{
		{"50 A", "30 A", 30, 1, true}, {"30 A", "50 A", 30, 1, true}, {"30 A", "15 A", 15, 1, true}, {"50 A", "50 A", 50, 2, true},
		{"30 A", "16 A 230 V", 0, 0, false},
	} {
		s, ok := service(t, k.rig).Narrower(service(t, k.post))
		if ok != k.ok || s.Amps != k.amps || s.Legs != k.legs {
			t.Errorf("%s rig on %s post: %v A, %d legs, %v", k.rig, k.post, s.Amps, s.Legs, ok)
		}
	}
}

// Worked cases W26 and W27 of the trade reference: on 30 A an air conditioner of 1500, a charger of 1000 and a refrigerator of 325 W are
// 2825 of 2880 W, 23.54 A; with loads of 2600 W the charger gets 280 W.
func TestShareHookup_W26_W27_ThirtyAmps(t *testing.T) {
	s := service(t, "30 A")
	all := ShareHookup(Hookup{Service: s, LoadVA: [2]float64{1500 + 325}, ChargerVA: 1000})
	near.Abs(t, "limit", all.LimitVA, 2880, 0, "W26")
	near.Abs(t, "drawn", all.ShoreVA[0], 2825, 1e-9, "W26")
	near.Printed(t, "amperes", all.ShoreVA[0]/120, 23.54, 2, "W26")
	near.Abs(t, "charger gets all", all.ChargerVA, 1000, 0, "W26")
	less := ShareHookup(Hookup{Service: s, LoadVA: [2]float64{2600}, ChargerVA: 1000})
	near.Abs(t, "left for the charger", less.ChargerVA, 280, 1e-9, "W27")
}

// Worked case M54: on a 15 A outlet an air conditioner of 12.5 A and a 100 A charger of 13.9 A are 26.4 A against an honest 12 A, 1,440 W.
// Charging at 14.2 V, 0.85 wall to battery, power factor 1 as the sheet takes it.
func TestShareHookup_M54_DrivewayOutlet(t *testing.T) {
	c, err := NewCharger(ChargerParams{OutputA: 100, BankV: 14.2, Peak: 0.85, Curve: FlatCurve(), PowerFactor: 1})
	if err != nil {
		t.Fatal(err)
	}
	va := c.InputVA(c.MostW(14.2))
	near.Printed(t, "charger", va/120, 13.9, 1, "M54")
	near.Printed(t, "wanted together", 12.5+va/120, 26.4, 1, "M54")
	s := service(t, "15 A")
	near.Abs(t, "honest limit", s.ContinuousVA(), 1440, 1e-9, "M54")
	got := ShareHookup(Hookup{Service: s, LoadVA: [2]float64{12.5 * 120}, ChargerVA: va})
	near.Abs(t, "charger yields all", got.ChargerVA, 0, 0, "loads come first")
	near.Abs(t, "to be switched off", got.ShedVA[0], 60, 1e-9, "12.5 A against 12 A")
}

// Commissioning test C22: limit set to 10 A, 1,800 W switched on: the cord carries 10 A and the battery makes up the rest.
func TestShareHookup_C22_BatteryMakesUp(t *testing.T) {
	got := ShareHookup(Hookup{Service: service(t, "15 A"), LimitA: 10, LoadVA: [2]float64{1800}, ChargerVA: 900, MakeUpVA: [2]float64{2000}})
	want := HookupShare{LimitVA: 1200, ShoreVA: [2]float64{1200}, MakeUpVA: [2]float64{600}}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// Limits, just inside and just outside; legs apart and joined.
func TestShareHookup_Limits(t *testing.T) {
	fifty := service(t, "50 A")
	two := ShareHookup(Hookup{Service: fifty, LoadVA: [2]float64{5000, 1000}, ChargerVA: 500, ChargerLeg: 1})
	if two.ShedVA != [2]float64{200, 0} || two.ChargerVA != 500 || two.ShoreVA != [2]float64{4800, 1500} {
		t.Errorf("legs are not apart: %+v", two)
	}
	one := ShareHookup(Hookup{Service: service(t, "30 A"), LoadVA: [2]float64{1500, 1500}, ChargerVA: 500, ChargerLeg: 1, MakeUpVA: [2]float64{0, 50}})
	if one.ShoreVA[0] != 2880 || one.ShoreVA[1] != 0 || one.MakeUpVA[0] != 50 || one.ShedVA[0] != 70 || one.ChargerVA != 0 {
		t.Errorf("legs are not joined on one: %+v", one)
	}
	at := ShareHookup(Hookup{Service: fifty, LimitA: 40, LoadVA: [2]float64{4800}})
	over := ShareHookup(Hookup{Service: fifty, LimitA: 40.001, LoadVA: [2]float64{4801}})
	if at.OverContinuous || !over.OverContinuous {
		t.Errorf("continuous share: at it %v, over it %v", at.OverContinuous, over.OverContinuous)
	}
	if l := ShareHookup(Hookup{Service: fifty, LimitA: 80}).LimitVA; l != 6000 {
		t.Errorf("limit above the breaker: %v VA, want the breaker's 6000", l)
	}
	if odd := ShareHookup(Hookup{Service: fifty, LimitA: math.NaN(), LoadVA: [2]float64{math.Inf(1), math.NaN()}, ChargerVA: -3}); odd.ShoreVA != [2]float64{} {
		t.Errorf("no numbers gave %+v", odd)
	}
	if none := ShareHookup(Hookup{LoadVA: [2]float64{100}}); none.ShoreVA != [2]float64{} {
		t.Errorf("no service gave %+v", none)
	}
}

// Properties: each leg closes; the limit is kept; the charger gets nothing while anything is made up or shed on its leg; a higher limit
// never sheds more nor charges less.
func TestShareHookup_Properties(t *testing.T) {
	yielded := 0
	draws(t, 2000, func(d draw) {
		va := func() float64 { return d.between(0, 9000) }
		h := Hookup{Service: pick(d, Services()...), LimitA: d.between(0, 60),
			LoadVA: [2]float64{va(), va()}, ChargerVA: va(),
			ChargerLeg: d.IntN(2), MakeUpVA: [2]float64{va(), va()}}
		s := ShareHookup(h)
		loads, leg := h.LoadVA, h.ChargerLeg
		if h.Service.Legs == 1 {
			loads, leg = [2]float64{loads[0] + loads[1], 0}, 0
		}
		for i := range 2 {
			charger := 0.0
			if i == leg {
				charger = s.ChargerVA
			}
			near.Abs(t, fmt.Sprintf("leg %d of %+v", i, h), s.ShoreVA[i]+s.MakeUpVA[i]+s.ShedVA[i], loads[i]+charger, 1e-9, "energy closes")
			if s.ShoreVA[i] > s.LimitVA+1e-9 {
				t.Fatalf("leg %d above the limit: %+v", i, s)
			}
		}
		if s.MakeUpVA[leg]+s.ShedVA[leg] > 0 {
			yielded++
			if s.ChargerVA > 0 {
				t.Fatalf("the charger did not yield: %+v", s)
			}
		}
		if h.LimitA > 0 {
			h.LimitA *= 1.2
			if more := ShareHookup(h); more.ShedVA[0] > s.ShedVA[0]+1e-9 || more.ShedVA[1] > s.ShedVA[1]+1e-9 || more.ChargerVA < s.ChargerVA-1e-9 {
				t.Fatalf("a higher limit made it worse: %+v then %+v", s, more)
			}
		}
	})
	if yielded < 10 {
		t.Errorf("the charger had to yield in %d cases only", yielded)
	}
}

// Worked case M55: 100 ft of 14 AWG has 0.628 ohm there and back: 7.5 V at 12 A, 25 V at a start of 40 A; 50 ft of 10 AWG drops 1.5 V.
// Worked case M60: 1,500 W draw 12.5 A at 120 V and 15.0 A at 100 V.
func TestCord_M55_M60(t *testing.T) {
	thin, thick := Cord{120, 2 * 100 * 3.14 / 1000}, Cord{120, 2 * 50 * 1.24 / 1000}
	near.Printed(t, "100 ft of 14 AWG, 12 A", 120-thin.InletV(12), 7.5, 1, "M55")
	near.Printed(t, "100 ft of 14 AWG, 40 A", 120-thin.InletV(40), 25, 0, "M55")
	near.Printed(t, "50 ft of 10 AWG, 12 A", 120-thick.InletV(12), 1.5, 1, "M55")
	for _, k := range []struct{ volts, amps float64 }{{120, 12.5}, {100, 15.0}} {
		v, a, ok := Cord{PostV: k.volts}.InletAt(1500)
		if !ok || v != k.volts {
			t.Errorf("no cord: %v V, %v", v, ok)
		}
		near.Printed(t, "constant power", a, k.amps, 1, "M60")
	}
	if v, a, ok := thin.InletAt(1500); !ok || math.Abs(v*a-1500) > 1e-9 || math.Abs(120-a*thin.LoopOhm-v) > 1e-9 {
		t.Errorf("constant power on a cord: %v V, %v A, %v", v, a, ok)
	}
	if _, _, ok := thin.InletAt(120 * 120 / (4 * thin.LoopOhm) * 1.001); ok {
		t.Error("more than the cord can carry was carried")
	}
	if _, _, ok := thin.InletAt(120 * 120 / (4 * thin.LoopOhm) * 0.999); !ok {
		t.Error("less than the cord can carry was not")
	}
	near.Abs(t, "a dead short", thin.InletV(1e6), 0, 0, "not below zero")
}

// Worked case M50: a 55 A charger on its own inverter gives 748 W and takes 978 W from the bank, -230 W; 200 Ah are gone in 11 h.
// 13.6 V, 0.85 wall to battery, 0.90 bank to AC.
func TestCharger_M50_FedByItsOwnInverter(t *testing.T) {
	c, err := NewCharger(ChargerParams{OutputA: 55, BankV: 13.6, Peak: 0.85, Curve: FlatCurve(), PowerFactor: 1})
	if err != nil {
		t.Fatal(err)
	}
	v := flat(t, 2000)
	out := c.Give(ChargerAsk{BusV: 13.6, WantW: Unlimited, MostVA: Unlimited})
	takes := v.DCW(out.ACW)
	near.Printed(t, "gives", out.BusW, 748, 0, "M50")
	near.Printed(t, "takes", takes, 978, 0, "M50")
	near.Printed(t, "net", out.BusW-takes, -230, 0, "M50")
	near.Printed(t, "hours for 200 Ah", 200*12.8/(takes-out.BusW), 11, 0, "M50")
}

// A charger gives what is wanted, up to its current, up to what AC may give; energy closes.
func TestCharger_Properties(t *testing.T) {
	bound := [3]int{}
	draws(t, 2000, func(d draw) {
		p := ChargerParams{OutputA: d.between(5, 150), BankV: 13.6, Peak: d.between(0.7, 0.96),
			Curve: TypicalCurve(), PowerFactor: d.between(0.5, 1)}
		c, err := NewCharger(p)
		if err != nil {
			t.Fatal(err)
		}
		ask := ChargerAsk{BusV: d.between(10, 15), WantW: d.between(0, 2500),
			MostVA: d.between(0, 4000)}
		out := c.Give(ask)
		near.Abs(t, "energy", out.ACW, out.BusW+out.LossW, 1e-9, "closes")
		if out.VA > ask.MostVA*(1+1e-9) || out.BusW > ask.WantW || out.BusW > c.MostW(ask.BusV) {
			t.Fatalf("a bound passed: %+v of %+v", out, ask)
		}
		switch {
		case out.BusW == ask.WantW:
			bound[0]++
		case out.BusW == c.MostW(ask.BusV):
			bound[1]++
		default:
			bound[2]++
			if out.BusW > 0 {
				near.Rel(t, "AC is used up", out.VA, ask.MostVA, 1e-9, "the bound")
			}
		}
	})
	for i, n := range bound {
		if n == 0 {
			t.Errorf("bound %d never met: %v", i, bound)
		}
	}
}

// The efficiency curve belongs to the charger's output at the nominal bank voltage.
func TestCharger_CurveOfItsRating(t *testing.T) {
	c, err := NewCharger(ChargerParams{OutputA: 60, BankV: 12.8, Peak: 0.9, Curve: TypicalCurve(), PowerFactor: 0.7})
	if err != nil {
		t.Fatal(err)
	}
	at, peak := c.Loss().Peak()
	near.Rel(t, "place of the peak", at, 384, 1e-12, "half of 60 A at 12.8 V")
	near.Rel(t, "peak", peak, 0.9, 1e-12, "given")
	near.Rel(t, "volt-amperes there", c.InputVA(384), 384/0.9/0.7, 1e-12, "arithmetic")
}

func TestNewCharger_Refuses(t *testing.T) {
	good := ChargerParams{Name: "converter", OutputA: 55, BankV: 13.6, Peak: 0.86, Curve: TypicalCurve(), PowerFactor: 0.7}
	for _, b := range []struct {
		name string
		edit func(*ChargerParams)
	}{
		{"output", func(p *ChargerParams) { p.OutputA = 0 }}, {"bank", func(p *ChargerParams) { p.BankV = math.Inf(1) }},
		{"efficiency", func(p *ChargerParams) { p.Peak = 1.2 }}, {"power factor", func(p *ChargerParams) { p.PowerFactor = 0 }},
		{"peak at", func(p *ChargerParams) { p.Curve = Curve{} }},
	} {
		p := good
		b.edit(&p)
		c, err := NewCharger(p)
		if err == nil || c != (Charger{}) {
			t.Errorf("%s: accepted %+v", b.name, p)
		} else if !strings.Contains(err.Error(), b.name) {
			t.Errorf("%s: message %q does not name it", b.name, err)
		}
	}
}

func ExampleShareHookup() {
	s, _ := ServiceNamed("15 A")
	for _, load := range []float64{300, 900, 1800} {
		h := ShareHookup(Hookup{Service: s, LimitA: 10, LoadVA: [2]float64{load}, ChargerVA: 700, MakeUpVA: [2]float64{2000}})
		fmt.Printf("load %.0f: shore %.0f, charger %.0f, battery %.0f VA\n", load, h.ShoreVA[0], h.ChargerVA, h.MakeUpVA[0])
	}
	// Output:
	// load 300: shore 1000, charger 700, battery 0 VA
	// load 900: shore 1200, charger 300, battery 0 VA
	// load 1800: shore 1200, charger 0, battery 600 VA
}

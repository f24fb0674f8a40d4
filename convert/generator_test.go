package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func makeGenerator(t testing.TB, p GeneratorParams) Generator {
	t.Helper()
	g, err := NewGenerator(p)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Every row and column of the trade reference's table of deratings.
func TestDerating_ReferenceTable(t *testing.T) {
	columns := map[Derating]string{
		Per1000ft: "A_3.5pct_per_1000ft_sea_level", Per500m: "B_3pct_per_500m_above_1000m",
		Per1000ftAndHeat: "C_4pct_per_1000ft", Per300m: "D_3.5pct_per_300m_above_1500m",
	}
	for _, r := range referenceRows(t, 15, "trade", "generator_derating.csv") {
		at := Air{ElevationM: number(t, r, "altitude_ft") * 0.3048, AirC: (number(t, r, "temp_F") - 32) / 1.8}
		for d, column := range columns {
			what := fmt.Sprintf("%s at %s ft, %s F", d, r["altitude_ft"], r["temp_F"])
			near.Printed(t, what, d.Share(at), number(t, r, column), 3, "table")
		}
		near.Abs(t, "none", NoDerating.Share(at), 1, 0, "definition")
	}
}

// Worked case M61: 1,600 W at 7,500 ft have 1,180 W left. An 80 A charger takes 1,336 W: too much; one of 60 A takes 1,002 W, 85 %.
func TestGenerator_M61_ChargerAtAltitude(t *testing.T) {
	g := makeGenerator(t, GeneratorParams{RatedW: 1600, Derating: Per1000ft, HalfLph: 0.6})
	most := g.MostW(Air{ElevationM: 7500 * 0.3048, AirC: 20})
	near.Printed(t, "left", most, 1180, 0, "M61")
	for _, k := range []struct{ amps, watts float64 }{{80, 1336}, {60, 1002}} {
		c, err := NewCharger(ChargerParams{OutputA: k.amps, BankV: 14.2, Peak: 0.85, Curve: FlatCurve(), PowerFactor: 1})
		if err != nil {
			t.Fatal(err)
		}
		w := c.Give(ChargerAsk{BusV: 14.2, WantW: Unlimited, MostVA: Unlimited}).ACW
		near.Printed(t, "charger", w, k.watts, 0, "M61")
		if (w <= most) != (k.amps == 60) {
			t.Errorf("%v A: %v of %v W", k.amps, w, most)
		}
	}
	near.Printed(t, "share of it, per cent", 100*1002/most, 85, 0, "M61")
}

// Scenario S10: from 48 to 59 % of 2.56 kWh at 0.7 kW takes 0.4 h, to 80 % 1.2 h. Scenario S1: 1.40 kWh missing, 60 A at 13.6 V: 1.7 h.
func TestGenerator_S1_S10_HoursForEnergy(t *testing.T) {
	g := makeGenerator(t, GeneratorParams{RatedW: 2000, HalfLph: 0.7})
	for _, k := range []struct{ wh, watts, hours float64 }{{0.11 * 2560, 700, 0.4}, {0.32 * 2560, 700, 1.2}, {3*1620 - 3460, 60 * 13.6, 1.7}} {
		hours, litres, ok := g.Run(Run{EnergyWh: k.wh, BankW: k.watts, LoadW: 1000})
		near.Printed(t, "hours", hours, k.hours, 1, "S1, S10")
		near.Rel(t, "fuel at half load", litres, 0.7*hours, 1e-12, "the given point of the line")
		if !ok {
			t.Error("refused")
		}
	}
	if _, _, ok := g.Run(Run{EnergyWh: 100}); ok {
		t.Error("charging with nothing comes to an end")
	}
	if h, l, ok := g.Run(Run{}); h != 0 || l != 0 || !ok {
		t.Errorf("nothing to put in: %v h, %v L, %v", h, l, ok)
	}
}

// Each rule starts at its height and temperature, not before; every share lies in [0, 1] and never rises with height or heat.
func TestDerating_LimitsAndProperties(t *testing.T) {
	for _, k := range []struct {
		d Derating
		m float64
		c float64
	}{{Per500m, 1000, 40}, {Per300m, 1500, 40}, {Per1000ftAndHeat, 0, 25}, {Per1000ft, 0, 25}} {
		near.Abs(t, k.d.String()+", at its start", k.d.Share(Air{k.m, k.c}), 1, 0, "both thresholds")
		if s := k.d.Share(Air{k.m + 1, k.c}); !(s < 1) {
			t.Errorf("%v: %v above its height", k.d, s)
		}
		if s := k.d.Share(Air{k.m, k.c + 1}); !(s < 1) {
			t.Errorf("%v: %v above its temperature", k.d, s)
		}
		near.Abs(t, k.d.String()+", no numbers", k.d.Share(Air{math.NaN(), math.Inf(1)}), 1, 0, "counts as below")
	}
	draws(t, 2000, func(d draw) {
		rule := Derating(d.IntN(len(deratingRules)))
		at := Air{d.between(-400, 12000), d.between(-40, 60)}
		s := rule.Share(at)
		up, hot := at, at
		up.ElevationM += d.between(0, 3000)
		hot.AirC += d.between(0, 20)
		if !(s >= 0 && s <= 1) || rule.Share(up) > s || rule.Share(hot) > s {
			t.Fatalf("%v at %+v: %v, higher %v, hotter %v", rule, at, s, rule.Share(up), rule.Share(hot))
		}
	})
	for _, w := range []string{"3 % per 500 m above 1000 m", "3.5 % per 300 m above 1500 m", "4 % per 1000 ft and 1 % per 10 F", "3.5 % per 1000 ft", "none"} {
		if d, ok := ParseDerating(w); !ok || d.String() != w {
			t.Errorf("%q read as %v, %v", w, d, ok)
		}
	}
	near.Abs(t, "a rule that is none", Derating(len(deratingRules)).Share(Air{9000, 50}), 1, 0, "no derating")
	if _, ok := ParseDerating(""); ok {
		t.Error("an empty text is a rule")
	}
}

// Fuel: the line goes through the two points given, and rises.
func TestGenerator_FuelLine(t *testing.T) {
	g := makeGenerator(t, GeneratorParams{RatedW: 2000, HalfLph: 0.7, NoLph: 0.2})
	near.Abs(t, "no load", g.FuelLph(0), 0.2, 0, "given")
	near.Abs(t, "half load", g.FuelLph(1000), 0.7, 1e-12, "given")
	near.Abs(t, "full load", g.FuelLph(2000), 1.2, 1e-12, "same line")
	near.Abs(t, "below zero", g.FuelLph(-500), 0.2, 0, "counts as zero")
	plainOne := makeGenerator(t, GeneratorParams{RatedW: 2000, HalfLph: 0.7})
	near.Abs(t, "no load not given", plainOne.FuelLph(0), TypicalNoLoadShare*0.7, 1e-12, "documented default")
	for _, b := range []struct {
		name string
		p    GeneratorParams
	}{
		{"power", GeneratorParams{RatedW: 99, HalfLph: 1}}, {"burns", GeneratorParams{RatedW: 2000}},
		{"derating", GeneratorParams{RatedW: 2000, HalfLph: 1, Derating: 5}}, {"without load", GeneratorParams{RatedW: 2000, HalfLph: 1, NoLph: 1.01}},
		{"power", GeneratorParams{RatedW: math.NaN(), HalfLph: 1}},
	} {
		if g, err := NewGenerator(b.p); err == nil || g != (Generator{}) || !strings.Contains(err.Error(), b.name) {
			t.Errorf("%s: %+v gave %v", b.name, b.p, err)
		}
	}
}

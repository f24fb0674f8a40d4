package pv

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"campwright/internal/near"
)

// randomCurve returns a curve from far beyond what modules are: any light, any diode, a series resistance up to that which takes all voltage, a
// shunt down to one that takes all current.
func randomCurve(r *rand.Rand) Curve {
	pick := func(low, high float64) float64 { return low * math.Exp(r.Float64()*math.Log(high/low)) }
	c := Curve{IL: pick(1e-7, 100), I0: pick(1e-22, 1e-3), A: pick(0.01, 20)}
	volts := c.A * math.Log1p(c.IL/c.I0)
	c.Rs, c.Rsh = pick(1e-5, 1)*volts/c.IL, pick(0.05, 1e6)*volts/c.IL
	switch r.IntN(6) {
	case 0:
		c.Rs = 0
	case 1:
		c.Rsh = math.Inf(1)
	}
	return c
}

// exact returns the current at the voltage v by halving, from the equation as printed.
func exact(c Curve, v float64) float64 {
	off := func(i float64) float64 {
		return c.IL - c.I0*math.Expm1((v+i*c.Rs)/c.A) - (v+i*c.Rs)/c.Rsh - i
	}
	low, high := -1.0, c.IL+1
	for off(low) < 0 {
		low *= 2
	}
	for off(high) > 0 {
		high *= 2
	}
	for range 200 {
		mid := (low + high) / 2
		if off(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// The fast solutions against slow ones, from the equation alone.
func TestCurve_againstHalving(t *testing.T) {
	const seed = 11
	r := rand.New(rand.NewPCG(seed, 0))
	for n := range 4000 {
		c := randomCurve(r)
		name := fmt.Sprintf("seed %d curve %d %+v", seed, n, c)
		voc := c.Voc()
		scale := c.IL + c.I0
		near.Abs(t, name+" I at Voc", c.Current(voc), 0, 1e-10*scale, "no current at open circuit")
		near.Abs(t, name+" V at Isc", c.Voltage(c.Isc()), 0, 1e-9*voc+1e-9*c.Rs*scale+1e-9*scale*min(c.Rsh, c.A/c.I0), "no voltage at short circuit, with rounding magnified by the flat part")
		for _, share := range []float64{-0.5, 0, 0.4, 0.8, 0.97, 1.02} {
			v := voc * share
			near.Abs(t, fmt.Sprint(name, " I at ", share, " Voc"), c.Current(v), exact(c, v), 1e-10*(scale+math.Abs(c.Current(v))), "halving")
		}
		top := c.MaxPower()
		best, at := 0.0, 0.0
		low, high := 0.0, voc
		for range 120 { // the power has one top: thirds
			a, b := low+(high-low)/3, high-(high-low)/3
			if a*c.Current(a) < b*c.Current(b) {
				low = a
			} else {
				high = b
			}
		}
		at = (low + high) / 2
		best = at * c.Current(at)
		near.Rel(t, name+" P", top.P, best, 1e-10, "search by thirds")
		near.Abs(t, name+" Vmp", top.V, at, 1e-5*voc, "search by thirds on a flat top")
		near.Rel(t, name+" V·I", top.V*top.I, top.P, 1e-14, "by definition")
		near.Abs(t, name+" the top lies on the curve", top.I, c.Current(top.V), 1e-9*scale, "one curve")
		for _, from := range []Point{{}, top, {V: voc, I: 0}, {V: 2 * voc, I: 0}, {V: 0, I: c.Isc()}, {V: math.NaN()}, {V: math.Inf(1)}, {V: -5}} {
			again := c.MaxPowerFrom(from)
			near.Rel(t, fmt.Sprint(name, " P from ", from), again.P, top.P, 1e-11, "any start gives the same")
		}
		if t.Failed() {
			t.FailNow()
		}
	}
}

// Exact things that hold for every curve.
func TestCurve_properties(t *testing.T) {
	const seed = 12
	r := rand.New(rand.NewPCG(seed, 0))
	for n := range 1000 {
		c := randomCurve(r)
		name := fmt.Sprintf("seed %d curve %d %+v", seed, n, c)
		voc, scale := c.Voc(), c.IL+c.I0
		last, slope := math.Inf(1), 0.0
		for k := range 60 {
			v := voc * float64(k-10) / 40
			i := c.Current(v)
			if i > last+1e-10*(scale+math.Abs(i)) {
				t.Fatalf("%s: current rises with voltage at %g V", name, v)
			}
			if d := i - last; k > 1 && d > slope+1e-9*(scale+math.Abs(i)) {
				t.Fatalf("%s: curve not concave at %g V", name, v)
			}
			slope, last = i-last, i
		}
		series, parallel := float64(1+r.IntN(8)), float64(1+r.IntN(5))
		s := c.Scale(series, parallel)
		near.Rel(t, name+" joined P", s.MaxPower().P, series*parallel*c.MaxPower().P, 1e-11, "equal units add up")
		near.Abs(t, name+" joined Voc", s.Voc(), series*voc, 1e-10*series*voc, "equal units add up")
		near.Abs(t, name+" joined I", s.Current(0.7*series*voc), parallel*c.Current(0.7*voc), 1e-10*parallel*scale, "equal units add up")
		run := c.WithRun(0.3)
		i := 0.6 * c.Isc()
		near.Abs(t, name+" behind a line", run.Voltage(i), c.Voltage(i)-0.3*i, 1e-9*(voc+i), "a line in series takes its drop")
		if run.MaxPower().P > c.MaxPower().P {
			t.Fatalf("%s: a line adds power", name)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
}

// From the dark of night to more light than there is, from the coldest to the hottest: everything finite, and in order.
func TestModule_extremes(t *testing.T) {
	seen := 0
	for name, m := range oracleModules(t) {
		lastP := -1.0
		for _, cell := range []float64{-100, -40, 25, 90, 200} {
			lastP = -1
			for _, light := range []float64{0, 1e-9, 1e-3, 0.1, 1, 10, 100, 500, 1000, 1500, 5000} {
				c := m.At(light, cell)
				if err := c.Check(); err != nil {
					t.Fatalf("%s at %g W/m² %g °C: %v", name, light, cell, err)
				}
				top := c.MaxPower()
				for _, v := range []float64{c.Voc(), c.Isc(), top.V, top.I, top.P, c.Current(-1000), c.Current(1000), c.Voltage(1e6), c.Voltage(-1e3)} {
					if !finite(v) {
						t.Fatalf("%s at %g W/m² %g °C: %g", name, light, cell, v)
					}
				}
				if !(top.P > lastP) || light == 0 && top != (Point{}) {
					t.Errorf("%s at %g W/m² %g °C: %g W, wanted more than %g and nothing in the dark", name, light, cell, top.P, lastP)
				}
				lastP = top.P
				seen++
			}
		}
		same := []struct {
			name string
			a, b Curve
		}{
			{"colder than clamped", m.At(500, -300), m.At(500, -100)},
			{"hotter than clamped", m.At(500, 1e9), m.At(500, 200)},
			{"brighter than clamped", m.At(math.Inf(1), 25), m.At(1e5, 25)},
			{"light below zero", m.At(-5, 25), m.At(0, 25)},
			{"light not a number", m.At(math.NaN(), 60), m.At(0, 25)},
			{"temperature not a number", m.At(800, math.NaN()), m.At(0, 25)},
		}
		for _, s := range same {
			if s.a != s.b {
				t.Errorf("%s: %s: %+v, wanted %+v", name, s.name, s.a, s.b)
			}
		}
	}
	if seen != 3*5*11 {
		t.Fatalf("%d states, wanted 165", seen)
	}
}

func TestModule_PowerColumn(t *testing.T) {
	for name, m := range oracleModules(t) {
		light, cell := invented(60)
		light[100], cell[100] = 5000, 300 // clamped as At does
		light[101], cell[101] = -3, 20
		got := make([]float64, len(light))
		if err := m.PowerColumn(got, light, cell); err != nil {
			t.Fatal(err)
		}
		lit := 0
		for k := range got {
			want := m.At(light[k], cell[k]).MaxPower().P
			near.Abs(t, fmt.Sprint(name, " step ", k), got[k], want, 1e-10*want, "the column is the same solution in another order")
			if want > 0 {
				lit++
			}
		}
		if lit < 4000 {
			t.Fatalf("%d steps in light", lit)
		}
		a, err := NewArray(ArrayParams{Module: m, InSeries: 3, Strings: 2})
		if err != nil {
			t.Fatal(err)
		}
		six := make([]float64, len(light))
		if err := a.PowerColumn(six, light, cell); err != nil {
			t.Fatal(err)
		}
		near.Rel(t, name+" array", six[12], a.At(light[12], cell[12]).MaxPower().P, 1e-11, "six modules")
	}
	m := oracleModules(t)["GEN-100M36"]
	for what, k := range map[string]struct{ dst, light, cell []float64 }{
		"short":      {make([]float64, 2), make([]float64, 2), make([]float64, 1)},
		"long":       {make([]float64, 2), make([]float64, 3), make([]float64, 2)},
		"not number": {make([]float64, 2), []float64{100, math.NaN()}, make([]float64, 2)},
		"infinite":   {make([]float64, 2), []float64{100, 200}, []float64{1, math.Inf(-1)}},
	} {
		if err := m.PowerColumn(k.dst, k.light, k.cell); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
	if n := testing.AllocsPerRun(10, func() {
		var dst, light, cell [100]float64
		light[7] = 500
		if err := m.PowerColumn(dst[:], light[:], cell[:]); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%g allocations, wanted none", n)
	}
}

func TestCurve_Check(t *testing.T) {
	good := Curve{IL: 5, I0: 1e-10, Rs: 0.2, Rsh: 200, A: 0.85}
	for what, k := range map[string]struct {
		c  Curve
		ok bool
	}{
		"good":              {good, true},
		"dark":              {Curve{0, 1e-10, 0.2, math.Inf(1), 0.85}, true},
		"no series":         {Curve{5, 1e-10, 0, 200, 0.85}, true},
		"negative light":    {Curve{-1, 1e-10, 0.2, 200, 0.85}, false},
		"no diode":          {Curve{5, 0, 0.2, 200, 0.85}, false},
		"negative series":   {Curve{5, 1e-10, -0.1, 200, 0.85}, false},
		"no shunt":          {Curve{5, 1e-10, 0.2, 0, 0.85}, false},
		"no ideality":       {Curve{5, 1e-10, 0.2, 200, 0}, false},
		"light no number":   {Curve{math.NaN(), 1e-10, 0.2, 200, 0.85}, false},
		"shunt no number":   {Curve{5, 1e-10, 0.2, math.NaN(), 0.85}, false},
		"infinite ideality": {Curve{5, 1e-10, 0.2, 200, math.Inf(1)}, false},
	} {
		if err := k.c.Check(); (err == nil) != k.ok {
			t.Errorf("%s: %v", what, err)
		}
	}
}

package pv

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"campwright/internal/near"
)

// exampleCell is the cell of the handbook's examples of partial shade, at 25 °C: [W/m²].
func exampleCell(light float64) Unit {
	return Unit{Curve: Curve{IL: 8.24 * light / 1000, I0: 2.36e-9, Rs: 0.00181, Rsh: 1000 * 1000 / light, A: 0.0334003528568489}, Count: 1,
		Reverse: Reverse{Share: 0.002, BreakdownV: -15, Exponent: 3}}
}

// cells returns a group of n cells at each light of the list, in turn n and light.
func cells(bypass bool, nLight ...float64) Group {
	g := Group{Bypass: bypass, DropV: 0.5}
	for k := 0; k < len(nLight); k += 2 {
		u := exampleCell(nLight[k+1])
		u.Count = int(nLight[k])
		g.Units = append(g.Units, u)
	}
	return g
}

// repeat returns a string of n times the groups.
func repeat(n int, groups ...Group) []Group {
	var s []Group
	for range n {
		s = append(s, groups...)
	}
	return s
}

// The handbook's examples of partial shade, cell by cell with breakdown: cell from an open library's documentation, cases combined with
// another implementation.
func TestCombine_partialShadeExamples(t *testing.T) {
	var file struct {
		Cells struct {
			IL   float64 `json:"I_L_ref"`
			A    float64 `json:"a_ref_V"`
			Exp  float64 `json:"breakdown_exp"`
			Volt float64 `json:"breakdown_V"`
		} `json:"cell_parameters"`
		Full struct{ Isc, Voc, Imp, Vmp, Pmp float64 } `json:"cell_1000"`
		Dim  struct{ Isc, Voc, Imp, Vmp, Pmp float64 } `json:"cell_200"`
		List []struct {
			Case     string
			Pmp      float64
			Vmp      float64
			Imp      float64
			Fraction float64
			Max      [][3]float64 `json:"local_max"`
			ShadedV  float64      `json:"shaded_cell_V"`
		} `json:"cases"`
	}
	readJSON(t, reference(t, "trade", "partial_shade_examples.json"), &file)
	if file.Cells.IL != 8.24 || file.Cells.A != exampleCell(1).Curve.A || file.Cells.Volt != -15 || file.Cells.Exp != 3 {
		t.Fatalf("cell parameters changed: %+v", file.Cells)
	}
	const source = "partial_shade_examples.json"
	for _, k := range []struct {
		light                   float64
		isc, voc, imp, vmp, pmp float64
	}{{1000, file.Full.Isc, file.Full.Voc, file.Full.Imp, file.Full.Vmp, file.Full.Pmp}, {200, file.Dim.Isc, file.Dim.Voc, file.Dim.Imp, file.Dim.Vmp, file.Dim.Pmp}} {
		c := exampleCell(k.light).Curve
		near.Abs(t, "cell Isc", c.Isc(), k.isc, 6e-4, "half a digit, and breakdown that Curve leaves out")
		near.Printed(t, "cell Voc", c.Voc(), k.voc, 4, source)
		near.Abs(t, "cell Vmp", c.MaxPower().V, k.vmp, 3e-3, "flat top, searched by another way")
		near.Abs(t, "cell Imp", c.MaxPower().I, k.imp, 0.01, "as Vmp")
		near.Abs(t, "cell Pmp", c.MaxPower().P, k.pmp, 6e-4, "half a digit, and breakdown that Curve leaves out")
	}
	lit, one := cells(true, 18, 1000), cells(true, 17, 1000, 1, 200)
	arrays := map[string][][]Group{
		"72 cells, 3x24, all 1000": {repeat(3, cells(true, 24, 1000))},
		"72 cells, 10 % shade from the bottom edge (library doc example: 800 beam + 200 diffuse; per substring 20 lit, 2 at 840, 2 at 200)": {repeat(3,
			cells(true, 20, 1000, 2, 840, 2, 200))},
		"72 cells, ONE cell at 200":                          {append(repeat(2, cells(true, 24, 1000)), cells(true, 23, 1000, 1, 200))},
		"36 cells, 2x18, all 1000":                           {{lit, lit}},
		"36 cells, ONE cell at 200":                          {{lit, one}},
		"36 cells, one cell at 200 in BOTH substrings":       {{one, one}},
		"two 36-cell modules in SERIES, one wholly at 200":   {{lit, lit, cells(true, 18, 200), cells(true, 18, 200)}},
		"two 36-cell modules in PARALLEL, one wholly at 200": {{lit, lit}, repeat(2, cells(true, 18, 200))},
		"36 cells NO bypass diodes, one cell at 200":         {{cells(false, 35, 1000, 1, 200)}},
	}
	seen := 0
	full := map[int]float64{72: 349.26, 36: 174.63}
	for _, k := range file.List {
		strings, ok := arrays[k.Case]
		if !ok {
			if k.Pmp != 0 {
				t.Errorf("case %q not known", k.Case)
			}
			continue
		}
		seen++
		c, err := Combine(strings)
		if err != nil {
			t.Fatal(err)
		}
		best := c.Best()
		near.Rel(t, k.Case+" Pmp", best.P, k.Pmp, 5e-4, "the source took its curves at a few hundred points")
		if k.Imp != 0 {
			near.Rel(t, k.Case+" Imp", best.I, k.Imp, 0.005, "flat top")
		}
		if k.Vmp != 0 {
			near.Rel(t, k.Case+" Vmp", best.V, k.Vmp, 0.005, "flat top")
		}
		if k.Max != nil && len(c.Maxima()) != len(k.Max) {
			t.Errorf("%s: %d maxima, wanted %d", k.Case, len(c.Maxima()), len(k.Max))
		} else {
			for _, want := range k.Max {
				ok := false
				for _, got := range c.Maxima() {
					ok = ok || math.Abs(got.P/want[0]-1) < 1e-3 && math.Abs(got.V/want[1]-1) < 0.005 && math.Abs(got.I/want[2]-1) < 0.005
				}
				if !ok {
					t.Errorf("%s: maximum %v not among %v", k.Case, want, c.Maxima())
				}
			}
		}
		if k.Fraction != 0 && !isOne(k.Case, "two") {
			n := 36
			if isOne(k.Case, "72") {
				n = 72
			}
			near.Abs(t, k.Case+" fraction", best.P/full[n], k.Fraction, 1e-3, "half a digit and the points")
		}
		if k.ShadedV != 0 {
			u := exampleCell(200)
			at := u.at(best.I)
			near.Abs(t, "hot cell", at.v, k.ShadedV, 0.02, "half a digit, the current of a flat top")
			near.Abs(t, "hot spot W", -at.v*best.I, 106, 1, source+" says about 106 W")
		}
	}
	if seen != len(arrays) {
		t.Fatalf("%d cases seen, wanted %d", seen, len(arrays))
	}
}

// isOne tells whether the name of a case begins with prefix.
func isOne(name, prefix string) bool { return strings.HasPrefix(name, prefix) }

// unlike returns the groups of a module from a sheet, in full sun at 25 °C.
func unlike(t *testing.T, d Datasheet, substrings int) []Group {
	t.Helper()
	f, err := Fit(d)
	if err != nil {
		t.Fatal(err)
	}
	return repeat(substrings, Group{Units: []Unit{{Curve: f.Module.At(1000, 25).Scale(1/float64(substrings), 1), Count: 1}}, Bypass: true, DropV: 0.5})
}

// Unlike modules in parallel, common practice, no source: 100 W of 17.5 V (Voc 21.6) beside 330 W of 33 V that gives 10.5 A below its knee is
// taken as 100 + 17.5 · 10.5 = 284 W of 430.
func TestCombine_unlikeParallel(t *testing.T) {
	small := Datasheet{PowerW: 100, VocV: 21.6, IscA: 6.1, VmpV: 17.5, ImpA: 5.71, Alpha: 0.0005, Beta: -0.0031}
	large := Datasheet{PowerW: 330, VocV: 40, IscA: 10.6, VmpV: 33, ImpA: 10, Alpha: 0.0005, Beta: -0.0029}
	c, err := Combine([][]Group{unlike(t, small, 2), unlike(t, large, 3)})
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "at the small module's voltage", c.At(17.5).P, 284, 0.01, "rule of thumb, with the shunt and the knee left out")
	near.Within(t, "best", c.Best().P, 284, 284*1.03, "above the rule of thumb, since the best voltage is a little higher")
	near.Within(t, "best voltage", c.Best().V, 17.2, 19, "dragged to that of the small module")
	near.Abs(t, "lost", 1-c.Best().P/430, 0.34, 0.02, "the rule of thumb says 34 %, and the best is up to 3 % of 284 W above it")
	apart := 0.0
	for _, d := range [][]Group{unlike(t, small, 2), unlike(t, large, 3)} {
		one, err := Combine([][]Group{d})
		if err != nil {
			t.Fatal(err)
		}
		apart += one.Best().P
	}
	near.Rel(t, "separate controllers", apart, 430, 0.001, "each at its own voltage; sheets round")
}

// Unlike modules in series, common practice, no source: 400 W (31.0 V, 12.9 A) with 200 W (20.2 V, 9.9 A) is taken as 9.9 · 51.2 = 507 W of 600.
// The rule holds the large module at 31.0 V; at the smaller current its voltage is higher, so the exact sum is above it.
func TestCombine_unlikeSeries(t *testing.T) {
	large := unlike(t, Datasheet{PowerW: 400, VocV: 37.1, IscA: 13.6, VmpV: 31, ImpA: 12.9, Alpha: 0.00045, Beta: -0.0028}, 3)
	small := unlike(t, Datasheet{PowerW: 200, VocV: 24.2, IscA: 10.5, VmpV: 20.2, ImpA: 9.9, Alpha: 0.0005, Beta: -0.0029}, 2)
	c, err := Combine([][]Group{append(large, small...)})
	if err != nil {
		t.Fatal(err)
	}
	near.Within(t, "best", c.Best().P, 507, 507*1.08, "above the rule of thumb, by what the large module gains in voltage")
	near.Within(t, "best current", c.Best().I, 9.7, 10.5, "the small module rules, up to its short-circuit current")
	if len(c.Maxima()) != 2 {
		t.Errorf("maxima %v, wanted one for each module", c.Maxima())
	}
	near.Abs(t, "small one bypassed", c.Maxima()[0].P, 400-2*0.5*12.9, 1, "the large module alone, less two diodes")
	near.Abs(t, "tracker stuck there", c.Stuck(0), 1-c.Maxima()[0].P/c.Best().P, 1e-12, "by definition")
}

func TestCombined_window(t *testing.T) {
	cases, arrays := shadeCases(t)
	var shade Shade
	if err := shade.Set(arrays[17], cases[17].Light, cases[17].Cell); err != nil {
		t.Fatal(err)
	}
	var scan []Point
	for v := 0.0; v < shade.Voc(); v += 0.02 {
		scan = append(scan, shade.At(v))
	}
	tried := 0
	for low := 0.0; low < 50; low += 1.7 {
		for high := low + 0.1; high < 50; high += 2.3 {
			want := 0.0
			for _, p := range scan {
				if p.V >= low && p.V <= high {
					want = max(want, p.P)
				}
			}
			got := shade.Window(low, high)
			near.Within(t, fmt.Sprint("best from ", low, " to ", high), got.P, want-1e-9, want+0.8, "a scan in steps of 0.02 V, where the power falls by up to 40 W/V")
			if got.P > 0 {
				near.Within(t, "voltage", got.V, low, high, "inside the window")
			}
			tried++
		}
	}
	if tried < 200 {
		t.Fatalf("%d windows", tried)
	}
	if p := shade.Window(20, 10); p != (Point{}) {
		t.Errorf("window the wrong way round: %v, wanted nothing", p)
	}
	if p := shade.Window(shade.Voc()+1, 100); p != (Point{}) {
		t.Errorf("window above open circuit: %v, wanted nothing", p)
	}
	c := arrays[0].At(800, 45)
	top := c.MaxPower()
	near.Rel(t, "window with the top", c.Window(0, 100).P, top.P, 1e-12, "the top is inside")
	near.Rel(t, "window below the top", c.Window(0, 12).P, 12*c.Current(12), 1e-12, "its upper end")
	near.Rel(t, "window above the top", c.Window(19, 30).P, 19*c.Current(19), 1e-12, "its lower end")
	if p := c.Window(30, 40); p != (Point{}) {
		t.Errorf("window above open circuit: %v, wanted nothing", p)
	}
	if p := (Combined{}); p.Best() != (Point{}) || p.Stuck(0) != 1 || p.Current(10) != 0 || p.Window(0, 20) != (Point{}) {
		t.Error("the zero Combined is to give nothing")
	}
}

// The fast solution against its slow twin, which halves intervals, on random arrays.
func TestCombined_fastAgainstSlow(t *testing.T) {
	const seed = 4
	r := rand.New(rand.NewPCG(seed, 0))
	var modules []Module
	for _, m := range oracleModules(t) {
		modules = append(modules, m)
	}
	maxima := 0
	for n := range 120 {
		var strings [][]Group
		series, parallel := 1+r.IntN(4), 1+r.IntN(3)
		levels := [...]float64{0, 60, 300, 1000 * r.Float64(), 1000}
		for range parallel {
			var s []Group
			for range series {
				m := modules[r.IntN(len(modules))]
				for range 2 {
					c := m.At(levels[r.IntN(5)], -20+90*r.Float64()*float64(n%2)).Scale(0.5, 1)
					if r.IntN(2) == 0 && n%3 == 0 {
						c.Rsh *= 0.02 // leaky: the power may fall from a kink on
					}
					s = append(s, Group{Units: []Unit{{Curve: c, Count: 1}}, Bypass: n%4 > 0 || r.IntN(4) > 0, DropV: 0.5})
				}
			}
			strings = append(strings, s)
		}
		c, err := Combine(strings)
		if err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("seed %d, array %d", seed, n)
		slow := func(v float64) float64 {
			i := 0.0
			for k := range c.strands {
				i += c.strands[k].count * c.strands[k].search(v)
			}
			return i
		}
		if c.Isc() < 1e-6 {
			continue
		}
		var found []float64
		const steps = 600
		var scan [steps + 1]Point
		for k := range scan {
			v := c.Voc() * float64(k) / steps
			i := slow(v)
			scan[k] = Point{V: v, I: i, P: v * i}
			if k%20 == 0 {
				near.Abs(t, name+" current", c.Current(v), i, 1e-9*(1+c.Isc()), "two ways to the same root")
			}
			if k > 1 && scan[k-1].P > scan[k-2].P && scan[k-1].P >= scan[k].P && scan[k-1].P > 0 {
				found = append(found, scan[k-1].V)
			}
		}
		for _, v := range found {
			ok := false
			for _, m := range c.Maxima() {
				ok = ok || math.Abs(m.V-v) <= 1.01*c.Voc()/steps && m.P >= v*slow(v)*(1-1e-12)
			}
			if !ok {
				t.Errorf("%s: a maximum at %.3f V is not among %v", name, v, c.Maxima())
			}
		}
		if len(found) > len(c.Maxima()) || len(found) == 0 {
			t.Errorf("%s: a scan finds %d maxima, the solution %d", name, len(found), len(c.Maxima()))
		}
		for _, m := range c.Maxima() {
			const h = 1e-4
			if m.P < (m.V-h)*slow(m.V-h) || m.P < (m.V+h)*slow(m.V+h) {
				t.Errorf("%s: %v is not a maximum: %.3g below, %.3g above, of %v, kinks %v", name, m, m.P-(m.V-h)*slow(m.V-h), m.P-(m.V+h)*slow(m.V+h), c.Maxima(), c.kinks)
			}
			near.Abs(t, name+" maximum lies on the curve", m.I, slow(m.V), 1e-7*(1+c.Isc()), "on the curve")
			maxima++
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if maxima < 100 {
		t.Fatalf("%d maxima met, wanted more for a test", maxima)
	}
}

// Values out of range, and a dark part without a diode, which stops its string.
func TestCombine_limits(t *testing.T) {
	m := oracleModules(t)["GEN-100M36"]
	group := func(light float64, bypass bool) Group {
		return Group{Units: []Unit{{Curve: m.At(light, 45).Scale(0.5, 1), Count: 1}}, Bypass: bypass, DropV: 0.5}
	}
	c, err := Combine([][]Group{{group(1000, true), group(0, false)}})
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "a stopped string", c.Best().P, 0, 1e-7, "no way round a dark part without a diode")
	near.Abs(t, "its open-circuit voltage", c.Voc(), m.At(1000, 45).Voc()/2, 1e-6, "that of the lit part")
	near.Abs(t, "its short-circuit current", c.Isc(), 0, 1e-7, "as its power")
	dark, err := Combine([][]Group{{group(0, true), group(0, true)}, {group(0, true)}})
	if err != nil {
		t.Fatal(err)
	}
	if dark.Best() != (Point{}) || dark.Voc() != 0 || dark.Isc() != 0 {
		t.Errorf("dark: %v, %g V, %g A, wanted nothing", dark.Best(), dark.Voc(), dark.Isc())
	}
	bad := func(change func(*Group)) [][]Group {
		g := group(500, true)
		change(&g)
		return [][]Group{{group(500, true), g}}
	}
	for name, strings := range map[string][][]Group{
		"no strings":  nil,
		"no groups":   {{}},
		"no units":    bad(func(g *Group) { g.Units = nil }),
		"drop":        bad(func(g *Group) { g.DropV = -0.1 }),
		"drop no one": bad(func(g *Group) { g.DropV = math.NaN() }),
		"count":       bad(func(g *Group) { g.Units[0].Count = 0 }),
		"curve":       bad(func(g *Group) { g.Units[0].Curve.A = 0 }),
		"breakdown":   bad(func(g *Group) { g.Units[0].Reverse = Reverse{Share: 1, BreakdownV: 15, Exponent: 3} }),
	} {
		if c, err := Combine(strings); err == nil || c != nil {
			t.Errorf("%s: %v, wanted an error and nothing else", name, err)
		}
	}
	a, err := NewArray(ArrayParams{Module: m, InSeries: 2, Strings: 1, Substrings: 2, DropV: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	for name, k := range map[string]struct {
		light [][][]float64
		cell  float64
	}{
		"strings":    {nil, 25},
		"modules":    {[][][]float64{{{1, 1}}}, 25},
		"substrings": {[][][]float64{{{1, 1}, {1}}}, 25},
		"not number": {[][][]float64{{{1, 1}, {1, math.NaN()}}}, 25},
		"hot":        {[][][]float64{{{1, 1}, {1, 1}}}, math.Inf(1)},
	} {
		var s Shade
		if err := s.Set(a, k.light, k.cell); err == nil || s.Best() != (Point{}) {
			t.Errorf("%s: %v, wanted an error", name, err)
		}
	}
	for name, p := range map[string]ArrayParams{
		"no module": {InSeries: 1, Strings: 1},
		"series":    {Module: m, Strings: 1},
		"strings":   {Module: m, InSeries: 1, Strings: -1},
		"parts":     {Module: m, InSeries: 1, Strings: 1, Substrings: -1},
		"drop":      {Module: m, InSeries: 1, Strings: 1, DropV: math.Inf(1)},
	} {
		if a, err := NewArray(p); err == nil || a != (Array{}) {
			t.Errorf("%s: no error", name)
		}
	}
	if UsualSubstrings(36) != 2 || UsualSubstrings(60) != 3 || UsualSubstrings(72) != 3 || UsualSubstrings(18) != 1 || UsualSubstrings(54) != 3 {
		t.Error("handbook: a 36-cell module has 2 diodes, one of 60 or 72 cells 3")
	}
}

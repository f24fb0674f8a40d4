package circuit

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"campwright/conductor"
	"campwright/internal/near"
)

// This file holds the solver against cases that practitioners meet. M.. are from a list of common mistakes, their arithmetic recomputed by
// hand; W20 and W21 and the rows of dcdc_line_quadratic.csv are closed forms of the handbook.

const feet = 0.3048

func resistor(name, a, b string, ohms float64) Element {
	return Element{Name: name, Kind: Resistor, A: a, B: b, Ohms: ohms}
}

func emf(name, a, b string, volts float64) Element {
	return Element{Name: name, Kind: EMF, A: a, B: b, Volts: volts}
}

func load(name, a, b string, watts float64) Element {
	return Element{Name: name, Kind: PowerLoad, A: a, B: b, Watts: watts}
}

func drain(name, a, b string, amps float64) Element {
	return Element{Name: name, Kind: CurrentLoad, A: a, B: b, Amps: amps}
}

func solve(t testing.TB, elements ...Element) Solution {
	t.Helper()
	s, err := Solve(Network{"0", elements})
	if err != nil {
		t.Fatal(err)
	}
	if !(s.Proof.Imbalance <= 1e-9) || !(s.Proof.Stiffness > 0) {
		t.Errorf("proof %+v", s.Proof)
	}
	return s
}

func ampsOf(t testing.TB, s Solution, name string) float64 {
	t.Helper()
	r, ok := s.Element(name)
	if !ok {
		t.Fatalf("no element %s", name)
	}
	return r.Amps
}

func awg(t testing.TB, n int) conductor.Gauge {
	t.Helper()
	g, err := conductor.OfAWG(n)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestSharing_M27(t *testing.T) {
	s := solve(t,
		emf("a", "a1", "0", 13.3), resistor("ra", "a1", "a2", 0.003), resistor("la", "a2", "bus", 0.0004),
		emf("b", "b1", "0", 13.3), resistor("rb", "b1", "b2", 0.003), resistor("lb", "b2", "bus", 0.0024),
		drain("load", "bus", "0", 200))
	near.Abs(t, "short lead", ampsOf(t, s, "a"), 122.7, 0.05, "M27")
	near.Abs(t, "long lead", ampsOf(t, s, "b"), 77.3, 0.05, "M27")
}

// ladder is n blocks side by side on two rails of links.
func ladder(n int, block, link float64, takePlus, takeMinus int) []Element {
	var all []Element
	for i := range n {
		p, m, e := fmt.Sprintf("p%d", i), fmt.Sprintf("m%d", i), fmt.Sprintf("e%d", i)
		all = append(all, emf(fmt.Sprintf("block%d", i), e, m, 13.3), resistor(fmt.Sprintf("r%d", i), e, p, block))
		if i > 0 {
			all = append(all, resistor(fmt.Sprintf("lp%d", i), fmt.Sprintf("p%d", i-1), p, link), resistor(fmt.Sprintf("lm%d", i), fmt.Sprintf("m%d", i-1), m, link))
		}
	}
	return append(all, drain("load", fmt.Sprintf("p%d", takePlus), fmt.Sprintf("m%d", takeMinus), 200),
		Element{Name: "return", Kind: Short, A: fmt.Sprintf("m%d", takeMinus), B: "0"})
}

func TestTakeOff_M28(t *testing.T) {
	for _, c := range []struct {
		name        string
		plus, minus int
		link        float64
		want        []float64
	}{
		{"same end", 0, 0, 0.0003, []float64{86.6, 52.6, 34.4, 26.4}},
		{"diagonal", 0, 3, 0.0003, []float64{56.5, 43.5, 43.5, 56.5}},
		{"bus bars", 0, 3, 1e-9, []float64{50, 50, 50, 50}},
	} {
		s := solve(t, ladder(4, 0.002, c.link, c.plus, c.minus)...)
		for i, want := range c.want {
			near.Abs(t, c.name, ampsOf(t, s, fmt.Sprintf("block%d", i)), want, 0.05, "M28, which reproduces a table published in a forum")
		}
	}
}

func TestFault_M32_M33(t *testing.T) {
	var bank []Element
	for i := range 4 {
		e, p := fmt.Sprintf("e%d", i), fmt.Sprintf("p%d", i)
		bank = append(bank, emf(fmt.Sprintf("block%d", i), e, "0", 13.6), resistor(fmt.Sprintf("r%d", i), e, p, 0.003),
			resistor(fmt.Sprintf("lead%d", i), p, "bus", 1e-9))
	}
	s, err := New(Network{"0", append(bank[:9:9], resistor("path", "bus", "fuse", 0.0005))})
	if err != nil {
		t.Fatal(err)
	}
	study, err := s.Study()
	if err != nil {
		t.Fatal(err)
	}
	f, err := study.Between("fuse", "0")
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "three blocks at the fuse", f.Amps, 9067, 0.5, "M32")

	if s, err = New(Network{"0", bank}); err != nil {
		t.Fatal(err)
	}
	if study, err = s.Study(); err != nil {
		t.Fatal(err)
	}
	through, err := study.Through("p0", "0")
	if err != nil {
		t.Fatal(err)
	}
	into := 0.0
	for _, r := range through {
		if r.Name == "lead0" {
			into = -r.Amps // from the bus back into the faulted lead
		}
	}
	near.Abs(t, "fed by the other three", into, 3*4533, 2, "M33: 3 × 4,533 A")
}

func TestInverterRun_M41(t *testing.T) {
	amps := 3000 / 0.9 / 12.5
	for _, c := range []struct {
		gauge    int
		feet, at float64
	}{{-1, 8, 11.69}, {2, 12, 10.86}} {
		g := awg(t, c.gauge)
		s := solve(t, emf("bank", "e", "0", 12.9), resistor("joints and battery", "e", "p", 0.003),
			Cable("plus", "p", "i+", g, c.feet*feet, 75), Cable("minus", "i-", "0", g, c.feet*feet, 75), drain("inverter", "i+", "i-", amps))
		r, _ := s.Element("inverter")
		near.Abs(t, "at the inverter", r.Volts, c.at, 0.005, "M41")
	}
}

func TestOpenNeutral_M57(t *testing.T) {
	// Two legs of 120 V in series, as steady values; 1500 W and 300 W at 120 V; the neutral is a break.
	ohms := func(watts float64) float64 { return 120 * 120 / watts }
	s := solve(t, emf("leg 1", "l1", "0", 120), emf("leg 2", "0", "l2", 120),
		resistor("on leg 1", "l1", "n", ohms(1500)), resistor("on leg 2", "n", "l2", ohms(300)), resistor("break", "n", "0", 1e9))
	one, _ := s.Element("on leg 1")
	two, _ := s.Element("on leg 2")
	near.Abs(t, "leg 1", one.Volts, 40, 1e-5, "M57")
	near.Abs(t, "leg 2", two.Volts, 200, 1e-5, "M57")
}

func TestChargeLine_M63(t *testing.T) {
	line := func(gauge int, watts float64) (*Solver, Element) {
		e := load("unit", "u+", "u-", watts)
		s, err := New(Network{"0", []Element{emf("vehicle", "v", "0", 13.8),
			Cable("out", "v", "u+", awg(t, gauge), 45*feet, 75), Cable("back", "u-", "0", awg(t, gauge), 45*feet, 75), e}})
		if err != nil {
			t.Fatal(err)
		}
		return s, e
	}
	s, _ := line(10, 655)
	var none *InfeasibleError
	if err := s.Solve(); !errors.As(err, &none) {
		t.Fatalf("10 AWG, 655 W: %v", err)
	}
	near.Abs(t, "10 AWG gives at most", none.Limits[0].MaxWatts, 427, 0.5, "M63")
	near.Rel(t, "critical factor", none.Scale, none.Limits[0].MaxWatts/655, 1e-8, "one load")
	for _, c := range []struct {
		gauge              int
		watts, volts, amps float64
	}{{6, 655, 11.2, 58}, {4, 655, 12.3, 53}, {2, 655, 12.9, 51}, {10, 327, 10.2, 32}, {8, 327, 11.9, 27.6}} {
		s, _ := line(c.gauge, c.watts)
		if err := s.Solve(); err != nil {
			t.Fatal(err)
		}
		r := s.Result(3)
		near.Abs(t, "volts at the unit", r.Volts, c.volts, 0.051, "M63, one decimal")
		near.Abs(t, "amps", r.Amps, c.amps, 0.51, "M63, whole amperes")
	}
}

func TestLineQuadratic_Handbook(t *testing.T) {
	f, err := os.Open("../conductor/testdata/dcdc_line_quadratic.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	solved, none := 0, 0
	for _, r := range rows[1:] {
		num := func(i int) float64 {
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		ohms, source, watts := num(2), num(3), num(4)
		net := Network{"0", []Element{emf("vehicle", "v", "0", source), resistor("line", "v", "u", ohms), load("unit", "u", "0", watts)}}
		s, err := Solve(net)
		closed, ok := ConstantPowerVolts(source, ohms, watts)
		if r[5] == "" {
			var e *InfeasibleError
			if !errors.As(err, &e) || ok {
				t.Errorf("row %v: %v", r[:5], err)
				continue
			}
			near.Abs(t, "most power", e.Limits[0].MaxWatts, num(9), 0.0501, "one decimal of the row")
			none++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		u, _ := s.Element("unit")
		near.Abs(t, "volts", u.Volts, num(5), 5.1e-5, "four decimals of the row")
		near.Abs(t, "amps", u.Amps, num(6), 5.1e-4, "three or four decimals of the row")
		near.Rel(t, "closed form", closed, u.Volts, 1e-12, "the same quadratic")
		l, _ := s.Element("line")
		near.Abs(t, "loss", l.Watts, num(8), 5.1e-4, "three decimals of the row")
		solved++
	}
	if solved != 50 || none != 4 {
		t.Errorf("%d rows solved, %d without solution", solved, none)
	}
}

func TestLine_W20_W21(t *testing.T) {
	for _, c := range []struct{ ohms, volts, amps, most float64 }{{0.0389, 12.8298, 24.942, 1223.9}, {0.1188, 9.9974, 32.0083, 400.8}} {
		s, err := New(Network{"0", []Element{emf("vehicle", "v", "0", 13.8), resistor("line", "v", "u", c.ohms), load("unit", "u", "0", 320)}})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Solve(); err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "volts", s.Result(2).Volts, c.volts, 1e-3, "W20, W21")
		near.Abs(t, "amps", s.Result(2).Amps, c.amps, 1e-3, "W20, W21")
		l, err := s.LoadLimit(2)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "most power", l.MaxWatts, c.most, 0.06, "W20, W21: one decimal")
	}
}

func TestFaults_ReferenceByStudy(t *testing.T) {
	// The four faults of the reference, each solved there as a network of its own, from one study of the network without fault.
	count := 0
	for name, v := range references(t) {
		if name[:9] != "10_faults" {
			continue
		}
		net := v.network(t)
		var sound []Element
		var fault Element
		for _, e := range net.Elements {
			if e.Kind == Short {
				fault = e
			} else {
				sound = append(sound, e)
			}
		}
		s, err := New(Network{net.Reference, sound})
		if err != nil {
			t.Fatal(err)
		}
		study, err := s.Study()
		if err != nil {
			t.Fatal(err)
		}
		f, err := study.Between(fault.A, fault.B)
		if err != nil {
			t.Fatal(err)
		}
		near.Rel(t, name, f.Amps, v.Results[fault.Name].Amps, 1e-9, "11 digits printed")
		through, err := study.Through(fault.A, fault.B)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range through {
			near.Abs(t, name+" "+r.Name, r.Amps, v.Results[r.Name].Amps, math.Max(1e-3, 1e-9*math.Abs(v.Results[r.Name].Amps)), "suggested tolerance of the reference")
			count++
		}
		for _, all := range study.ToReference() {
			if all.Node == fault.A {
				near.Rel(t, name+" among all", all.Amps, f.Amps, 1e-12, "the same fault")
			}
		}
	}
	if count != 4*8 {
		t.Errorf("compared %d currents", count)
	}
}

func TestHarness(t *testing.T) {
	// 20 A through 8 AWG over 25 ft there and back, 0.0389 Ω, loses 0.778 V.
	l, err := Readings{SourceVolts: 13.60, LoadVolts: 12.822, Amps: 20, VoltsOff: 0.01, AmpsOff: 0.4}.Line()
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "loop", l.Ohms, 0.0389, 1e-12, "Ohm's law")
	near.Abs(t, "low", l.Low, 0.758/20.4, 1e-12, "worst doubts together")
	near.Abs(t, "high", l.High, 0.798/19.6, 1e-12, "worst doubts together")
	for _, r := range []Readings{{12, 13, 5, 0.01, 0}, {13, 12, 0, 0, 0}, {13, 12, 5, 0, 5}, {math.NaN(), 12, 5, 0, 0}, {13, 12, 5, -1, 0}} {
		if l, err := r.Line(); err == nil || l != (Line{}) {
			t.Errorf("%+v gives %+v", r, l)
		}
	}
}

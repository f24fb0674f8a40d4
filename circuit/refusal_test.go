package circuit

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestRefused_Loops(t *testing.T) {
	bank := []Element{emf("bank", "p", "0", 13), resistor("heater", "p", "0", 1)}
	for name, c := range map[string]struct {
		add   []Element
		loop  []string
		volts float64
	}{
		"shorted source":          {[]Element{{Name: "tool", Kind: Short, A: "p", B: "0"}}, []string{"bank", "tool"}, 13},
		"two that disagree":       {[]Element{emf("second", "p", "0", 12.8)}, []string{"bank", "second"}, 0.2},
		"two that agree":          {[]Element{emf("second", "p", "0", 13)}, []string{"bank", "second"}, 0},
		"reversed":                {[]Element{emf("second", "0", "p", 13)}, []string{"bank", "second"}, 26},
		"two shorts side by side": {[]Element{{Name: "s1", Kind: Short, A: "p", B: "q"}, {Name: "s2", Kind: Short, A: "q", B: "p"}}, []string{"s1", "s2"}, 0},
		"round three":             {[]Element{emf("low", "m", "0", 6.5), emf("high", "p", "m", 6.4)}, []string{"bank", "high", "low"}, 0.1},
		"thirds that agree":       {[]Element{emf("low", "m", "0", 13.0/3), emf("mid", "n", "m", 13.0/3), emf("high", "p", "n", 13.0/3)}, []string{"bank", "high", "low", "mid"}, 0},
	} {
		_, err := New(Network{"0", append(bank[:2:2], c.add...)})
		var e *LoopError
		if !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !slices.Equal(e.Elements, c.loop) || math.Abs(e.Volts-c.volts) > 1e-12 {
			t.Errorf("%s: loop %v, %g V", name, e.Elements, e.Volts)
		}
	}
}

func TestRefused_Floating(t *testing.T) {
	for name, c := range map[string]struct {
		net  []Element
		lost []string
	}{
		"island":        {[]Element{emf("bank", "p", "0", 13), resistor("r", "p", "0", 1), emf("other", "x", "y", 13), resistor("s", "x", "y", 1)}, []string{"x", "y"}},
		"no reference":  {[]Element{emf("bank", "p", "n", 13), resistor("r", "p", "n", 1)}, []string{"n", "p"}},
		"load alone":    {[]Element{emf("bank", "p", "0", 13), load("far", "p", "q", 10)}, []string{"q"}},
		"through drain": {[]Element{emf("bank", "p", "0", 13), drain("far", "p", "q", 10)}, []string{"q"}},
	} {
		_, err := New(Network{"0", c.net})
		var e *FloatingError
		if !errors.As(err, &e) || !slices.Equal(e.Nodes, c.lost) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestRefused_Polarity(t *testing.T) {
	for name, net := range map[string][]Element{
		"reversed load":   {emf("bank", "p", "0", 13), resistor("r", "p", "q", 0.1), load("unit", "0", "q", 10), resistor("s", "q", "0", 10)},
		"reversed source": {emf("bank", "p", "0", 13), resistor("r", "p", "q", 0.1), {Name: "unit", Kind: PowerSource, A: "0", B: "q", Watts: 10}},
		"unfed load":      {emf("bank", "p", "0", 13), resistor("r", "p", "0", 1), resistor("s", "q", "0", 1), load("unit", "q", "0", 10)},
		"limited, unfed":  {resistor("s", "q", "0", 1), {Name: "unit", Kind: PowerLoad, A: "q", B: "0", Watts: 10, Intake: Intake{LimitAmps: 1}}},
	} {
		_, err := Solve(Network{"0", net})
		var e *PolarityError
		if !errors.As(err, &e) || e.Element != "unit" {
			t.Errorf("%s: %v", name, err)
		}
		var none *InfeasibleError
		if load := !strings.Contains(name, "source"); errors.As(err, &none) != load || load && (none.Scale != 0 || len(none.Volts) == 0) {
			t.Errorf("%s: a load without voltage can have nothing of what it asks; a source is another matter: %+v", name, none)
		}
	}
}

func TestRefused_Values(t *testing.T) {
	bank := []Element{emf("bank", "p", "0", 13), resistor("r", "p", "0", 1)}
	unit := Element{Name: "x", Kind: Converter, A: "p", B: "0", OutA: "q", OutB: "0", Efficiency: 0.9, Outlet: Outlet{SetVolts: 5, SetOhms: 0.1}}
	change := func(f func(*Element)) Element {
		e := unit
		f(&e)
		return e
	}
	for name, e := range map[string]Element{
		"NaN ohms":          resistor("x", "p", "q", math.NaN()),
		"no ohms":           resistor("x", "p", "q", 0),
		"tiny ohms":         resistor("x", "p", "q", 9e-10),
		"negative ohms":     resistor("x", "p", "q", -1),
		"infinite volts":    emf("x", "q", "0", math.Inf(1)),
		"negative watts":    load("x", "p", "0", -1),
		"NaN amps":          drain("x", "p", "0", math.NaN()),
		"no name":           resistor("", "p", "q", 1),
		"name twice":        resistor("r", "p", "q", 1),
		"same node":         resistor("x", "p", "p", 1),
		"no node":           resistor("x", "p", "", 1),
		"no kind":           {Name: "x", A: "p", B: "q"},
		"kind 99":           {Name: "x", A: "p", B: "q", Kind: 99},
		"watts of resistor": {Name: "x", Kind: Resistor, A: "p", B: "q", Ohms: 1, Watts: 5},
		"output of load":    {Name: "x", Kind: PowerLoad, A: "p", B: "0", OutA: "q"},
		"hold without band": {Name: "x", Kind: PowerLoad, A: "p", B: "0", Watts: 5, Intake: Intake{HoldVolts: 12}},
		"band above hold":   {Name: "x", Kind: PowerLoad, A: "p", B: "0", Watts: 5, Intake: Intake{HoldVolts: 12, HoldBand: 13}},
		"set without ohms":  {Name: "x", Kind: PowerSource, A: "p", B: "0", Watts: 5, Outlet: Outlet{SetVolts: 12}},
		"no saturation":     {Name: "x", Kind: Photovoltaic, A: "p", B: "0", Diode: Diode{LightAmps: 5, IdealityVolts: 1, ShuntOhms: 100}},
		"no efficiency":     change(func(e *Element) { e.Efficiency = 0 }),
		"efficiency 2":      change(func(e *Element) { e.Efficiency = 2 }),
		"no output limit":   change(func(e *Element) { e.Outlet = Outlet{} }),
		"no output node":    change(func(e *Element) { e.OutB = "" }),
		"output joined":     change(func(e *Element) { e.OutB = e.OutA }),
	} {
		if s, err := New(Network{"0", append(bank[:2:2], e)}); err == nil || s != nil {
			t.Errorf("%s: taken", name)
		}
	}
	if _, err := New(Network{"0", append(bank[:2:2], unit)}); err != nil {
		t.Errorf("the unit itself: %v", err)
	}
	if _, err := New(Network{"", bank}); err == nil {
		t.Error("no reference: taken")
	}
	s, err := New(Network{"0", nil})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Solve(); err != nil {
		t.Errorf("empty network: %v", err)
	}
}

func TestKindNames(t *testing.T) {
	for k := Resistor; k <= Converter; k++ {
		if back, ok := KindNamed(k.String()); !ok || back != k {
			t.Errorf("%d: %s means %d", k, k, back)
		}
	}
	for _, n := range []string{"", "no kind", "capacitor"} {
		if _, ok := KindNamed(n); ok {
			t.Errorf("%q is a kind", n)
		}
	}
}

func TestUnsettled(t *testing.T) {
	// A source of 40 A cannot feed a fixed 60 A.
	_, err := Solve(Network{"0", []Element{
		{Name: "sun", Kind: PowerSource, A: "b", B: "0", Outlet: Outlet{SetVolts: 14, SetOhms: 0.01, LimitAmps: 40}}, drain("house", "b", "0", 60)}})
	if !errors.Is(err, ErrUnsettled) {
		t.Errorf("more drawn than any source gives: %v", err)
	}
}

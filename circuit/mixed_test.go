package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// randomRig makes a network as rigs have it, of all kinds of element: a bank on a bus, branches, loads with and without limits, controllers, modules,
// a vehicle with a charging unit, a house converter.
func randomRig(r *rand.Rand) Network {
	net := Network{"0", []Element{emf("bank", "e", "0", 12.5+1.5*r.Float64()), resistor("ri", "e", "n0", 0.001+0.02*r.Float64())}}
	add := func(e Element) {
		e.Name = fmt.Sprintf("%s%d", e.Kind, len(net.Elements))
		net.Elements = append(net.Elements, e)
	}
	n := 1
	branch := func() string {
		from, to := fmt.Sprintf("n%d", r.IntN(n)), fmt.Sprintf("n%d", n)
		n++
		add(resistor("", from, to, math.Pow(10, -4+3.2*r.Float64())))
		return to
	}
	for range 3 + r.IntN(12) {
		at := branch()
		switch r.IntN(8) {
		case 0:
			add(drain("", at, "0", 20*r.Float64()))
		case 1:
			add(resistor("", at, "0", 0.3+10*r.Float64()))
		case 2:
			add(load("", at, "0", 300*r.Float64()))
		case 3:
			e := load("", at, "0", 600*r.Float64())
			e.Intake = Intake{LimitAmps: 5 + 40*r.Float64(), HoldVolts: 10 + 2*r.Float64(), HoldBand: 0.05 + 0.5*r.Float64()}
			add(e)
		case 4:
			add(Element{Kind: PowerSource, A: at, B: "0", Watts: 600 * r.Float64(), Outlet: Outlet{LimitAmps: 30 * r.Float64(), SetVolts: 13.5 + r.Float64(), SetOhms: 0.001 + 0.01*r.Float64()}})
		case 5:
			d := module
			d.LightAmps *= r.Float64()
			add(Element{Kind: Photovoltaic, A: at, B: "0", Diode: d})
		case 6:
			v := fmt.Sprintf("v%d", n)
			add(emf("", v, "0", 13+1.5*r.Float64()))
			add(resistor("", v, v+"u", 0.005+0.1*r.Float64()))
			add(Element{Kind: Converter, A: v + "u", B: "0", OutA: at, OutB: "0", Efficiency: 0.8 + 0.18*r.Float64(),
				Intake: Intake{LimitAmps: 10 + 50*r.Float64()}, Outlet: Outlet{LimitAmps: 5 + 40*r.Float64(), SetVolts: 14.4, SetOhms: 0.002}})
		default:
			h := fmt.Sprintf("h%d", n)
			add(Element{Kind: Converter, A: at, B: "0", OutA: h, OutB: "0", Efficiency: 0.8 + 0.18*r.Float64(), Watts: 200 * r.Float64(),
				Outlet: Outlet{SetVolts: 5 + 15*r.Float64(), SetOhms: 0.01}})
			add(resistor("", h, "0", 1+5*r.Float64()))
		}
	}
	return net
}

func TestRandom_RigsOfAllKinds(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 21))
	var solved, none, unfed int
	for k := range 1500 {
		net := randomRig(r)
		s, err := New(net)
		if err != nil {
			t.Fatalf("seed %d, network %d: %v", *seed, k, err)
		}
		err = s.Solve()
		var infeasible *InfeasibleError
		var polarity *PolarityError
		switch {
		case errors.As(err, &infeasible):
			none++
			walk(t, *seed, k, s, infeasible.Scale)
			continue
		case errors.As(err, &polarity):
			unfed++
			continue
		case err != nil:
			t.Errorf("seed %d, network %d: %v", *seed, k, err)
			continue
		}
		solved++
		sol := s.Solution()
		where := fmt.Sprintf("seed %d, network %d", *seed, k)
		if !(sol.Proof.Imbalance <= 1e-9) || !(sol.Proof.Stiffness > 0) {
			t.Errorf("%s: proof %+v", where, sol.Proof)
		}
		if d := math.Abs(sol.SourceWatts - sol.AbsorbedWatts); !(d <= 1e-8*(1+math.Abs(sol.SourceWatts))) {
			t.Errorf("%s: %g W left over of %g", where, d, sol.SourceWatts)
		}
		for i, e := range net.Elements {
			checkDevice(t, where, e, sol.Elements[i])
		}
	}
	if solved < 800 || none < 10 {
		t.Errorf("seed %d: %d solved, %d without operating point, %d unfed", *seed, solved, none, unfed)
	}
	t.Logf("%d solved, %d without operating point, %d unfed", solved, none, unfed)
}

// walk raises the loads in two hundred steps to just below the critical factor: there must be an operating point all the way.
func walk(t *testing.T, seed uint64, network int, s *Solver, critical float64) {
	t.Helper()
	if err := s.atRest(); err != nil {
		t.Fatal(err)
	}
	copy(s.v, s.rest)
	for i := 1; i <= 200; i++ {
		if r := s.newton(critical * (1 - 1e-5) * float64(i) / 200); r != found {
			t.Errorf("seed %d, network %d: lost at step %d of the way to the critical factor %g", seed, network, i, critical)
			return
		}
		s.fold()
	}
}

// checkDevice holds the state of a device against its own definition.
func checkDevice(t *testing.T, where string, e Element, r Result) {
	t.Helper()
	const part = 1e-8
	bad := func(text string) { t.Errorf("%s: %s: %+v of %+v", where, text, r, e) }
	in := e.Intake
	switch e.Kind {
	case PowerLoad, Converter:
		if in.LimitAmps > 0 && r.Amps > in.LimitAmps*(1+part) {
			bad("above its intake limit")
		}
		if e.Kind == PowerLoad && r.Watts > e.Watts*(1+part) {
			bad("takes more than it asks")
		}
		free := (in.LimitAmps == 0 || r.Amps < in.LimitAmps*(1-part)) && (in.HoldVolts == 0 || r.Volts > in.HoldVolts)
		if e.Kind == PowerLoad && free && math.Abs(r.Watts-e.Watts) > part*e.Watts {
			bad("free, yet not at its power")
		}
	case PowerSource:
		if r.Watts > e.Watts*(1+part)+part || r.Amps > e.Outlet.LimitAmps*(1+part) || r.Volts > e.Outlet.SetVolts+part && r.Amps > part {
			bad("beyond a limit")
		}
		free := r.Amps < e.Outlet.LimitAmps*(1-part) && r.Amps < (e.Outlet.SetVolts-r.Volts)/e.Outlet.SetOhms*(1-1e-6)-1e-6
		if free && math.Abs(r.Watts-e.Watts) > part*e.Watts {
			bad("free, yet not at its power")
		}
	case Photovoltaic:
		if want := moduleAmps(e.Diode, r.Volts); math.Abs(r.Amps-want) > 1e-8 {
			bad(fmt.Sprintf("off its curve, %g A", want))
		}
	case CurrentLoad:
		if r.Amps != e.Amps {
			bad("not at its current")
		}
	}
	if e.Kind == Converter {
		if math.Abs(r.OutWatts-e.Efficiency*r.Watts) > part*(1+r.Watts) {
			bad("efficiency")
		}
		if e.Watts > 0 && r.OutWatts > e.Watts*(1+part) || e.Outlet.LimitAmps > 0 && r.OutAmps > e.Outlet.LimitAmps*(1+part) {
			bad("beyond an output limit")
		}
	}
}

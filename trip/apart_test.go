package trip

import (
	"fmt"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
	"campwright/system"
)

// camp is a rig with an array on its roof and one set out beside it, tilted to the south.
func camp(t *testing.T, stop, own string) (*system.System, rig.Rig, Plan) {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader(fmt.Sprintf(`campwright: 1
name: camp
kind: van
modules: {field: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}
controllers: {c: {survives: 100 V, output: 30 A}, d: {survives: 100 V, output: 30 A}}
arrays: [{name: roof, module: field, controller: c}, {name: beside, module: field, controller: d, mounting: portable, tilt: 40 deg, faces: 180 deg%s}]
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
trip: [{place: 45.0 N 73.0 W, elevation: 100 m, from: 2027-07-10, nights: 3, site: %s, horizon: "N 5, E 20, S 10, W 30 deg"}]
`, own, stop)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	plan, err := NewPlan(full, Locate)
	if err != nil {
		t.Fatal(err)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 30)
	if err != nil {
		t.Fatal(err)
	}
	return sys, full, plan
}

// given returns what both arrays offer in a given weather, in every step.
func given(t *testing.T, stop, own string) []offer {
	t.Helper()
	sys, _, plan := camp(t, stop, own)
	c, err := newCourse(plan.First, plan.Sites, 30)
	if err != nil {
		t.Fatal(err)
	}
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	for i := range w.GHI {
		up := max(0, c.Spans[0].Sun.Up[i+c.Spans[0].Lead])
		w.AirC[i], w.WindMS[i] = 20, 1.5
		if up > 0 {
			w.DNI[i], w.DHI[i] = 700, 90
			w.GHI[i] = 700*up + 90
		}
	}
	if err := veil(c, w); err != nil {
		t.Fatal(err)
	}
	lies, err := newPlanes(sys, c)
	if err != nil {
		t.Fatal(err)
	}
	r := newRunner(sys, c, true)
	lightOn(sys, c, w, lies, skiesOf(c), r.offers)
	return r.offers
}

// inMember returns what both arrays offer in one member's weather and draws.
func inMember(t *testing.T, stop, own string, level map[string][]float64) []offer {
	t.Helper()
	sys, _, plan := camp(t, stop, own)
	f, err := NewForecast(plan, Options{Members: 3, StepMin: 30})
	if err != nil {
		t.Fatal(err)
	}
	lies, err := newPlanes(sys, f.course)
	if err != nil {
		t.Fatal(err)
	}
	f.kept.planes = lies
	w := &worker{f: f}
	w.grow(sys)
	if err := w.weather(0, 1, level); err != nil {
		t.Fatal(err)
	}
	w.offersAt(sys, 0, 1, level)
	return w.offers
}

// An array set out apart gives what it would at a camp of its own sky, hills and all, and the one on the roof what the rig's sky lets it: in a given weather
// and in a drawn one, out of the shade and into it.
func TestApart_OwnSky(t *testing.T) {
	level := map[string][]float64{sitePath(0): {0.5, 0.9, 0.5}, arrayPath("beside"): {0.5, 0.2, 0.5}}
	elsewhere := map[string][]float64{sitePath(0): {0.5, 0.2, 0.5}}
	for name, offers := range map[string]func(stop, own string) []offer{
		"given": func(stop, own string) []offer { return given(t, stop, own) },
		"drawn": func(stop, own string) []offer {
			if own == "" && stop != "deep shade" {
				return inMember(t, stop, own, elsewhere)
			}
			return inMember(t, stop, own, level)
		},
	} {
		for _, sky := range []string{"open", "light trees", "roofed"} {
			apart, there, here := offers("deep shade", ", site: "+sky), offers(sky, ""), offers("deep shade", "")
			sum := [3]float64{}
			worst := near.Worst{What: name + ", " + sky}
			for i := range apart[1].powerW {
				worst.See(apart[1].powerW[i], there[1].powerW[i], fmt.Sprint(i))
				sum[0], sum[1], sum[2] = sum[0]+apart[1].powerW[i], sum[1]+here[1].powerW[i], sum[2]+apart[0].powerW[i]-here[0].powerW[i]
			}
			near.Abs(t, worst.What+", power at step "+worst.Place, worst.Off, 0, 1e-6, "the same light, scaled")
			near.Abs(t, name+", "+sky+": the roof's array", sum[2], 0, 1e-9, "it stays where it was")
			if sky == "roofed" && sum[0] != 0 || sky != "roofed" && sum[0] < 1.5*sum[1] {
				t.Errorf("%s: apart under %s it gives %.0f, in the rig's deep shade %.0f", name, sky, sum[0], sum[1])
			}
		}
	}
	if out := given(t, "roofed", ", site: open"); sumOf(out[1].powerW) <= 0 || sumOf(out[0].powerW) != 0 {
		t.Error("a rig under a roof has its array in the sun beside it")
	}
	_, doc, plan := camp(t, "open", ", site: half shade")
	named := ""
	for _, g := range guessesOf(&doc, plan.Sites) {
		if g.At.Path == "arrays/beside/site" {
			named = nameOf(g.At.Path)
		}
	}
	if named != "shade on beside" {
		t.Errorf("the shade on the array is guessed as %q", named)
	}
}

func sumOf(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum
}

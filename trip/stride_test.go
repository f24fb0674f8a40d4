package trip

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"testing"

	"campwright/examples"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/system"
)

// TestStrides holds a run that strides against the same run that walks every step, member by member: the full rig in a desert winter, with a
// generous roof, with a poor one and with one that leaves its bank empty, and the demo rigs, which drive, idle, run a generator and take
// hookups too weak for them.
func TestStrides(t *testing.T) {
	for _, roof := range []float64{1, 0.5, 0.25} {
		plan, doc := stayCase(t)
		for i := range doc.Modules {
			m := &doc.Modules[i]
			m.Power.Quantity.Base *= roof
			m.Imp.Quantity.Base *= roof
			m.Isc.Quantity.Base *= roof
		}
		plan.Rig = doc
		strides(t, fmt.Sprintf("full rig, %.0f %% of its roof", 100*roof), plan)
	}
	for name, text := range map[string][]byte{"desert": examples.Demo, "coastal": examples.CoastalCamper, "fifth wheel": examples.FifthWheel, "van": examples.NorthernVan} {
		doc, faults := rig.Decode(bytes.NewReader(text))
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
		strides(t, name, plan)
	}
}

// strides holds the two against each other for a plan.
func strides(t *testing.T, name string, plan Plan) {
	t.Helper()
	f, systems := membersOf(t, plan, 20)
	worst, lean, n, far, late, dark := near.Worst{What: "daily low"}, 0.0, 0, 0, 0.0, 0
	for m, sys := range systems {
		play := func(byStep bool) outcome {
			out := outcome{lows: make([]float32, len(f.course.Days)), gas: make([]float32, len(f.course.Days))}
			s := newSwift(sys, f.course, newSchedule(sys, f.course), true)
			s.byStep = byStep
			s.run(f.kept.of[m].potW, f.kept.of[m].alsoW, f.kept.of[m].airC, &out)
			return out
		}
		fast, slow := play(false), play(true)
		for d := range slow.lows {
			worst.See(float64(fast.lows[d]), float64(slow.lows[d]), f.course.Days[d].Evening.Format("2 Jan"))
			off := float64(fast.lows[d] - slow.lows[d])
			lean += off
			n++
			if math.Abs(off) > 0.002 {
				far++
			}
		}
		if (fast.below < 0) != (slow.below < 0) || (fast.gasOut < 0) != (slow.gasOut < 0) {
			t.Errorf("%s, member %d: floor and propane end at steps %d, %d striding and %d, %d walking", name, m, fast.below, fast.gasOut, slow.below, slow.gasOut)
		}
		late = math.Max(late, math.Max(math.Abs(float64(fast.below-slow.below)), math.Abs(float64(fast.gasOut-slow.gasOut))))
		dark += max(fast.dcDark-slow.dcDark, slow.dcDark-fast.dcDark) + max(fast.acDark-slow.acDark, slow.acDark-fast.acDark)
		near.Abs(t, "hours without AC", fast.offGridH, slow.offGridH, 1e-6, "strides and steps fill the same stay")
		near.Rel(t, "asked in all", fast.loadWh, slow.loadWh, 1e-3, "means of the air over a stride")
		near.Rel(t, "propane left", fast.gasLeft+1, slow.gasLeft+1, 2e-3, "means of the air over a stride")
		near.Rel(t, "left off for want of AC", fast.shedWh+1000, slow.shedWh+1000, 0.01, "means of the air over a stride")
	}
	t.Logf("%s: worst daily low off by %.5f, %d days by more than 0.002, mean %.6f; ends moved by %g steps at most, %d dark days of %d in all", name, worst.Off, far, lean/float64(n), late, dark, n)
	near.Abs(t, name+": worst daily low, "+worst.Place, worst.Off, 0, 0.03, "a cut-off that falls a step earlier keeps loads off for long")
	near.Abs(t, name+": share of days off by more than 0.002", float64(far)/float64(n), 0, 0.04, "what a mean over a quarter of an hour hides")
	near.Abs(t, name+": mean daily low", lean/float64(n), 0, 0.0005, "the strides must not lean to one side")
	near.Abs(t, name+": end of a store", late, 0, 2, "no event moves by more than two steps")
	near.Abs(t, name+": dark days", float64(dark), 0, 3, "those that hung on a step")
}

// TestStridesAreTaken counts the steps of the bank: a run that no longer strides would pass every other test, slowly.
func TestStridesAreTaken(t *testing.T) {
	plan, doc := stayCase(t)
	plan.Rig = doc
	f, systems := membersOf(t, plan, 1)
	s := newSwift(systems[0], f.course, newSchedule(systems[0], f.course), true)
	taken := 0
	for i := range s.comes.strides {
		if s.comes.strides[i] {
			taken += s.comes.stride
		}
	}
	near.Abs(t, "steps inside strides, of those of the stay", float64(taken)/float64(f.course.N), 1, 0.01, "nothing but the sun comes in")
	calm := 0
	for _, c := range s.longer.calm[0] {
		if c {
			calm++
		}
	}
	if calm < len(s.longer.calm[0])*9/10 {
		t.Errorf("%d of %d half-hours are calm", calm, len(s.longer.calm[0]))
	}
}

// membersOf answers a plan with so many members and returns the forecast, which keeps their light, with the system of each.
func membersOf(t *testing.T, plan Plan, members int) (*Forecast, []*system.System) {
	t.Helper()
	doc := plan.Rig
	f, err := NewForecast(plan, Options{Members: members})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Answer(context.Background(), &doc, nil); err != nil {
		t.Fatal(err)
	}
	kit, err := system.NewKit(&doc)
	if err != nil {
		t.Fatal(err)
	}
	guesses := guessesOf(&doc, f.plan.Sites)
	paths := make([]string, len(guesses))
	for i, g := range guesses {
		paths[i] = g.At.Path
	}
	draws := shares(paths, f.members, f.seed)
	systems := make([]*system.System, members)
	for m := range systems {
		if systems[m], err = kit.Assemble(memberDraw(draws, m), 5); err != nil {
			t.Fatal(err)
		}
	}
	return f, systems
}

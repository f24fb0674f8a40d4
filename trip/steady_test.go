package trip

import (
	"context"
	"os"
	"slices"
	"testing"

	"campwright/rig"
	"campwright/system"
)

// TestTypicalIsSteady: a small change of a rig shows its typical run in the same weather more often than the weather that is closest to the middle
// would, and not much further from the middle. (A property of ours; no source.)
func TestTypicalIsSteady(t *testing.T) {
	more := func(v *rig.Value, by float64) { v.Quantity.Base *= by }
	edits := []func(*rig.Rig){
		func(r *rig.Rig) { more(&r.Bank.Block.Capacity, 1.1) },
		func(r *rig.Rig) { more(&r.Bank.Block.Capacity, 0.95) },
		func(r *rig.Rig) { more(&r.Appliances[0].Power.Rate, 1.1) },
		func(r *rig.Rig) { more(&r.Appliances[1].Power.Rate, 0.9) },
		func(r *rig.Rig) { more(&r.Appliances[2].PerDay, 1.2) },
		func(r *rig.Rig) { r.Appliances[len(r.Appliances)-1].Runs = "off" },
		func(r *rig.Rig) { more(&r.Inverters[0].Idle, 1.2) },
		func(r *rig.Rig) {
			r.Vehicle.Alternators = append(r.Vehicle.Alternators[:1:1], r.Vehicle.Alternators[0])
		},
	}
	for k := range 6 {
		edits = append(edits, func(r *rig.Rig) { r.Appliances[min(k, len(r.Appliances)-1)].Runs = "off" })
	}
	changed, closest, of, further := 0, 0, 0, 0.0
	for _, demo := range []string{"northern-van.yaml", "desert-trailer.yaml", "fifth-wheel.yaml", "coastal-camper.yaml"} {
		middle := func(edit func(*rig.Rig)) (steady, nearest int) {
			text, err := os.Open("../examples/" + demo)
			if err != nil {
				t.Fatal(err)
			}
			defer text.Close()
			said, faults := rig.Decode(text)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			doc, gaps := system.Complete(AsOf(said))
			if len(gaps) > 0 {
				t.Fatal(gaps)
			}
			edit(&doc)
			plan, err := NewPlan(doc, Locate)
			if err != nil {
				t.Fatal(err)
			}
			f, err := NewForecast(plan, Options{Members: 100, StepMin: 30})
			if err != nil {
				t.Fatal(err)
			}
			kit, err := system.NewKit(&doc)
			if err != nil {
				t.Fatal(err)
			}
			runs, _, _, err := f.play(context.Background(), &doc, kit, nil)
			if err != nil {
				t.Fatal(err)
			}
			sys, err := kit.Assemble(system.Draw{}, f.course.StepMin)
			if err != nil {
				t.Fatal(err)
			}
			tried, far, err := f.distances(sys, runs, true)
			if err != nil {
				t.Fatal(err)
			}
			if m, err := f.middle(sys, runs); err != nil || m != tried[steadiest(far)] {
				t.Errorf("%s: trying no more than needed takes weather %d, trying all %d: %v", demo, m, tried[steadiest(far)], err)
			}
			k, least := steadiest(far), slices.Index(far, slices.Min(far))
			further += far[k] - far[least]
			of++
			return tried[k], tried[least]
		}
		was, wasNearest := middle(func(*rig.Rig) {})
		for _, edit := range edits {
			now, nearest := middle(edit)
			if now != was {
				changed++
			}
			if nearest != wasNearest {
				closest++
			}
		}
	}
	t.Logf("%d edits change the weather, %d change the closest; %.3f further from the middle", changed, closest, further/float64(of))
	if of != 4*15 || changed >= closest || changed == 0 || further/float64(of) > 0.03 {
		t.Errorf("of %d answers %d change the weather of the typical run, %d the closest; it is %.3f further from the middle", of, changed, closest, further/float64(of))
	}
}

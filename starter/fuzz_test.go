package starter_test

import (
	"errors"
	"testing"

	"campwright/starter"
)

// Whatever people type, the answer is a file that reads or faults of theirs, never a fault of ours.
func FuzzBuild(f *testing.F) {
	f.Add("van", "Moab, UT", "May", "electric", "diesel", "2 laptops", 1, 5)
	f.Add("5th wheel", "33.5 N 114.2 W", "2027-01-05", "household", "none", "a/c: \"big\" # one", 20, 365)
	f.Add("", "", "", "", "", "", 0, 0)
	f.Add("trailer", "Sain'-t \\ x", "dec 2026", "no", "prop", "12 volt tv", 3, 2)
	f.Add("fifth", "unknown", "unknown", "none", "electric", "{[*&!|>'\"%@`", -1, -1)
	day := today(f)
	f.Fuzz(func(t *testing.T, kind, place, when, refrigerator, heat, wish string, people, nights int) {
		s, err := starter.Build(starter.Answers{Name: wish, Kind: kind, Place: place, When: when, Refrigerator: refrigerator, Heat: heat,
			Wishes: []string{wish}, People: people, Nights: nights, Today: day})
		var faults starter.Faults
		switch {
		case err == nil && len(s.Text) == 0:
			t.Fatal("neither file nor error")
		case err != nil && (!errors.As(err, &faults) || len(faults) == 0 || len(s.Text) > 0):
			t.Fatalf("error %v", err)
		}
	})
}

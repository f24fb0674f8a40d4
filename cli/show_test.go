package cli

import (
	"os"
	"path/filepath"
	"testing"

	"campwright/starter"
)

// TestShowPage_Golden holds the layout of the page against a file: go test ./cli -run ShowPage -update rewrites it.
func TestShowPage_Golden(t *testing.T) {
	same := func(s string) inUnits { return inUnits{s, s, s} }
	v := shown{
		Name: "Grebe",
		Gaps: []shownGap{{Path: "controllers/behind the seat/output", What: "the limit of charge current", Hint: "it is usually part of what is printed on the controller"}},
		Parts: []aboardPart{
			{Title: "the rig", Rows: []aboardRow{
				{Key: "name", Value: same("Grebe"), State: stated},
				{Key: "book", Value: same("us-rv"), State: taken},
				{Key: "note", Value: same("One person, one dog, one panel, and the last warm weeks of the year far north, all in metric."), State: stated},
				{Key: "timezone", State: notSaid, Doc: "IANA zone name"},
			}},
			{Title: "charge line"},
			{Title: "1 run", Depth: 1, Rows: []aboardRow{
				{Key: "gauge", Value: inUnits{"6 mm²", "about 9 AWG", "6 mm²"}, State: stated},
				{Key: "length", Value: inUnits{"31 ft", "31 ft", "9.45 m"}, State: "about", Ends: inUnits{"26 ft to 36 ft", "26 ft to 36 ft", "7.9 m to 11 m"}},
				{Key: "count", Value: same("1"), State: taken, Why: "one", plain: true},
				{Key: "two-way", Value: same("unknown"), State: unknown},
				{Key: "a key of many words and more", Value: inUnits{"58.7 in × 26.8 in", "58.7 in × 26.8 in", "149 cm × 68.1 cm"}, State: taken, Why: "a long reason that goes on and on, and has to be folded somewhere"},
				{Key: "hot cruise", Value: same("135 A"), State: unknown, Ends: same("126 A to 153 A"), Why: "hot at cruise, of what is printed on it"},
				{Key: "idle", Value: same("8 W"), State: "measured"},
			}},
		},
		Counts:  shownCounts{Stated: 84, Measured: 2, About: 11, Unknown: 2, Taken: 36, Guesses: 18},
		Measure: []starter.Worth{{Name: "heater, heat loss", Store: "propane", PerDay: 0.17, Reading: "the furnace's running hours over one cold night"}},
		Around:  "50.1 N 119.6 W in October",
	}
	for name, c := range map[string]showCmd{"show-both": {Units: "both"}, "show-us-all": {Units: "us", All: true}} {
		path := filepath.Join("testdata", name+".golden")
		got := c.page(v)
		if *updateGolden {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != string(want) {
			t.Errorf("%s differs:\n%s", name, got)
		}
	}
}

package m63

import (
	"fmt"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M63"

// TestM63Example is the worked table of case M63: 45 ft from 13.8 V, units of 40 A (655 W) and 20 A (327 W) on six gauges.
func TestM63Example(t *testing.T) {
	for _, row := range []struct {
		amps, gauge string
		want        check.Verdict
		pin, volts  float64
		current     float64
		decimals    int
	}{
		{"40 A", "10 AWG", check.Fail, 655, 0, 0, 0},
		{"40 A", "6 AWG", check.Warn, 655, 11.2, 58, 0},
		{"40 A", "4 AWG", check.Pass, 655, 12.3, 53, 0},
		{"40 A", "2 AWG", check.Pass, 655, 12.9, 51, 0},
		{"20 A", "10 AWG", check.Fail, 327, 10.2, 32, 0},
		{"20 A", "8 AWG", check.Warn, 327, 11.9, 27.6, 1},
	} {
		t.Run(row.amps+" on "+row.gauge, func(t *testing.T) {
			edits := []rig.Edit{{Path: "charge line/1/run/gauge", Old: "4 AWG", New: row.gauge}}
			if row.amps != "40 A" {
				edits = append(edits, rig.Edit{Path: "charge line/2/dc-dc/output", Old: "40 A", New: row.amps})
				if row.want == check.Fail {
					edits = append(edits, rig.Edit{Path: "charge line/3", New: "{fuse: 30 A}"})
				}
			}
			o := room.One(t, row.want, Rule, "testdata/good-1.yaml", edits...)
			near.Printed(t, "asked", room.Value(t, o, "Pin"), row.pin, 0, practice)
			if row.volts == 0 {
				near.Printed(t, "most that it delivers", room.Value(t, o, "Pmax"), 427, 0, practice)
				return
			}
			c := room.Open(t, "testdata/good-1.yaml", edits...)
			l, _ := c.ChargeLine()
			pt, err := l.Point(13.8)
			if err != nil {
				t.Fatal(err)
			}
			near.Printed(t, "voltage", pt.V, row.volts, 1, practice)
			near.Printed(t, "current", pt.A, row.current, row.decimals, practice)
			if row.want != check.Fail {
				near.Abs(t, "printed voltage against the solved one", room.Value(t, o, "V"), pt.V, 1e-9, "the same root")
			}
		})
	}
}

// TestM63Kinds: on the line that a plain unit has no point on, each kind is told for what it does.
func TestM63Kinds(t *testing.T) {
	thin := rig.Edit{Path: "charge line/1/run/gauge", Old: "4 AWG", New: "10 AWG"}
	for _, kind := range []struct {
		path, value, title string
		want               check.Verdict
	}{
		{"input limit", "25 A", "line holds the unit below its rating", check.Warn},
		{"folds back at", "11.5 V", "line holds the unit below its rating", check.Warn},
		{"cuts out at", "11.5 V", "unit cuts out and starts again", check.Fail},
	} {
		o := room.One(t, kind.want, Rule, "testdata/good-1.yaml", thin, rig.Edit{Path: "charge line/2/dc-dc/" + kind.path, New: kind.value})
		if o.Title != kind.title {
			t.Errorf("%s: title %q, wanted %q", kind.path, o.Title, kind.title)
		}
		if o.Consequence == "" || fmt.Sprint(o.Measure) != "[]" {
			t.Errorf("%s: consequence %q, measure %q", kind.path, o.Consequence, o.Measure)
		}
	}
}

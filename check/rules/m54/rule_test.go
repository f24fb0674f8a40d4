package m54

import (
	"math"
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M54"

// TestM54Example is the worked example of case M54 and its twin: an air conditioner of 12.5 A and a charger of 100 A on a 15 A outlet.
func TestM54Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "air conditioner", room.Value(t, o, "Pa")/120, 12.5, 1, practice)
	near.Printed(t, "sum", room.Value(t, o, "Isum"), 26.4, 1, practice)
	near.Printed(t, "charger", room.Value(t, o, "Isum")-12.5, 13.9, 1, practice)
	near.Printed(t, "honest limit", room.Value(t, o, "f")*room.Value(t, o, "Ibreaker"), 12, 0, practice)
	near.Printed(t, "honest limit in watts", room.Value(t, o, "f")*room.Value(t, o, "Ibreaker")*120, 1440, 0, practice)
	room.One(t, check.Fail, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "shore/limit", New: "10 A"})
	twin := room.One(t, check.Pass, Rule, "testdata/good-3.yaml")
	near.Printed(t, "input limit, the battery makes up the rest", room.Value(t, twin, "Isum"), 10, 0, practice)
}

// TestM54Limit: a limit of 12 A throttles the charger, but 25 A of loads pass it where nothing makes up: 3,000 / 120. Of two units by count 25 A flow, of a
// dryer of 30 A between the legs 30 A in each, beside 14.2 A of a unit of 1,700 W. With an inverter of 1,200 W, 10 of the 25 A are made up. By hand.
func TestM54Limit(t *testing.T) {
	for _, x := range []struct {
		path string
		want float64
	}{{"bad-4", 25}, {"bad-5", 25}, {"bad-6", 44.2}, {"bad-7", 15}} {
		for _, o := range room.Judge(t, Rule, "testdata/"+x.path+".yaml") {
			near.Printed(t, x.path, room.Value(t, o, "Isum"), x.want, 1, "arithmetic by hand")
			if x.path == "bad-4" && o.Place == "home" && (len(o.Tries) != 0 || strings.Contains(strings.Join(o.Ways, " "), "shore limit")) {
				t.Errorf("a limit is offered where it cures nothing: %q %v", o.Ways, o.Tries)
			}
		}
	}
}

// TestM54Count holds the rule to the table of the AC side: the same rig, the same current on each leg.
func TestM54Count(t *testing.T) {
	for _, path := range []string{"bad-2", "bad-4", "bad-5", "bad-6", "bad-7", "good-3"} {
		c := room.Open(t, "testdata/"+path+".yaml")
		feeds := c.Nets().Net().ACFeeds()
		feed := feeds[0]
		for _, f := range feeds[1:] {
			if strings.HasPrefix(f.Name, "shore ") {
				feed = f
			}
		}
		most := 0.0
		for _, l := range feed.Legs {
			most = math.Max(most, l.Hours.Nominal)
		}
		near.Rel(t, path, room.Value(t, room.Judge(t, Rule, "testdata/"+path+".yaml")[0], "Isum"), most, 0.02, "one count; a charger's efficiency is flat in the rule, a curve in the table")
	}
}

// TestM54Legs: two roof units of 15 A and a charger of 13.9 A are 43.9 A on one leg, over the 40 A that a breaker of 50 A bears for hours, and 28.9 A with
// one of the units on the other leg. Worked by hand: 1,800 / 120, and the charger as in the example of case M54.
func TestM54Legs(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	near.Printed(t, "on L1", room.Value(t, o, "Isum"), 43.9, 1, "15 + 15 + 13.9")
	near.Printed(t, "on the fuller leg", room.Value(t, room.One(t, check.Pass, Rule, "testdata/good-2.yaml"), "Isum"), 28.9, 1, "15 + 13.9")
	if o = room.One(t, check.Undecided, Rule, "testdata/undecided-2.yaml"); len(o.Measure) == 0 {
		t.Error("no question")
	}
}

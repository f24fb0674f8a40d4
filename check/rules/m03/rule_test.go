package m03

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M03"

// TestM03Example is the worked example of case M03 and its twin: a module of 17.6 V with cells at 70 C against 14.4 V and 1 V.
func TestM03Example(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	a := &c.Doc.Arrays[0]
	cell := check.Number("Tcell", "cells", quantity.Temperature, 70, practice)
	j := hot(c, a, c.Module(a.Module), c.Controller(a.Controller), cell).Judge()
	near.Printed(t, "one in the heat", j.Result, 14.43, 2, practice)
	if v := j.Verdict(check.Warn); v != check.Warn {
		t.Errorf("one module: %s", v)
	}
	a.InSeries.Quantity.Base = 2
	j = hot(c, a, c.Module(a.Module), c.Controller(a.Controller), cell).Judge()
	near.Printed(t, "two in the heat", j.Result, 28.9, 1, practice)
	if v := j.Verdict(check.Warn); v != check.Pass {
		t.Errorf("two modules: %s", v)
	}
}

// TestM03HotDay: an array held above its best voltage gives less than at its best, and as much where the floor is below it.
func TestM03HotDay(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	best, held := hotDay(&c.Sys.Arrays[0], 40, 15.4)
	near.Within(t, "held over best", held/best, 0.5, 0.999, "a module held a volt above its best point")
	if best, held = hotDay(&c.Sys.Arrays[0], 40, 5); held != best {
		t.Errorf("held %v of %v without need", held, best)
	}
}

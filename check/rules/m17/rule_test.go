package m17

import (
	"math"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M17"

// TestM17Example is the worked example of case M17: 1,200 W on a controller of 50 A at 13.6 V.
func TestM17Example(t *testing.T) {
	o := room.One(t, check.Note, Rule, "testdata/bad-1.yaml")
	p := room.Value(t, o, "Pnoon")
	near.Printed(t, "noon", p, 922, 0, practice)
	limit := room.Value(t, o, "Iout") * room.Value(t, o, "Vbat")
	near.Printed(t, "limit", limit, 680, 0, practice)
	near.Printed(t, "clipped", p-limit, 242, 0, practice)
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}

// TestClippedWh holds the closed form to a sum of fine steps.
func TestClippedWh(t *testing.T) {
	for _, limit := range []float64{0, 200, 680, 921, 922} {
		sum := 0.0
		const steps = 100000
		for i := range steps {
			sum += math.Max(0, 922*math.Sin(math.Pi*(float64(i)+0.5)/steps)-limit) * dayHours / steps
		}
		near.Abs(t, "clipped", clippedWh(922, limit), sum, 1e-3, "a hundred thousand steps of the midpoint rule")
	}
	if x := clippedWh(500, 680); x != 0 {
		t.Errorf("%v Wh clipped below the limit", x)
	}
}

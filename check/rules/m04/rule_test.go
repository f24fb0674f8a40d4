package m04

import (
	"math"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/pv"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M04"

// TestM04Example is the worked example of case M04: 100 W (17.5 V, open at 21.6 V) beside 330 W (33 V, 10.5 A below its knee). The practice list takes the
// small one's own best voltage and the large one's flat current, 100 + 17.5 × 10.5 = 284 W of 430; the curves find the better voltage a little above.
func TestM04Example(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	parts := partsOf(c, "one", 0)
	if len(parts) != 2 {
		t.Fatalf("%d arrays", len(parts))
	}
	at := 17.5
	near.Within(t, "both at 17.5 V", parts[0].curve.At(at).P+parts[1].curve.At(at).P, 281, 286, practice+": 284 W by hand")
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Within(t, "sum of the maxima", room.Value(t, o, "Psum"), 429, 431, practice+": 430 W on the labels")
	near.Within(t, "share lost", room.Value(t, o, "x"), 0.30, 0.34, practice+": 34 % at 17.5 V, a little less at the best common voltage")
	twin := room.Judge(t, Rule, "testdata/good-1.yaml")
	if len(twin) != 1 || twin[0].Verdict != check.Pass || twin[0].Place != "controllers/two" {
		t.Errorf("twin on separate controllers: %+v", twin)
	}
}

// TestJoin holds the common maximum against a walk over all voltages, and the identities of curves in parallel: like arrays lose nothing, and no
// joining gives more than each by itself.
func TestJoin(t *testing.T) {
	parts := partsOf(room.Open(t, "testdata/bad-1.yaml"), "one", 0)
	a, b := parts[0].curve, parts[1].curve
	for _, curves := range [][]pv.Curve{{a, b}, {a, a}, {b, b, a}, {a.Scale(2, 1), b}} {
		s, err := join(curves)
		if err != nil {
			t.Fatal(err)
		}
		walk := 0.0
		for v := 0.0; v < 50; v += 0.005 {
			p := 0.0
			for _, k := range curves {
				p += k.At(v).P
			}
			walk = math.Max(walk, p)
		}
		near.Within(t, "common maximum", s.together.P, walk-1e-6, walk+0.01, "a walk in steps of 5 mV")
		if s.lostW() < 0 || s.together.P > s.apartW+1e-6 {
			t.Errorf("%.3f W together, %.3f W apart", s.together.P, s.apartW)
		}
	}
	same, err := join([]pv.Curve{b, b, b})
	if err != nil {
		t.Fatal(err)
	}
	near.Within(t, "like arrays lose", same.lostW(), 0, 1e-6, "Kirchhoff: three times the same curve")
}

// Two unlike arrays judged: their curves added, the best common voltage found, at every corner of what was not read.
//
// Budget: 0.1 ms. Read 0.022 ms, a guess 0.029 ms: 2 shared cores, Go 1.26.8, go test -run XXX -bench M04 ./check/rules/m04
func BenchmarkM04(b *testing.B) {
	for _, x := range []struct{ name, path string }{{"labels read", "testdata/bad-1.yaml"}, {"a guess", "testdata/undecided-1.yaml"}} {
		c := room.Open(b, x.path)
		b.Run(x.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if len(run(c)) != 1 {
					b.Fatal("no outcome")
				}
			}
		})
	}
}

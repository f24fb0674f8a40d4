package conductor

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"campwright/internal/near"
)

// This file holds the package against worked examples: W.. from testdata/worked_examples.json, M.. from the list of common mistakes
// that practitioners meet (arithmetic recomputed by hand).

// example reads one worked example: expected figures and tolerance.
func example(t *testing.T, id string) (expect map[string]any, tol float64) {
	t.Helper()
	b, err := os.ReadFile("testdata/worked_examples.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []struct {
		ID        string         `json:"id"`
		Expect    map[string]any `json:"expect"`
		Tolerance float64        `json:"tolerance"`
		Mark      string         `json:"mark"`
	}
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		if e.ID == id {
			return e.Expect, e.Tolerance
		}
	}
	t.Fatalf("no worked example %s", id)
	return nil, 0
}

func awg(t *testing.T, n int) Gauge {
	t.Helper()
	g, err := OfAWG(n)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestDiameter_W01(t *testing.T) {
	want, tol := example(t, "W01")
	for i, n := range []int{10, 36, 0, -3} {
		near.Abs(t, "diameter [in]", AWGDiameter(n)/25.4, want["in"].([]any)[i].(float64), tol, "W01, copper wire table")
	}
}

func TestDrop_W02(t *testing.T) {
	want, tol := example(t, "W02")
	r := Run{Gauge: awg(t, 10), OneWayM: 15 * metresPerFoot, Amps: 20, ConductorC: 75}
	near.Abs(t, "loop [Ω]", r.Gauge.LoopOhms(r.OneWayM, 75), want["R_ohm"].(float64), tol*1e-3, "W02")
	d, err := r.Drop()
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "drop [V]", d, want["drop_V"].(float64), tol, "W02")
	near.Abs(t, "drop [%]", d/12*100, want["pct"].(float64), tol, "W02")
	p, err := r.Loss()
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "loss [W]", p, 20*20*0.0372, 1e-9, "I²R of W02's loop")
}

func TestCircularMils_W03_W04(t *testing.T) {
	for id, e := range map[string]float64{"W03": 0.36, "W04": 1.2} {
		want, tol := example(t, id)
		cm, err := CircularMils(20, 30, e)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, id+" [cmil]", cm, want["cm"].(float64), tol, id)
		for _, g := range Gauges(AWG) {
			if g.CircularMils() >= cm {
				if g.String() != want["awg"].(string)+" AWG" {
					t.Errorf("%s: %s, want %s", id, g, want["awg"])
				}
				break
			}
		}
	}
}

func TestResistance_W05(t *testing.T) {
	want, tol := example(t, "W05")
	near.Abs(t, "10 AWG at 25 C [Ω/kft]", awg(t, 10).OhmsPerMetre(25)*1000*metresPerFoot, want["R"].(float64), tol, "W05, NEC chapter 9 table 8 note 2")
}

func TestAmpacity_W06(t *testing.T) {
	want, tol := example(t, "W06")
	r := rating(t, Use{Book: USRV, Side: Battery, Gauge: awg(t, 6), InsulationC: 105, AmbientC: 30, Together: 5, EngineSpace: true})
	near.Abs(t, "6 AWG", r.Amps, want["A"].(float64), tol, "W06: 120 × 0.85 × 0.60")
	if len(r.Factors) != 2 || r.Factors[0].Value != 0.85 || r.Factors[1].Value != 0.60 {
		t.Errorf("factors %v", r.Factors)
	}
	if w := r.Working(); w.Formula != "I0 × ke × kn" || len(w.Terms) != 3 || w.Terms[0].Figure.Value != 120 {
		t.Errorf("working %+v", w)
	}
}

func TestAmpacity_W07(t *testing.T) {
	want, tol := example(t, "W07")
	u := Use{Book: USBuilding, Side: Battery, Gauge: awg(t, 10), InsulationC: 90, Together: 8, TerminalC: 75}
	for _, ambient := range []float64{45.5, 46, 50} {
		u.AmbientC = ambient
		r := rating(t, u)
		near.Abs(t, "10 AWG", r.Amps, want["A"].(float64), tol, "W07: 40 × 0.82 × 0.70, below the terminals' 35 A")
		if w := r.Working(); w.Formula != "min(I0 × ka × kn, It)" {
			t.Errorf("working %q", w.Formula)
		}
	}
}

func TestPhotovoltaic_W08(t *testing.T) {
	want, tol := example(t, "W08")
	near.Abs(t, "× 1.25", CircuitCurrent(15), want["x1.25"].(float64), tol, "W08, 690.8(A)(1)")
	near.Abs(t, "× 1.5625", DeviceCurrent(15), want["x1.5625"].(float64), tol, "W08, 690.9(B)")
}

func TestStringFuse_W09_W10_W11(t *testing.T) {
	for id, s := range map[string]Strings{"W09": {3, 5, 15}, "W10": {3, 11.4, 20}, "W11": {2, 11.4, 20}} {
		want, tol := example(t, id)
		f, err := s.Fuse()
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, id+" backfeed", f.Backfeed, want["backfeed_A"].(float64), tol, id)
		if f.Needed != want["fuses_required"].(bool) {
			t.Errorf("%s: needed %v", id, f.Needed)
		}
		if id == "W10" {
			near.Abs(t, id+" smallest", f.Smallest, want["min_fuse_A"].(float64), tol, id)
			near.Abs(t, id+" rating", f.Rating, want["fuse_A"].(float64), 0, id)
		}
	}
}

func TestColdVoltage_W13_W14(t *testing.T) {
	want, _ := example(t, "W13")
	f, _, err := ColdVoltageFactor(-9)
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "factor", f, want["factor"].(float64), 0, "W13")
	want, tol := example(t, "W14")
	if f, _, err = ColdVoltageFactor(-20); err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "two in series", 2*22.6*f, want["table_V"].(float64), tol, "W14")
}

func TestLineResistance_DCDCRows(t *testing.T) {
	for _, r := range rows(t, "dcdc_line_quadratic.csv", 54) {
		g := gaugeNamed(t, r["awg"])
		near.Rel(t, r["awg"]+" "+r["one_way_ft"]+" ft", g.LoopOhms(number(t, r["one_way_ft"])*metresPerFoot, 75), number(t, r["R_round_trip_ohm_75C"]), 1e-9, "NEC chapter 9 table 8")
	}
}

func TestSmallestFuse_InverterRows(t *testing.T) {
	for _, r := range rows(t, "inverter_dc_current.csv", 21) {
		lasting := number(t, r["P_ac_W"]) / number(t, r["efficiency"]) / number(t, r["V_dc"])
		got, _ := SmallestFuse(lasting)
		near.Abs(t, r["P_ac_W"]+" W", got, number(t, r["x1.25_A"]), 0.0501, "one decimal of the row")
	}
}

func TestStringFuse_M06(t *testing.T) {
	for n, want := range map[int]float64{2: 7.75, 3: 15.5, 4: 23.25} {
		f, err := Strings{n, 6.2, 15}.Fuse()
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "backfeed", f.Backfeed, want, 1e-9, "M06")
		if f.Needed != (n > 2) || f.Rating != 10 || !f.Allows(10) {
			t.Errorf("%d strings: %+v", n, f)
		}
	}
}

func TestStringFuse_M07(t *testing.T) {
	f, err := Strings{3, 13.9, 25}.Fuse()
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "smallest", f.Smallest, 21.7, 0.05, "M07")
	for amps, want := range map[float64]bool{15: false, 25: true, 30: false} {
		if f.Allows(amps) != want {
			t.Errorf("M07: %g A allowed %v", amps, !want)
		}
	}
	near.Abs(t, "M08 branch connector", CircuitCurrent(3*13.9), 52.1, 0.05, "M08")
}

func TestAmpacity_M09(t *testing.T) {
	lasting := CircuitCurrent(4 * 9.8)
	near.Abs(t, "lasting", lasting, 49, 1e-9, "M09")
	near.Abs(t, "need", DeviceCurrent(4*9.8), 61.25, 1e-9, "M09")
	for n, pass := range map[int]bool{10: false, 8: false, 6: true} {
		r := rating(t, Use{Book: USRV, Side: Photovoltaic, Gauge: awg(t, n), InsulationC: 90, AmbientC: 53, Together: 2, TerminalC: 75})
		margin, need := r.Carries(lasting)
		if (margin >= 0) != pass {
			t.Errorf("M09: %d AWG margin %.3f", n, margin)
		}
		if n == 6 {
			near.Abs(t, "corrected", r.Corrected, 57, 1e-9, "M09: 75 × 0.76")
			near.Abs(t, "terminals", r.Terminal, 65, 0, "M09")
			near.Abs(t, "harder test", need, 61.25, 1e-9, "M09: 65 A against 61.25 is closer than 57 against 49")
		}
	}
}

func TestDrop_M10_M55(t *testing.T) {
	g := awg(t, 10)
	loop := g.LoopOhms(30*metresPerFoot, 75)
	near.Abs(t, "loop", loop, 0.0744, 1e-9, "M10")
	for _, c := range []struct{ amps, volts, percent, watts float64 }{{22.2, 18, 9.2, 36.7}, {11.1, 36, 2.3, 9.2}, {5.55, 72, 0.57, 2.3}} {
		r := Run{Gauge: g, OneWayM: 30 * metresPerFoot, Amps: c.amps, ConductorC: 75}
		d, _ := r.Drop()
		p, _ := r.Loss()
		near.Abs(t, "share", d/c.volts*100, c.percent, 0.05, "M10, one decimal")
		near.Abs(t, "loss", p, c.watts, 0.06, "M10, one decimal")
	}
	cord := awg(t, 14).LoopOhms(100*metresPerFoot, 75)
	near.Abs(t, "cord", cord, 0.628, 1e-9, "M55")
	near.Abs(t, "drop at 12 A", 12*cord, 7.5, 0.05, "M55")
	near.Abs(t, "drop at start", 40*cord, 25, 0.2, "M55")
	near.Abs(t, "50 ft of 10 AWG at 12 A", 12*awg(t, 10).LoopOhms(50*metresPerFoot, 75), 1.5, 0.05, "M55")
}

func TestInterrupt_M32(t *testing.T) {
	fault := 13.6 / 0.0015
	near.Abs(t, "bank fault", fault, 9067, 0.5, "M32")
	held := func(name string) float64 {
		f, ok := FamilyNamed(name)
		if !ok {
			t.Fatalf("no family %q", name)
		}
		i, ok := f.InterruptAt(14.4)
		if !ok {
			t.Fatalf("%s: nothing at 14.4 V", name)
		}
		return i.Amps
	}
	if held("strip limiter fuse") >= fault {
		t.Error("M32: strip limiter passes")
	}
	if held("class T fuse") < fault {
		t.Error("M32: class T fails")
	}
	block, _ := FamilyNamed("terminal-mount block fuse")
	claim, ok := block.ClaimBelow(14.4)
	if !ok || claim.Amps < fault || claim.Volts != 14 || held(block.Name) >= fault {
		t.Errorf("M32: block fuse claims %+v below the bank's voltage, holds %g", claim, held(block.Name))
	}
	near.Abs(t, "margin of the claim", claim.Amps/fault-1, 0.10, 0.012, "M32 says 9 % of the rating")
}

func TestFuseLimit_M38(t *testing.T) {
	u := Use{Gauge: awg(t, 6), Side: Battery, InsulationC: 105, AmbientC: 30, Together: 1}
	for book, want := range map[Book]float64{USRV: 120, USBoat: 180} {
		u.Book = book
		f, err := LargestFuse(rating(t, u), 12)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, book.String(), f.Amps, want, 1e-9, "M38")
		if f.Allows(200) {
			t.Errorf("M38: %s lets 200 A stand before 6 AWG", book)
		}
	}
}

func TestFuseLimit_M39(t *testing.T) {
	lasting := 2000 / 0.9 / 12
	smallest, _ := SmallestFuse(lasting)
	near.Abs(t, "125 %", smallest, 231.5, 0.05, "M39")
	ratings, _ := StandardRatings()
	fuse, ok := Next(ratings, smallest)
	if !ok || fuse != 250 {
		t.Errorf("M39: next rating %g", fuse)
	}
	if smallest <= 175 {
		t.Error("M39: a 175 A fuse would do")
	}
	u := Use{Side: Battery, InsulationC: 105, AmbientC: 30, Together: 2, TerminalC: 75}
	for _, c := range []struct {
		book        Book
		gauge       int
		amps, limit float64
		allows      bool
	}{{USRV, -1, 330, 330, true}, {USBuilding, -1, 175, 175, false}, {USBuilding, -3, 230, 250, true}} {
		u.Book, u.Gauge = c.book, awg(t, c.gauge)
		r := rating(t, u)
		f, err := LargestFuse(r, 12)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, c.book.String()+" ampacity", r.Amps, c.amps, 0, "M39")
		near.Abs(t, c.book.String()+" limit", f.Amps, c.limit, 0, "M39")
		if f.Allows(fuse) != c.allows {
			t.Errorf("M39: %s %s allows %g: %v", c.book, u.Gauge, fuse, !c.allows)
		}
	}
}

func TestFuseVolts_M40(t *testing.T) {
	blade, _ := FamilyNamed("blade fuse")
	if _, ok := blade.InterruptAt(58.4); ok {
		t.Error("M40: a 32 V fuse serves a 58.4 V bank")
	}
	if _, ok := blade.InterruptAt(29.2); !ok {
		t.Error("M40: a 32 V fuse refuses a 29.2 V bank")
	}
}

func TestDrop_M41(t *testing.T) {
	amps := 3000 / 0.9 / 12.5
	near.Abs(t, "current", amps, 266.7, 0.05, "M41")
	for _, c := range []struct {
		gauge                 int
		feet, drop, share, at float64
	}{{-1, 8, 0.41, 3.3, 11.69}, {2, 12, 1.24, 9.9, 10.86}} {
		d, err := Run{Gauge: awg(t, c.gauge), OneWayM: c.feet * metresPerFoot, Amps: amps, ConductorC: 75}.Drop()
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "drop", d, c.drop, 0.005, "M41")
		near.Abs(t, "share", d/12.5*100, c.share, 0.05, "M41")
		near.Abs(t, "at the terminals", 12.9-d-amps*0.003, c.at, 0.005, "M41: 12.9 V and 3 mΩ of joints and battery")
	}
	near.Abs(t, "M45 return", rating(t, Use{Book: USRV, Side: Battery, Gauge: awg(t, 8), InsulationC: 105, AmbientC: 30, Together: 1}).Amps, 80, 0, "M45")
}

func TestFirstDevice_M34(t *testing.T) {
	const in = 0.0254
	for _, c := range []struct {
		book     Book
		at       Start
		sheathed bool
		metres   float64
	}{
		{USBoat, BatteryPost, false, 7 * in}, {USBoat, OtherSource, true, 40 * in}, {USBoat, BatteryPost, true, 72 * in},
		{USRV, BatteryPost, false, 18 * in}, {USRV, BatteryPost, true, 18 * in},
		{AUNZ, BatteryPost, false, 0.2}, {AUNZ, BatteryPost, true, 1},
	} {
		r, err := FirstDevice(c.book, c.at, c.sheathed)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, c.book.String(), r.Metres, c.metres, 1e-12, r.Origin.String())
		if !r.Stated {
			t.Errorf("%s: not stated", c.book)
		}
		if bare48 := 48 * in; !c.sheathed && bare48 <= r.Metres {
			t.Errorf("M34: %s lets 48 in of bare cable pass", c.book)
		}
	}
	if r, err := FirstDevice(USBuilding, BatteryPost, false); err != nil || r.Stated || math.Abs(r.Metres) > 0 {
		t.Errorf("us-building gives no length: %+v %v", r, err)
	}
}

package conductor

import (
	"errors"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func TestGauge_RoundTrip(t *testing.T) {
	n := 0
	for _, s := range []System{AWG, Metric} {
		prev := 0.0
		for _, g := range Gauges(s) {
			n++
			if g.Section() <= prev {
				t.Errorf("%s: section not rising", g)
			}
			prev = g.Section()
			if back, ok := OfSection(g.Section()); !ok || back != g {
				t.Errorf("%s: section means %s", g, back)
			}
			if back, ok := OfSection(math.Round(g.Section()*100) / 100); !ok || back != g {
				t.Errorf("%s: rounded section means %s", g, back)
			}
			if at, ok := AtMost(s, g.Section()*1.02); !ok || at != g {
				t.Errorf("%s: just above it, AtMost gives %s", g, at)
			}
		}
	}
	if n != 29 {
		t.Errorf("%d sizes", n)
	}
	if _, ok := OfSection(9); ok {
		t.Error("9 mm² is no standard size")
	}
	if g, ok := AtMost(Metric, 13.3); !ok || g.String() != "10 mm2" {
		t.Errorf("13.3 mm² is judged as %s", g)
	}
	if _, ok := AtMost(AWG, 0.75); ok {
		t.Error("0.75 mm² is thinner than 18 AWG")
	}
	if _, ok := AtMost(AWG, math.NaN()); ok {
		t.Error("NaN has a size")
	}
	if g := (Gauge{}); g.Valid() || g.Section() != 0 || g.OhmsPerMetre(20) != 0 || g.String() != "no gauge" {
		t.Error("the zero gauge is a size")
	}
}

func TestResistance_TwoCoefficientsAgree(t *testing.T) {
	// The NEC's coefficient at 75 °C and the one at 20 °C describe the same straight line.
	g := awg(t, 10)
	m, _ := OfMetric(6)
	near.Rel(t, "R20/R75, AWG", g.OhmsPerMetre(20)/g.OhmsPerMetre(75), 0.822, 1e-3, "both forms give 0.822")
	near.Rel(t, "R20/R75, metric", m.OhmsPerMetre(20)/m.OhmsPerMetre(75), 0.822, 1e-3, "both forms give 0.822")
}

func TestDrop_ThickerOrShorterNeverDropsMore(t *testing.T) {
	n := 0
	for _, s := range []System{AWG, Metric} {
		prev := math.Inf(1)
		for _, g := range Gauges(s) {
			for length := 0.5; length < 30; length *= 1.7 {
				a, err := Run{g, length, 40, 60}.Drop()
				if err != nil {
					t.Fatal(err)
				}
				b, _ := Run{g, length * 0.99, 40, 60}.Drop()
				c, _ := Run{g, length, 40, 59}.Drop()
				if b >= a || c >= a {
					t.Errorf("%s: shorter or cooler run drops more", g)
				}
				n++
			}
			one, _ := Run{g, 1, 1, 20}.Drop()
			if one >= prev {
				t.Errorf("%s: drops more than the thinner size", g)
			}
			prev = one
		}
	}
	if n < 200 {
		t.Errorf("only %d runs", n)
	}
}

func TestAmpacity_Monotone(t *testing.T) {
	n := 0
	for _, b := range Books() {
		for _, s := range Sides() {
			for _, system := range []System{AWG, Metric} {
				prev := 0.0
				for _, g := range Gauges(system) {
					u := Use{Book: b, Side: s, Gauge: g, InsulationC: 105, AmbientC: 30, Together: 1}
					r, err := Ampacity(u)
					if errors.Is(err, ErrNotInTable) {
						continue
					}
					if err != nil {
						t.Fatal(err)
					}
					n++
					if r.Amps < prev {
						t.Errorf("%s %s: %s carries %g, the thinner size %g", b, s, g, r.Amps, prev)
					}
					prev = r.Amps
					worse := func(change func(*Use)) {
						w := u
						change(&w)
						q, err := Ampacity(w)
						if err != nil && !errors.Is(err, ErrNotInTable) {
							t.Fatal(err)
						}
						if q.Amps > r.Amps {
							t.Errorf("%s %s %s: harder surroundings raise %g to %g", b, s, g, r.Amps, q.Amps)
						}
					}
					worse(func(w *Use) { w.AmbientC = 47 })
					worse(func(w *Use) { w.Together = 9 })
					worse(func(w *Use) { w.EngineSpace = true })
					worse(func(w *Use) { w.SunlitRoof = true })
					worse(func(w *Use) { w.InsulationC = 75; w.AmbientC = 35 })
				}
			}
		}
	}
	if n < 16*25 {
		t.Errorf("only %d ratings", n)
	}
}

func TestAmpacity_BooksDiffer(t *testing.T) {
	g := awg(t, -1)
	u := Use{Side: Battery, Gauge: g, InsulationC: 105, AmbientC: 30, Together: 2, TerminalC: 75}
	u.Book = USRV
	rv := rating(t, u)
	u.Book = USBuilding
	building := rating(t, u)
	near.Abs(t, "2/0, boat table", rv.Amps, 330, 0, "33 CFR 183.425")
	near.Abs(t, "2/0, NEC", building.Amps, 175, 0, "NEC 310.16")
	u.Book = AUNZ
	au := rating(t, u)
	if au.Judged.String() != "50 mm2" {
		t.Errorf("2/0 AWG judged as %s", au.Judged)
	}
	sentence, o, err := Governs(USRV, Battery)
	if err != nil || o.Mark != Practice || !strings.Contains(sentence, "NFPA 1192") || !strings.Contains(sentence, "from memory") {
		t.Errorf("us-rv battery: %q %v %v", sentence, o, err)
	}
}

func TestISO10133_AgainstCFR(t *testing.T) {
	// Two standards for the same single copper conductor in 30 °C air. The metric table is from memory; the law's, read along a power
	// law between its sizes, is the check.
	law := func(mm2 float64, insulation int) float64 {
		all := Gauges(AWG)
		for i := 1; i < len(all); i++ {
			if a, b := all[i-1], all[i]; mm2 <= b.Section() || i == len(all)-1 {
				ia := rating(t, Use{Book: USBoat, Side: Battery, Gauge: a, InsulationC: insulation, AmbientC: 30, Together: 1}).Amps
				ib := rating(t, Use{Book: USBoat, Side: Battery, Gauge: b, InsulationC: insulation, AmbientC: 30, Together: 1}).Amps
				x := math.Log(mm2/a.Section()) / math.Log(b.Section()/a.Section())
				return ia * math.Pow(ib/ia, x)
			}
		}
		return 0
	}
	w := near.Worst{What: "ISO against CFR"}
	for _, g := range Gauges(Metric) {
		for _, insulation := range []int{60, 105, 125, 200} {
			if g.Section() < 1.5 {
				continue // rounded to 2 to 5 A in both tables
			}
			iso := rating(t, Use{Book: AUNZ, Side: Battery, Gauge: g, InsulationC: insulation, AmbientC: 30, Together: 1}).Amps
			w.See(iso/law(g.Section(), insulation), 1, g.String())
		}
	}
	if w.Count != 48 || w.Off > 0.16 {
		t.Errorf("%d compared, worst %.3f at %s", w.Count, w.Off, w.Place)
	}
	// A figure of the IEC mains table seen in a public thread quoting its British twin: 25 mm², method B1, two conductors, 101 A.
	m, _ := OfMetric(25)
	near.Abs(t, "IEC 60364-5-52 B1 25 mm²", rating(t, Use{Book: AUNZ, Side: Mains, Gauge: m, InsulationC: 70, AmbientC: 30, Together: 2}).Amps, 101, 0, "public thread")
}

func TestAmpacity_Terminals(t *testing.T) {
	// Unmarked terminals: 60 °C column to 1 AWG, 75 °C above it. NEC 110.14(C).
	for n, want := range map[int]float64{10: 30, 6: 55, 1: 110, 0: 150, -3: 230} {
		r := rating(t, Use{Book: USRV, Side: Mains, Gauge: awg(t, n), InsulationC: 90, AmbientC: 30, Together: 3})
		near.Abs(t, r.Judged.String(), r.Amps, want, 0, "NEC 310.16 by 110.14(C)")
	}
}

func TestAmpacity_HotterThanInsulation(t *testing.T) {
	for _, b := range Books() {
		r := rating(t, Use{Book: b, Side: Battery, Gauge: awg(t, 6), InsulationC: 75, AmbientC: 76, Together: 1})
		if r.Amps != 0 {
			t.Errorf("%s: %g A in air hotter than the insulation", b, r.Amps)
		}
		if m, _ := r.Carries(1); m >= 0 {
			t.Errorf("%s: carries 1 A", b)
		}
	}
	// The roof's adder: 90 °C column at 40 °C air is 0.91, at 73 °C (33 K more) 0.50.
	u := Use{Book: USRV, Side: Photovoltaic, Gauge: awg(t, 10), InsulationC: 90, AmbientC: 40, Together: 2, TerminalC: 75}
	near.Abs(t, "in shade", rating(t, u).Corrected, 40*0.91, 1e-9, "NEC table 310.15(B)(1)(1)")
	u.SunlitRoof = true
	near.Abs(t, "sunlit roof", rating(t, u).Corrected, 40*0.50, 1e-9, "NEC table 310.15(B)(1)(1) at 73 °C")
}

func TestConductorC_ReachesItsColumn(t *testing.T) {
	// At its rated current in 30 °C air a conductor is at its column's temperature: what the tables mean. And the corrected rating in hotter air
	// brings it to the same temperature, since both follow the square-root rule.
	for _, ambient := range []float64{30, 40, 60} {
		r := rating(t, Use{Book: USBoat, Side: Battery, Gauge: awg(t, 2), InsulationC: 105, AmbientC: ambient, Together: 5})
		near.Abs(t, "at rating", r.ConductorC(r.Amps), 105, 1e-9, "definition of the table")
		near.Abs(t, "at rest", r.ConductorC(0), ambient, 1e-12, "no current, no rise")
		near.Abs(t, "at half", r.ConductorC(r.Amps/2), ambient+(105-ambient)/4, 1e-9, "a quarter of the rise")
	}
}

func TestLargestFuse_Books(t *testing.T) {
	u := Use{Side: Mains, Gauge: awg(t, 14), InsulationC: 90, AmbientC: 30, Together: 2, TerminalC: 75, Book: USBuilding}
	f, err := LargestFuse(rating(t, u), 120)
	if err != nil || f.Amps != 15 || !f.Capped {
		t.Errorf("14 AWG: %+v %v", f, err)
	}
	// 6 AWG at 75 °C, 65 A: no standard rating, so 70 A may stand; 600 V boat side likewise, but never over 150 %.
	u.Gauge = awg(t, 6)
	if f, _ = LargestFuse(rating(t, u), 120); f.Amps != 70 || !f.NextUp {
		t.Errorf("6 AWG, NEC: %+v", f)
	}
	boat := Use{Book: USBoat, Side: Mains, Gauge: awg(t, 10), InsulationC: 75, AmbientC: 30, Together: 3}
	r := rating(t, boat)
	near.Abs(t, "10 AWG of three", r.Amps, 28, 1e-9, "40 × 0.70")
	if f, _ = LargestFuse(r, 120); f.Amps != 30 || !f.NextUp {
		t.Errorf("10 AWG, boat over 50 V: %+v", f)
	}
	for volts, want := range map[float64]float64{49.9: 42, 50: 30} {
		f, _ := LargestFuse(r, volts)
		near.Abs(t, "boat law at the 50 V step", f.Amps, want, 1e-9, "33 CFR 183.455(c)")
	}
}

func TestLargestFuse_NextUpHasACeiling(t *testing.T) {
	// 18 AWG at 60 °C, 10 A, in 55 °C air √(5/30) of it, of which a bundle of 25 leaves 0.40: 1.63 A. The next standard rating, 3 A, is more than
	// 150 %; in a bundle of 24, 2.04 A, it is not.
	u := Use{Book: USBoat, Side: Mains, Gauge: awg(t, 18), InsulationC: 60, AmbientC: 55}
	for together, want := range map[int]float64{25: 4 * math.Sqrt(5.0/30), 24: 3} {
		u.Together = together
		f, err := LargestFuse(rating(t, u), 120)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "limit", f.Amps, want, 1e-12, "33 CFR 183.455(c)(2)")
		if f.NextUp != (together == 24) {
			t.Errorf("bundle of %d: %+v", together, f)
		}
	}
}

func TestCarries_AtItsLimits(t *testing.T) {
	// 6 AWG, terminals at 75 °C: 65 A of column bear 52 A lasting. In 53 °C air 57 A are left, so that the column stays the harder test;
	// at 61 °C 48.75 A, and the corrected value is.
	u := Use{Book: USRV, Side: Photovoltaic, Gauge: awg(t, 6), InsulationC: 90, Together: 2, TerminalC: 75}
	for ambient, limit := range map[float64]float64{53: 52, 61: 48.75} {
		u.AmbientC = ambient
		r := rating(t, u)
		for lasting, pass := range map[float64]bool{limit: true, limit + 0.01: false} {
			if margin, _ := r.Carries(lasting); (margin >= 0) != pass {
				t.Errorf("%g A at %g C: margin %g", lasting, ambient, margin)
			}
		}
	}
	boat := rating(t, Use{Book: USBoat, Side: Battery, Gauge: awg(t, 6), InsulationC: 105, AmbientC: 30, Together: 1})
	for lasting, pass := range map[float64]bool{120: true, 120.01: false, -1: false, math.Inf(1): false} {
		if margin, _ := boat.Carries(lasting); (margin >= 0) != pass {
			t.Errorf("boat, %g A: margin %g", lasting, margin)
		}
	}
}

func TestSize(t *testing.T) {
	n := Need{
		Use:    Use{Book: USRV, Side: Battery, InsulationC: 105, AmbientC: 30, Together: 1},
		System: AWG, Lasting: 185.2, Fuse: 250, OneWayM: 8 * metresPerFoot, Volts: 12.8, DropAmps: 185.2, DropShare: 0.03, DropC: 75,
	}
	c, err := Size(n)
	if err != nil {
		t.Fatal(err)
	}
	if c.Gauge.String() != "1/0 AWG" || c.Decided != ByFuse || len(c.Thinner) != 11 {
		t.Errorf("2 kW inverter: %s decided by %s after %d", c.Gauge, c.Decided, len(c.Thinner))
	}
	n.OneWayM = 13 * metresPerFoot
	if c, err = Size(n); err != nil || c.Gauge.String() != "3/0 AWG" || c.Decided != ByDrop {
		t.Errorf("longer run: %s decided by %s, %v", c.Gauge, c.Decided, err)
	}
	// By hand: 0.03 × 12.8 V over 185.2 A asks for at most 0.0797 Ω/kft at 26 ft and 0.0740 at 28 ft; 2/0 has 0.0967, 3/0 0.0766, 4/0 0.0608.
	n.OneWayM = 14 * metresPerFoot
	if c, err = Size(n); err != nil || c.Gauge.String() != "4/0 AWG" {
		t.Errorf("14 ft: %s, %v", c.Gauge, err)
	}
	n.OneWayM = 40 * metresPerFoot
	if _, err = Size(n); !errors.Is(err, ErrNoSize) {
		t.Errorf("40 ft: %v", err)
	}
	n.System, n.OneWayM = Metric, 2
	n.Use.Book = AUNZ
	if c, err = Size(n); err != nil || c.Gauge.System() != Metric || c.Rating.Amps < 250 {
		t.Errorf("metric: %s, %v", c.Gauge, err)
	}
}

func TestSize_MonotoneInLengthAndCurrent(t *testing.T) {
	prev := 0.0
	count := 0
	for length := 0.3; length < 12; length *= 1.15 {
		c, err := Size(Need{Use: Use{Book: USRV, Side: Battery, InsulationC: 105, AmbientC: 35, Together: 2},
			System: AWG, Lasting: 40, OneWayM: length, Volts: 12.8, DropAmps: 40, DropShare: 0.03, DropC: 60})
		if err != nil {
			t.Fatal(err)
		}
		if c.Gauge.Section() < prev {
			t.Errorf("longer run takes thinner %s", c.Gauge)
		}
		prev = c.Gauge.Section()
		count++
	}
	if count < 20 {
		t.Errorf("only %d sizes", count)
	}
}

func TestRefusals(t *testing.T) {
	good := Use{Book: USRV, Side: Battery, Gauge: awg(t, 6), InsulationC: 105, AmbientC: 30, Together: 1}
	for name, spoil := range map[string]func(*Use){
		"book":      func(u *Use) { u.Book = 9 },
		"side":      func(u *Use) { u.Side = 0 },
		"gauge":     func(u *Use) { u.Gauge = Gauge{} },
		"insulated": func(u *Use) { u.InsulationC = 59 },
		"ambient":   func(u *Use) { u.AmbientC = math.NaN() },
		"hot":       func(u *Use) { u.AmbientC = math.Inf(1) },
		"together":  func(u *Use) { u.Together = 0 },
		"terminal":  func(u *Use) { u.TerminalC = 70 },
	} {
		u := good
		spoil(&u)
		if r, err := Ampacity(u); err == nil || r.Amps != 0 {
			t.Errorf("%s: taken, %g A", name, r.Amps)
		}
	}
	for _, r := range []Run{{}, {awg(t, 6), 0, 1, 20}, {awg(t, 6), 1, math.NaN(), 20}, {awg(t, 6), math.Inf(1), 1, 20}, {awg(t, 6), 1, 1, 251}} {
		if _, err := r.Drop(); err == nil {
			t.Errorf("run %+v taken", r)
		}
	}
	for _, s := range []Strings{{0, 5, 15}, {2, math.NaN(), 15}, {2, 5, 0}} {
		if _, err := s.Fuse(); err == nil {
			t.Errorf("strings %+v taken", s)
		}
	}
	if _, _, err := ColdVoltageFactor(-40.01); !errors.Is(err, ErrColderThanTable) {
		t.Errorf("below the table: %v", err)
	}
	for c, want := range map[float64]float64{25: 1, 24.99: 1.02, -5: 1.12, -5.01: 1.14, -40: 1.25} {
		f, _, err := ColdVoltageFactor(c)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "factor", f, want, 0, "NEC table 690.7(A), a temperature between rows takes the colder")
	}
	if _, err := LargestFuse(rating(t, good), math.NaN()); err == nil {
		t.Error("fuse in a circuit of NaN volts")
	}
	if a, _ := SmallestFuse(math.Inf(1)); a != 0 {
		t.Error("fuse for an infinite current")
	}
	if CircuitCurrent(math.NaN()) != 0 || DeviceCurrent(-1) != 0 {
		t.Error("photovoltaic current of nonsense")
	}
}

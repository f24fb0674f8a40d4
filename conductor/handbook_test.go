package conductor

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"campwright/internal/near"
)

// This file holds the package's tables against the handbook rows in testdata, each with its mark (see testdata/ORIGIN.md). The rows
// were put down apart from the tables of the package.

// rows reads a table of testdata into one map for each row, by column name, and fails when there are fewer than least.
func rows(t *testing.T, name string, least int) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, line := range all[1:] {
		m := map[string]string{}
		for i, v := range line {
			m[all[0][i]] = v
		}
		out = append(out, m)
	}
	if len(out) < least {
		t.Fatalf("%s: %d rows, want at least %d", name, len(out), least)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("not a number: %q", s)
	}
	return v
}

// gaugeNamed turns "14" or "2/0" of a handbook into a gauge.
func gaugeNamed(t *testing.T, s string) Gauge {
	t.Helper()
	n := 0
	if a, ok := strings.CutSuffix(s, "/0"); ok {
		n = 1 - int(number(t, a))
	} else {
		n = int(number(t, s))
	}
	g, err := OfAWG(n)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestGauge_B258_Table8(t *testing.T) {
	for _, r := range rows(t, "conductors_awg.csv", 15) {
		g := gaugeNamed(t, r["awg"])
		n, _ := g.Number()
		d := AWGDiameter(n)
		near.Rel(t, r["awg"]+" diameter [mm]", d, number(t, r["solid_diameter_mm_B258"]), 5e-5, "four decimals in the row")
		near.Rel(t, r["awg"]+" diameter [in]", d/25.4, number(t, r["solid_diameter_in_B258"]), 1.3e-4, "row rounds to five decimals, 18 AWG to four")
		near.Rel(t, r["awg"]+" section [mm²]", g.Section(), number(t, r["area_mm2_B258"]), 3e-4, "four decimals; 18 AWG three")
		near.Rel(t, r["awg"]+" section [cmil]", g.CircularMils(), number(t, r["area_cmil_B258"]), 3e-4, "whole mils in the row")
		near.Rel(t, r["awg"]+" section [cmil]", g.CircularMils(), number(t, r["nec_ch9t8_cmil"]), 2.7e-3, "NEC table 8 rounds to 10 or 100 mils")
		kft := metresPerFoot * 1000
		near.Rel(t, r["awg"]+" Ω/kft at 75 C", g.OhmsPerMetre(75)*kft, number(t, r["r75_ohm_per_kft_uncoated_stranded"]), 1e-12, "the same printed figure")
		near.Rel(t, r["awg"]+" Ω/km at 75 C", g.OhmsPerMetre(75)*1000, number(t, r["r75_ohm_per_km"]), 2.6e-4, "four decimals")
		near.Rel(t, r["awg"]+" Ω/km at 20 C", g.OhmsPerMetre(20)*1000, number(t, r["r20_ohm_per_km_derived"]), 5e-4, "row uses α20 = 0.00393, the handbook α75 = 0.00323")
		bare, _ := g.MassPerMetre()
		near.Rel(t, r["awg"]+" bare lb/kft", bare/kgPerPound*kft, number(t, r["bare_solid_copper_lb_per_kft"]), 1e-9, "the same printed figure")
		// A second way to R75: resistivity of 100 % IACS copper, 10.371 Ω·cmil/ft at 20 °C, 2 % for stranding, 1.21615 for 75 °C.
		near.Rel(t, r["awg"]+" R75 from resistivity", g.OhmsPerMetre(75)*kft, 10.371*1.02*1.21615/g.CircularMils()*1000, 5.1e-3, "handbook spot check (a): within 0.5 % for all sizes, 12 AWG just so")
	}
}

func TestGauge_IEC60228_Class5(t *testing.T) {
	for _, r := range rows(t, "iec60228_class5.csv", 14) {
		g, err := OfMetric(number(t, r["mm2"]))
		if err != nil {
			t.Fatal(err)
		}
		near.Rel(t, g.String()+" Ω/km at 20 C", g.OhmsPerMetre(20)*1000, number(t, r["r20_max_ohm_per_km_plain"]), 1e-12, "the same printed figure")
		near.Rel(t, g.String()+" Ω/km at 75 C", g.OhmsPerMetre(75)*1000, number(t, r["r75_ohm_per_km_plain_derived"]), 3e-4, "four decimals of the row")
	}
}

func TestAmpacity_CFR183425_Table5(t *testing.T) {
	columns := map[string]int{"cfr_60C": 60, "cfr_75C": 75, "cfr_80C": 80, "cfr_90C": 90, "cfr_105C_outside_engine": 105, "cfr_125C": 125, "cfr_200C": 200}
	products := map[string]Use{
		"inside_engine_105C_x0.85": {EngineSpace: true, Together: 1},
		"outside_3_bundled_x0.7":   {Together: 3},
		"outside_4to6_x0.6":        {Together: 5},
		"outside_7to24_x0.5":       {Together: 24},
		"inside_3_bundled":         {EngineSpace: true, Together: 3},
		"inside_4to6":              {EngineSpace: true, Together: 4},
		"inside_7to24":             {EngineSpace: true, Together: 7},
	}
	n := 0
	for _, r := range rows(t, "ampacity_marine_105C.csv", 15) {
		g := gaugeNamed(t, r["awg"])
		for c, insulation := range columns {
			for _, side := range []Side{Battery, Vehicle} {
				got := rating(t, Use{Book: USRV, Side: side, Gauge: g, InsulationC: insulation, AmbientC: 30, Together: 1})
				near.Abs(t, r["awg"]+" "+c, got.Amps, number(t, r[c]), 0, "the same printed figure")
				n++
			}
		}
		for c, u := range products {
			u.Book, u.Side, u.Gauge, u.InsulationC, u.AmbientC = USBoat, Battery, g, 105, 30
			near.Abs(t, r["awg"]+" "+c, rating(t, u).Amps, number(t, r[c]), 0.0051, "two decimals of the row")
			n++
		}
	}
	if n != 15*(2*7+7) {
		t.Errorf("compared %d figures, want %d", n, 15*21)
	}
}

func TestAmpacity_NEC_31016(t *testing.T) {
	n := 0
	for _, r := range rows(t, "ampacity_nec_copper.csv", 15) {
		g := gaugeNamed(t, r["awg"])
		for c, insulation := range map[string]int{"t310_16_60C": 60, "t310_16_75C": 75, "t310_16_90C": 90} {
			u := Use{Book: USBuilding, Side: Battery, Gauge: g, InsulationC: insulation, AmbientC: 30, Together: 3, TerminalC: 90}
			if r[c] == "" {
				if _, err := Ampacity(u); err == nil {
					t.Errorf("%s %s: a rating where the table has none", r["awg"], c)
				}
				continue
			}
			near.Abs(t, r["awg"]+" "+c, rating(t, u).Corrected, number(t, r[c]), 0, "the same printed figure")
			n++
			// The free-air table 310.17 is not in the package, but from 6 AWG up its 60 and 75 °C columns are those of 33 CFR.
			if awg, _ := g.Number(); awg <= 6 && insulation < 90 {
				boat := rating(t, Use{Book: USBoat, Side: Battery, Gauge: g, InsulationC: insulation, AmbientC: 30, Together: 1})
				near.Abs(t, r["awg"]+" 310.17 against 33 CFR", boat.Amps, number(t, strings.Replace(r[strings.Replace(c, "310_16", "310_17", 1)], " ", "", -1)), 0, "two standards, one figure")
				n++
			}
		}
		limit, _, ok := SmallConductorCap(g)
		if ok != (r["nec_240_4D_max_ocpd"] != "") {
			t.Errorf("%s: cap known %v, row %q", r["awg"], ok, r["nec_240_4D_max_ocpd"])
		} else if ok {
			near.Abs(t, r["awg"]+" 240.4(D)", limit, number(t, r["nec_240_4D_max_ocpd"]), 0, "the same printed figure")
			n++
		}
	}
	if n != 13*3+2+2*9+5 {
		t.Errorf("compared %d figures", n)
	}
}

func TestAirFactors_NEC_310_15_B1(t *testing.T) {
	n := 0
	for _, r := range rows(t, "nec_ambient_correction_30C.csv", 16) {
		up := number(t, r["ambient_up_to_C"])
		for c, s := range map[string][]step{"k60": air60, "k75": air75, "k90": air90} {
			want := 0.0
			if r[c] != "" {
				want = number(t, r[c])
			}
			for _, ambient := range []float64{up, up - 0.01, up - 4.99} {
				near.Abs(t, c+" at "+r["ambient_up_to_C"], stepAt(s, ambient), want, 0, "the same printed figure, whole row")
				n++
			}
		}
		// Above 30 °C the boat table at 105 °C follows the square-root rule.
		if up > 30 {
			g := gaugeNamed(t, "6")
			got := rating(t, Use{Book: USBoat, Side: Battery, Gauge: g, InsulationC: 105, AmbientC: up, Together: 1})
			near.Abs(t, "k105 at "+r["ambient_up_to_C"], got.Amps/120, number(t, r["k105_sqrt_derived"]), 0.00051, "three decimals of the row")
			n++
		}
	}
	if n != 16*9+11 {
		t.Errorf("compared %d figures", n)
	}
}

func TestCountFactors_NEC_310_15_C1(t *testing.T) {
	for _, r := range rows(t, "nec_conductor_count_adjustment.csv", 7) {
		for _, c := range []string{"from", "to"} {
			near.Abs(t, "factor at "+r[c], stepAt(countNEC, number(t, r[c])), number(t, r["factor"]), 0, "the same printed figure at both ends of the row")
		}
	}
}

func TestEngineFactors_FollowFromAir(t *testing.T) {
	// 33 CFR's factors are what 50 °C air leaves of a table at 30 °C: an identity between two parts of the standard.
	for _, s := range engineBoat[:6] {
		near.Abs(t, "engine space", s.value, math.Sqrt((s.upTo-50)/(s.upTo-30)), 0.0081, "printed with two decimals; 105 °C rounds 0.856 down to 0.85")
	}
	for _, s := range engineISO[:5] {
		near.Abs(t, "engine space", s.value, math.Sqrt((s.upTo-50)/(s.upTo-30)), 0.043, "from memory; 70 °C stands at 0.75 where the rule gives 0.71")
	}
}

func TestParkTrailerFuse_NEC_552_10_E1(t *testing.T) {
	for _, r := range rows(t, "nec_552_10_E1_lowvoltage_ocpd.csv", 5) {
		got, o, ok := ParkTrailerFuse(gaugeNamed(t, r["awg"]))
		if !ok || o.Mark != Memory {
			t.Errorf("%s AWG: known %v, mark %s", r["awg"], ok, o.Mark)
		}
		near.Abs(t, r["awg"], got, number(t, r["max_ocpd_A"]), 0, "the same figure, from memory")
	}
	if _, _, ok := ParkTrailerFuse(gaugeNamed(t, "8")); ok {
		t.Error("8 AWG is past the table")
	}
}

func TestMass_CopperWireTable(t *testing.T) {
	for _, r := range rows(t, "cable_mass.csv", 14) {
		g := gaugeNamed(t, r["awg"])
		bare, insulated := g.MassPerMetre()
		near.Rel(t, r["awg"]+" bare lb/ft", bare/kgPerPound*metresPerFoot, number(t, r["bare_solid_copper_lb_per_ft"]), 1.2e-3, "three or four digits in the row")
		near.Rel(t, r["awg"]+" insulated kg/m", insulated, number(t, r["insulated_kg_per_m_est"]), 6e-3, "estimate; factor and lb/ft printed with two to four digits")
	}
	for _, g := range Gauges(AWG) {
		bare, _ := g.MassPerMetre()
		near.Rel(t, g.String()+" bare from density", bare, g.Section()*copperDensity, 1e-3, "copper wire table against 8.89 g/cm³")
	}
}

func TestFamilies_Rows(t *testing.T) {
	all := rows(t, "fuses_dc.csv", 10)
	if len(all) != len(Families()) {
		t.Errorf("%d families, rows %d", len(Families()), len(all))
	}
	for _, r := range all {
		f, ok := FamilyNamed(r["family"])
		if !ok {
			t.Errorf("%q is no family", r["family"])
			continue
		}
		var list []string
		for _, v := range f.Ratings {
			list = append(list, strconv.FormatFloat(v, 'g', -1, 64))
		}
		if got := strings.Join(list, " "); got != r["ratings_A"] {
			t.Errorf("%s: ratings %s, want %s", f.Name, got, r["ratings_A"])
		}
		near.Abs(t, f.Name+" volts", f.Volts, number(t, r["rated_V_dc"]), 0, "the same printed figure")
		i, ok := f.InterruptAt(f.Volts)
		if !ok {
			t.Errorf("%s: nothing at its own voltage", f.Name)
		}
		near.Abs(t, f.Name+" interrupt", i.Amps, number(t, r["interrupt_A_at_that_V"]), 0, "the same printed figure")
		if (i.Origin.Mark == Seen) != strings.HasPrefix(r["mark"], "source") {
			t.Errorf("%s: mark %s, row %q", f.Name, i.Origin.Mark, r["mark"])
		}
	}
}

func TestStandardRatings_NEC_240_6(t *testing.T) {
	b, err := os.ReadFile("testdata/nec_240_6_standard_ratings.json")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		Standard []float64 `json:"nec_240_6A_standard"`
		Fuses    []float64 `json:"nec_240_6A_additional_fuses"`
	}
	if err := json.Unmarshal(b, &want); err != nil {
		t.Fatal(err)
	}
	got, _ := StandardRatings()
	has := map[float64]bool{}
	for i, v := range got {
		has[v] = true
		if i > 0 && v <= got[i-1] {
			t.Errorf("not rising at %g", v)
		}
	}
	if len(want.Standard) != 37 || len(got) != 37+4 {
		t.Errorf("%d standard ratings in the row, %d here", len(want.Standard), len(got))
	}
	for _, v := range append(want.Standard, want.Fuses[:4]...) {
		if !has[v] {
			t.Errorf("%g A missing", v)
		}
	}
}

func TestColdVoltage_NEC_690_7(t *testing.T) {
	n := 0
	for _, r := range rows(t, "nec_690_7_voltage_factor.csv", 13) {
		for _, c := range []string{"ambient_from_C", "ambient_to_C"} {
			f, o, err := ColdVoltageFactor(number(t, r[c]))
			if err != nil {
				t.Fatal(err)
			}
			near.Abs(t, "factor at "+r[c], f, number(t, r["factor"]), 0, "the same printed figure at both ends of the row")
			if (o.Mark == Seen) != (r["mark"] == "source") {
				t.Errorf("at %s: mark %s, row %q", r[c], o.Mark, r["mark"])
			}
			n++
		}
	}
	if n != 26 {
		t.Errorf("compared %d figures", n)
	}
}

func TestBatteryInterrupt_Rows(t *testing.T) {
	want := rows(t, "battery_interrupt.csv", 5)
	for i, span := range [][2]float64{{0, 650}, {651, 1100}, {1101, 2200}} {
		for _, c := range span {
			main, branch, _, ok := BatteryInterrupt(c)
			if !ok {
				t.Errorf("%g A: not in the table", c)
			}
			near.Abs(t, "main", main, number(t, want[i]["main_breaker_min_A"]), 0, "the same printed figure")
			near.Abs(t, "branch", branch, number(t, want[i]["branch_breaker_min_A"]), 0, "the same printed figure")
		}
	}
	for _, c := range []float64{-1, 2201, math.NaN(), math.Inf(1)} {
		if _, _, _, ok := BatteryInterrupt(c); ok {
			t.Errorf("%g A: taken", c)
		}
	}
}

func rating(t *testing.T, u Use) Rating {
	t.Helper()
	r, err := Ampacity(u)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

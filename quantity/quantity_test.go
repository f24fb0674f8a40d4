package quantity

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"campwright/internal/near"
	"pgregory.net/rapid"
)

// Each text as an owner may write it, with the value in the base unit worked out by hand from exact definitions.
func TestParse(t *testing.T) {
	cases := []struct {
		text string
		kind Kind
		base float64
		back string
	}{
		{"22.3 V", Voltage, 22.3, "22.3 V"},
		{"22.3V", Voltage, 22.3, "22.3 V"},
		{"13.6 volts", Voltage, 13.6, "13.6 V"},
		{"32 ft", Length, 9.7536, "32 ft"},
		{"5 ft 6 in", Length, 1.6764, "5 ft 6 in"},
		{"5'6\"", Length, 1.6764, "5 ft 6 in"},
		{"5\u2032 6\u2033", Length, 1.6764, "5 ft 6 in"},
		{"-5 ft 6 in", Length, -1.6764, "-5 ft 6 in"},
		{"3 1/2 in", Length, 0.0889, "3.5 in"},
		{"2½ in", Length, 0.0635, "2.5 in"},
		{"3/4 in", Length, 0.01905, "0.75 in"},
		{"1,400 BTU/h", Power, 410.29950, "1400 BTU/h"},
		{"1400 Btu/hr", Power, 410.29950, "1400 BTU/h"},
		{"-0.29 %/C", PerDegree, -0.0029, "-0.29 %/C"},
		{"\u22120.29\u202f%/°C", PerDegree, -0.0029, "-0.29 %/C"},
		{"0.5 % per C", PerDegree, 0.005, "0.5 %/C"},
		{"-0.065 V/C", VoltagePerDegree, -0.065, "-0.065 V/C"},
		{"-65 mV/K", VoltagePerDegree, -0.065, "-65 mV/C"},
		{"4 mA/C", CurrentPerDegree, 0.004, "4 mA/C"},
		{"340 Ah", Charge, 340, "340 Ah"},
		{"340 A h", Charge, 340, "340 Ah"},
		{"14 F", Temperature, -10, "14 F"},
		{"-40 °F", Temperature, -40, "-40 F"},
		{"20 deg C", Temperature, 20, "20 C"},
		{"20 lb", Mass, 9.0718474, "20 lb"},
		{"3 lb 4 oz", Mass, 1.4741752025, "3 lb 4 oz"},
		{"50 gal", Volume, 189.2705892, "50 gal"},
		{"1.5 kWh", Energy, 1500, "1.5 kWh"},
		{"7.2 A", Current, 7.2, "7.2 A"},
		{"75 mA", Current, 0.075, "75 mA"},
		{"3 mohm", Resistance, 0.003, "3 mohm"},
		{"3 mΩ", Resistance, 0.003, "3 mohm"},
		{"0.5 \u2126", Resistance, 0.5, "0.5 ohm"},
		{"90 %", Share, 0.9, "90 %"},
		{"20 min", Duration, 20.0 / 60, "20 min"},
		{"1 h 30 min", Duration, 1.5, "1 h 30 min"},
		{"1h30min", Duration, 1.5, "1 h 30 min"},
		{"2 d", Duration, 48, "2 d"},
		{"45 deg", Angle, 45, "45 deg"},
		{"45°", Angle, 45, "45 deg"},
		{"35 mm2", Section, 35, "35 mm2"},
		{"35 mm²", Section, 35, "35 mm2"},
		{"35 sq mm", Section, 35, "35 mm2"},
		{"250 kcmil", Section, 126.67686977, "250 kcmil"},
		{"80 BTU/(h F)", HeatLoss, 42.2022340, "80 BTU/h/F"},
		{"4 gal/day", FlowPerDay, 15.141647136, "4 gal/d"},
		{"$1,200", Money, 1200, "$1200"},
		{"1e3 W", Power, 1000, "1000 W"},
		{".5 kW", Power, 500, "0.5 kW"},
		{"7", Count, 7, "7"},
		{"1.15", Count, 1.15, "1.15"},
		{"12,000", Count, 12000, "12000"},
	}
	for _, c := range cases {
		q, err := Parse(c.text, c.kind)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		near.Abs(t, c.text, q.Base, c.base, 1e-8*math.Max(1, math.Abs(c.base)), "factors are exact or given to nine digits")
		if got := q.String(); got != c.back || q.Kind != c.kind {
			t.Errorf("%q reads as %v and is written %q, want %v and %q", c.text, q.Kind, got, c.kind, c.back)
		}
	}
}

// Each fault with the words a person needs in its message.
func TestParseRefuses(t *testing.T) {
	cases := []struct {
		text  string
		kinds []Kind
		words []string
	}{
		{"22,3 V", []Kind{Voltage}, []string{"decimal comma", "write 22.3 V"}},
		{"0,350 kg", []Kind{Mass}, []string{"decimal comma", "0.350 kg"}},
		{"1,40 W", []Kind{Power}, []string{"decimal comma"}},
		{"12 A", []Kind{Voltage}, []string{"expected a voltage such as 12.8 V", "found 12 A, which is a current"}},
		{"3 V", []Kind{Count}, []string{"a plain number", "which is a voltage"}},
		{"6 AWG", []Kind{Length}, []string{"expected a length", "which is a conductor size"}},
		{"12", []Kind{Voltage}, []string{"no unit", "V, mV or kV"}},
		{"12", []Kind{Power, Current}, []string{"no unit", "65 W", "7.2 A"}},
		{"6", []Kind{Section}, []string{"no unit", "AWG"}},
		{"6.5 AWG", []Kind{Section}, []string{"no such wire gauge"}},
		{"5/0 AWG", []Kind{Section}, []string{"no such wire gauge"}},
		{"41 AWG", []Kind{Section}, []string{"no such wire gauge"}},
		{"35 mm", []Kind{Section}, []string{"which is a length"}},
		{"5 Mohm", []Kind{Resistance}, []string{"unknown unit", "mohm"}},
		{"13 MV", []Kind{Voltage}, []string{"unknown unit"}},
		{"12 V 3 A", []Kind{Voltage}, []string{"expected a voltage", "which is a current"}},
		{"5 ft 13 in", []Kind{Length}, []string{"out of order"}},
		{"5 in 6 ft", []Kind{Length}, []string{"out of order"}},
		{"5 ft -6 in", []Kind{Length}, []string{"more than one value"}},
		{"5 ft 6", []Kind{Length}, []string{"number without a unit"}},
		{"1 d 2 h 3 min 4 s", []Kind{Duration}, []string{"more than one value"}},
		{"", []Kind{Voltage}, []string{"empty"}},
		{"V", []Kind{Voltage}, []string{"no number"}},
		{"nan V", []Kind{Voltage}, []string{"no number"}},
		{"1e999 V", []Kind{Voltage}, []string{"too large"}},
		{"1/0 in", []Kind{Length}, []string{"fraction over zero"}},
		{strings.Repeat("1", 130) + " V", []Kind{Voltage}, []string{"too long"}},
	}
	for _, c := range cases {
		q, err := Parse(c.text, c.kinds...)
		var e *Error
		if !errors.As(err, &e) || q != (Quantity{}) {
			t.Errorf("%q: got %v and %v, want an *Error and no value", c.text, q, err)
			continue
		}
		for _, w := range c.words {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%q: %q does not say %q", c.text, err, w)
			}
		}
	}
}

// Published conversion factors [NIST-811, appendix B.8, values from memory], seven digits as printed there.
func TestFactors_NIST811(t *testing.T) {
	cases := []struct {
		text   string
		kind   Kind
		want   float64
		digits int
	}{
		{"1 BTU/h", Power, 0.2930711, 7},
		{"1 hp", Power, 745.6999, 4},
		{"1 lb", Mass, 0.4535924, 7},
		{"1 oz", Mass, 0.02834952, 8},
		{"1 gal", Volume, 3.785412, 6},
		{"1 ft3", Volume, 28.31685, 5},
		{"1 psi", Pressure, 6894.757, 3},
		{"1 mi", Length, 1609.344, 3},
		{"1 mph", Speed, 0.44704, 5},
		{"1 ft2", Area, 0.09290304, 8},
		{"1000 kcmil", Section, 506.7075, 4},
		{"1 BTU/h/F", HeatLoss, 0.5275279, 7},
		{"1 MJ", Energy, 277.7778, 4},
		{"212 F", Temperature, 100, 9},
		{"9 F", TempDifference, 5, 9},
	}
	for _, c := range cases {
		q, err := Parse(c.text, c.kind)
		if err != nil {
			t.Fatal(err)
		}
		near.Printed(t, c.text, q.Base, c.want, c.digits, "NIST SP 811")
	}
}

// Two diameters define the gauge series exactly, 0.005 in at 36 and 0.46 in at 4/0; 0.1019 in at 10 AWG is from a copper wire table.
func TestGauge_ASTMB258(t *testing.T) {
	inch := func(n int) float64 { return math.Sqrt(Gauge(n)*4/math.Pi) / 25.4 }
	near.Rel(t, "36 AWG", inch(36), 0.005, 1e-12, "a defining size")
	near.Rel(t, "4/0 AWG", inch(-3), 0.46, 1e-12, "a defining size")
	near.Printed(t, "10 AWG", inch(10), 0.1019, 4, "copper wire table")
}

// The independent table of conductors: areas of 18 AWG to 4/0 to the digits printed.
func TestGauge_ReferenceTable(t *testing.T) {
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: set CAMPWRIGHT_REFERENCE to compare wire gauges with the independent table")
	}
	data, err := os.ReadFile(filepath.Join(dir, "trade", "conductors_awg.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		cell := strings.Split(line, ",")
		name := cell[0]
		if !strings.Contains(name, "/") {
			name += " AWG"
		}
		q, err := Parse(name, Section)
		if err != nil {
			t.Fatal(err)
		}
		want, err := ParseNumber(cell[4])
		if err != nil {
			t.Fatal(err)
		}
		near.Rel(t, name, q.Base, want, 2e-4, "the table prints four to five digits")
		rows++
	}
	if rows < 15 {
		t.Fatalf("compared %d gauges, want 18 AWG to 4/0", rows)
	}
}

func TestNearestGauge(t *testing.T) {
	for n := thickest; n <= thinnest; n++ {
		q, err := Parse(GaugeName(n), Section)
		if err != nil || q.Base != Gauge(n) || NearestGauge(q.Base) != n || NearestGauge(q.Base*1.05) != n || NearestGauge(q.Base/1.05) != n {
			t.Errorf("gauge %d is not found again: %v %v", n, q, err)
		}
	}
	for area, want := range map[float64]int{0: thinnest, -1: thinnest, math.NaN(): thinnest, 1e6: thickest, math.Inf(1): thickest} {
		if got := NearestGauge(area); got != want {
			t.Errorf("nearest gauge to %v mm2: got %d, want %d", area, got, want)
		}
	}
	if got := Gauge(99); got != Gauge(thinnest) {
		t.Errorf("gauge 99 gives %v, want the thinnest", got)
	}
}

// Kinds and their names in the tags go both ways, and every kind has a unit or is a plain number.
func TestKinds(t *testing.T) {
	if len(Kinds()) < 28 {
		t.Fatalf("only %d kinds", len(Kinds()))
	}
	for _, k := range Kinds() {
		if back, ok := ParseKind(k.String()); !ok || back != k {
			t.Errorf("kind %d: name %q reads back as %d", k, k, back)
		}
		if k != Count && len(Units(k)) == 0 {
			t.Errorf("kind %s has no unit", k)
		}
		if q, err := Parse(kinds[k].sample, k); err != nil || q.Kind != k {
			t.Errorf("the example for %s does not read: %v", k, err)
		}
	}
	if _, ok := ParseKind("colour"); ok {
		t.Error("an unknown name was taken for a kind")
	}
}

// Every unit under every spelling reads as its kind and nothing but ASCII is written into files.
func TestUnitsEverySpelling(t *testing.T) {
	seen := 0
	for i := range units {
		u := &units[i]
		for _, spell := range append([]string{u.name, u.symbol()}, strings.Fields(u.also)...) {
			q, err := Parse("2 "+spell, u.kind)
			if err != nil {
				t.Errorf("2 %s as %s: %v", spell, u.kind, err)
				continue
			}
			near.Rel(t, spell, q.Base, u.toBase(2), 1e-15, "the same unit")
			seen++
		}
		if strings.IndexFunc(u.name, func(r rune) bool { return r > unicode.MaxASCII }) >= 0 {
			t.Errorf("unit %q is not plain ASCII", u.name)
		}
	}
	if seen < 200 {
		t.Fatalf("only %d spellings tried", seen)
	}
}

// anyQuantity draws a value with one of the units of its kind.
func anyQuantity(t *rapid.T) Quantity {
	u := &units[rapid.IntRange(0, len(units)-1).Draw(t, "unit")]
	x := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Map(rapid.IntRange(-99999, 99999), func(n int) float64 { return float64(n) / 100 })).Draw(t, "number")
	base := u.toBase(x)
	if base == 0 {
		base = 0
	}
	return Quantity{Base: base, Kind: u.kind, Unit: u.name}
}

// What String writes, Parse reads back exactly.
func TestStringReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuantity(t)
		text := q.String()
		back, err := Parse(text, q.Kind)
		if err != nil || back.Base != q.Base {
			t.Fatalf("%+v is written %q and reads back as %+v, %v", q, text, back, err)
		}
		if again := back.String(); again != text {
			t.Fatalf("%q is written again as %q", text, again)
		}
	})
}

// What a person is shown in either system reads back as the same value within the digits shown, and so does the other system's text
// of that. Gauges are steps, so only sizes of the gauge itself are drawn.
func TestFormatRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuantity(t)
		if q.Kind == Section {
			q.Base, q.Unit = Gauge(rapid.IntRange(thickest, 18).Draw(t, "gauge")), gaugeUnit
		}
		now := q
		for _, s := range []System{US, Metric, US, AsWritten} {
			text := Format(now, s)
			back, err := Parse(text, q.Kind)
			if err != nil {
				t.Fatalf("%+v is shown %q, which does not read: %v", now, text, err)
			}
			// Three digits shown leave at most 0.5 % each time; decimals are cut at 1e-4 of the unit shown, temperatures at 0.1 degree.
			slack := 0.006 * math.Abs(now.Base)
			if us := unitsOf(back.Kind, back.Unit); len(us) > 0 {
				_, decimals := digitsOf(back.Kind)
				u := us[len(us)-1]
				slack += math.Abs(u.toBase(0.51*math.Pow(10, -float64(decimals))) - u.toBase(0))
				slack += 0.006 * math.Abs(u.shift*u.num/u.den)
				if len(us) > 1 {
					slack += math.Abs(u.toBase(0.051))
				}
			}
			if d := math.Abs(back.Base - now.Base); !(d <= slack) {
				t.Fatalf("%+v is shown %q, which reads as %v: off by %v, allowed %v", now, text, back.Base, d, slack)
			}
			now = back
		}
	})
}

func TestFormat(t *testing.T) {
	cases := []struct{ text, written, us, metric string }{
		{"6 AWG", "6 AWG", "6 AWG", "13.3 mm²"},
		{"35 mm2", "35 mm²", "about 2 AWG", "35 mm²"},
		{"64 F", "64 °F", "64 °F", "17.8 °C"},
		{"1400 BTU/h", "1,400 BTU/h", "1,400 BTU/h", "410 W"},
		{"4217 ft", "4,217 ft", "4,217 ft", "1,285 m"},
		{"-0.29 %/C", "\u22120.29 %/°C", "\u22120.29 %/°C", "\u22120.29 %/°C"},
		{"45 deg", "45°", "45°", "45°"},
		{"5 ft 6 in", "5 ft 6 in", "5 ft 6 in", "1.68 m"},
		{"12.345 V", "12.345 V", "12.35 V", "12.35 V"},
		{"$1200", "$1,200", "$1,200", "$1,200"},
	}
	for _, c := range cases {
		q, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		for s, want := range map[System]string{AsWritten: c.written, US: c.us, Metric: c.metric} {
			if got := Format(q, s); got != want {
				t.Errorf("%s in system %d: got %q, want %q", c.text, s, got, want)
			}
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		q := Quantity{Base: x, Kind: Voltage}
		if q.String() != "" || Format(q, US) != "no number" {
			t.Errorf("%v is written %q and shown %q", x, q.String(), Format(q, US))
		}
		if _, err := Of(x, Voltage, "V"); err == nil {
			t.Errorf("%v was taken for a value", x)
		}
	}
	if got := In(Quantity{Base: 410.2995, Kind: Power}, "BTU/h"); got != "1,400 BTU/h" {
		t.Errorf("410.2995 W in BTU/h: %q", got)
	}
}

// The system of a unit is that of the people who use it: SI and its kin on one side, US customary units [NIST-811] on the other.
func TestSystem(t *testing.T) {
	seen := 0
	for text, want := range map[string]System{
		"50 gal": US, "190 L": Metric, "19 F": US, "-7 C": Metric, "2 AWG": US, "35 mm2": Metric, "5 ft 6 in": US, "1.5 m": Metric, "30 lb": US, "14 kg": Metric,
		"12 V": AsWritten, "40 W": AsWritten, "20 %": AsWritten, "3": AsWritten, "1400 BTU/h": US, "3.5 gal/d": US,
	} {
		q, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.System(); got != want {
			t.Errorf("%s belongs to system %d, got %d", text, want, got)
		}
		seen++
	}
	if seen != 16 {
		t.Errorf("%d units tried", seen)
	}
}

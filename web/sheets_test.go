package web

import (
	"strings"
	"testing"
	"time"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/trip"
)

// TestLikely draws the line of five per cent: a store that ends in more than one run in twenty stands out.
func TestLikely(t *testing.T) {
	for _, c := range []struct {
		count, of int
		likely    bool
	}{{0, 200, false}, {10, 200, false}, {11, 200, true}, {200, 200, true}, {0, 1, false}, {1, 1, true}, {0, 0, false}} {
		if got := storeRow(trip.StoreEnd{Chance: trip.Chance{Count: c.count, Of: c.of}}).Likely; got != c.likely {
			t.Errorf("%d of %d: %v", c.count, c.of, got)
		}
	}
}

// TestNightCharges reads a made-up trace of hours: full at noon of the first day, 4 points less each hour, until the sun comes up at seven.
func TestNightCharges(t *testing.T) {
	tr := trip.Trace{Start: time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC), StepMin: 60, Zone: "UTC"}
	for h := range 30 { // to 18:00 of the second day
		clock := (12 + h) % 24
		sun := float32(0)
		if clock >= 7 && clock < 17 {
			sun = 100
		}
		tr.SoC, tr.SolarW = append(tr.SoC, 1-0.04*float32(h)), append(tr.SolarW, sun)
	}
	nights := nightCharges(&tr, 2)
	bedtime, dawn := nights[0].words()
	if bedtime != "60 %" || dawn != "24 %" { // 10 hours and 19 hours after noon
		t.Errorf("bedtime %q, first light %q", bedtime, dawn)
	}
	if b, d := nights[1].words(); b != "" || d != "" {
		t.Errorf("a night that the trace does not reach: %q, %q", b, d)
	}
	rows := typicalNight(append(nights, nightCharge{0.9, 0.8}, nightCharge{0.2, 0.1}))
	if len(rows) != 2 || rows[0].Text.US != "60 %" || rows[1].Text.US != "24 %" { // the middle of three
		t.Errorf("rows %+v", rows)
	}
	tr.SolarW = make([]float32, len(tr.SoC)) // a day without sun: the sixth hour stands for dawn
	if _, dawn := nightCharges(&tr, 1)[0].words(); dawn != "28 %" {
		t.Errorf("without sun %q", dawn)
	}
	if rows := typicalNight(nightCharges(&trip.Trace{}, 3)); len(rows) != 0 {
		t.Errorf("no trace: %+v", rows)
	}
}

func TestAmpHours(t *testing.T) {
	for _, c := range []struct {
		wh, volts float64
		text      string
	}{{1280, 12.8, "100 Ah"}, {64, 12.8, "5 Ah"}, {75, 12.8, "5.9 Ah"}, {1280, 0, ""}, {25600, 25.6, "1,000 Ah"}} {
		if got := ampHours(c.wh, c.volts); got != c.text {
			t.Errorf("%v Wh at %v V: %q, want %q", c.wh, c.volts, got, c.text)
		}
	}
}

func TestPlainWords(t *testing.T) {
	for text, want := range map[string]string{
		"11 % of all nights go below the floor of 20 %": "11 % of all nights go below the reserve of 20 %",
		"lowest 40 % at 07:00, floor 20 %":              "lowest 40 % at 07:00, reserve 20 %",
		`place "X" is not in the gazetteer`:             `place "X" is not in the list of places`,
		"light from reanalysis on 3 degrees":            "light from weather records on 3 degrees",
		"for each square metre of the floor, walls":     "for each square metre of the floor, walls",
	} {
		if got := plainWords(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// TestTripTellsBothUnits answers for a demo rig and holds its texts against the system they are for.
func TestTripTellsBothUnits(t *testing.T) {
	s := newTestServer(t, answerable(t))
	sheet := decoded[TripSheet](t, get(s, "/api/trip?step=60"))
	if sheet.Volts != "12.8 V" || len(sheet.Charge) != 2 || len(sheet.Notes) == 0 {
		t.Fatalf("volts %q, charge %+v, notes %+v", sheet.Volts, sheet.Charge, sheet.Notes)
	}
	differ := 0
	texts := append([]Both{}, sheet.Notes...)
	for _, r := range sheet.Stores {
		texts = append(texts, r.Why)
	}
	for _, l := range sheet.Legs {
		texts = append(texts, l.Place)
	}
	for _, x := range texts {
		if x.US != x.Metric {
			differ++
		}
		for _, unit := range []string{" km", " kg", " m/s", " °C"} {
			if strings.Contains(x.US+" ", unit+" ") {
				t.Errorf("in US units: %q", x.US)
			}
		}
		for _, unit := range []string{" mi ", " lb ", " mph ", " °F ", " gal "} {
			if strings.Contains(x.Metric+" ", unit) {
				t.Errorf("in metric units: %q", x.Metric)
			}
		}
		if strings.Contains(x.US, "the floor") {
			t.Errorf("a word of the file: %q", x.US)
		}
	}
	if differ == 0 {
		t.Error("no text differs between the systems of units")
	}
	amps := 0
	for _, part := range sheet.Ledger {
		for _, row := range part.Rows {
			switch electric := strings.HasSuffix(row.PerDay.US, "Wh"); {
			case electric != strings.HasSuffix(row.Amps, " Ah"), electric != strings.HasSuffix(row.AmpsIn, " Ah"):
				t.Errorf("amp-hours of %+v", row)
			case electric:
				amps++
			}
		}
	}
	if amps < 5 {
		t.Errorf("%d rows with amp-hours", amps)
	}
	if sheet.Dates[3].Bedtime == "" || sheet.Dates[3].Dawn == "" {
		t.Errorf("night %+v", sheet.Dates[3])
	}
}

// TestSafeSaysItsScope holds the first words of "Is it safe?" against the list of what no rule judges.
func TestSafeSaysItsScope(t *testing.T) {
	sheet := decoded[SafeSheet](t, get(newTestServer(t, exampleRig(t)), "/api/safe"))
	yours, coming := 0, 0
	for _, l := range sheet.Later {
		if l.Kind == "to come" {
			coming++
		} else {
			yours++
		}
	}
	want := scope(sheet.Rules, sheet.Later)
	if yours == 0 || sheet.Scope != want || !strings.Contains(sheet.Scope, "rules judged; "+counted(yours, "thing")) {
		t.Errorf("%q for %d rules, %d and %d others", sheet.Scope, sheet.Rules, yours, coming)
	}
	one := scope(54, []check.LaterRule{{Kind: "question"}, {Kind: "to come"}})
	if one != "54 rules judged; 1 thing only a look, an answer or a meter can tell; 1 mistake of the trade no rule judges yet" {
		t.Errorf("%q", one)
	}
	if none := scope(54, nil); none != "54 rules judged" {
		t.Errorf("%q", none)
	}
}

// TestSafeTellsBothUnits looks for figures of the other system in every text that the sheet has in two.
func TestSafeTellsBothUnits(t *testing.T) {
	sheet := decoded[SafeSheet](t, get(newTestServer(t, exampleRig(t)), "/api/safe"))
	looked, differ := 0, 0
	look := func(texts ...Both) {
		for _, x := range texts {
			looked++
			if x.US != x.Metric {
				differ++
			}
			if m := figureInText.FindString(x.US); m != "" && strings.ContainsAny(m, "CK") {
				t.Errorf("in US units: %q", x.US)
			}
		}
	}
	of := func(list []Finding) {
		for _, f := range list {
			look(f.Consequence, f.Sure, f.What, f.Except)
			for _, c := range f.Cases {
				look(c.Detail)
			}
		}
	}
	of(sheet.Passes)
	for _, g := range sheet.Groups {
		for _, p := range g.Places {
			of(p.Findings)
		}
	}
	for _, p := range sheet.Places {
		look(p.Basis)
	}
	if looked < 50 || differ < 3 {
		t.Errorf("%d texts looked at, %d of them differ", looked, differ)
	}
}

// TestSafeCaseOfMovingLimit: 102 A against a limit that a guess puts between 100 and 200 A is told with both ends, the bad one first.
func TestSafeCaseOfMovingLimit(t *testing.T) {
	j := check.Inequality{
		Formula: "I = a ≤ b", Name: "current", Kind: quantity.Current, Source: "by hand",
		Inputs: []figure.Term{check.Number("a", "draw", quantity.Current, 102, ""), check.Between("b", "limit", quantity.Current, 150, 100, 200, "")},
	}.Judge()
	o := j.Outcome("bank", "bank", check.Fail)
	o.Working = check.Show(o.Numbers, quantity.Metric)
	if c := safeCase(&o); c.Result.US != "102 A" || c.Worst.US != "100 A" || c.AtBest.US != "200 A" {
		t.Errorf("%+v", c)
	}
}

// TestInBoth turns figures of a text into the other system of units: 0 °C is 32 °F and 5 K are 9 °F by definition, 1 lb is 0.45359237 kg.
func TestInBoth(t *testing.T) {
	for _, c := range []struct{ text, us, metric string }{
		{"it charges to 14.4 V at 5 °C.", "it charges to 14.4 V at 41 °F.", "it charges to 14.4 V at 5 °C."},
		{"held at −20 °C because, less 5 K", "held at −4 °F because, less 9 °F", "held at −20 °C because, less 5 K"},
		{"a tenth at 10,000 ft", "a tenth at 10,000 ft", "a tenth at 3,048 m"},
		{"100 lb of it", "100 lb of it", "45.4 kg of it"},
		{"−0.29 %/°C of 24 V, 5 kg/m2 and 3 Kelvin", "−0.29 %/°C of 24 V, 5 kg/m2 and 3 Kelvin", "−0.29 %/°C of 24 V, 5 kg/m2 and 3 Kelvin"},
		{"", "", ""},
	} {
		got := inBoth(c.text)
		if got.US != c.us || got.Metric != c.metric {
			t.Errorf("%q: %+v", c.text, got)
		}
	}
}

// TestCurvePoor: the line of the poor run has the buckets of the typical run's, each with the lowest charge in it; an answer without one has no
// such line.
func TestCurvePoor(t *testing.T) {
	tr := trip.Trace{Start: time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC), StepMin: 1, Zone: "UTC"}
	poor := tr
	for i := range 1600 { // two minutes a bucket, by the points that a screen has room for
		tr.SoC, poor.SoC = append(tr.SoC, 0.9), append(poor.SoC, 0.8-0.0001*float32(i))
	}
	a := trip.Answer{Trace: tr, Poor: &trip.Poor{Sentence: "it is poor", Trace: poor}}
	c := curve(&a, 0, 2)
	if len(c.Poor) != len(c.Low) || len(c.PoorCharge) != len(c.Low) || len(c.Poor) != 800 || c.Poor[0] != 80 || c.Poor[799] != 64 || c.PoorCharge[799] != "64 %" {
		t.Errorf("%d points beside %d: %v ... %v", len(c.Poor), len(c.Low), c.Poor[:3], c.PoorCharge[len(c.PoorCharge)-3:])
	}
	var sheet TripSheet
	a.Stores = []trip.StoreEnd{}
	sheet.fill(&a, 12)
	if sheet.Poor != "it is poor" {
		t.Errorf("the sheet says %q", sheet.Poor)
	}
	a.Poor = nil
	if c := curve(&a, 0, 2); c.Poor == nil || len(c.Poor) != 0 || c.PoorCharge == nil || len(c.PoorCharge) != 0 {
		t.Errorf("a poor line out of nothing: %v", c.Poor)
	}
}

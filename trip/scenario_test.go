package trip_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/climate"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/system"
	"campwright/trip"

	_ "time/tzdata" // zones of places, as the program itself carries them
)

// The scenarios are stays worked out by hand, with the hand's own sun and weather, before this program was written. Each is an owner's rig
// file in testdata/scenarios; the decisions to compare are edits of it. A scenario holds when the store that ends the stay, the order of the
// decisions and the verdict are those of the hand, and every number is within a quarter of it, or stands in a band of its own with the cause
// of the difference beside it.
//
//	go test ./trip -run Scenarios -v                                     prints hand, answer, range and cause
//	go test ./trip -run Scenarios -args -scenarios ../doc/scenarios.md   writes them to the page
//
// Source of the hand estimates: worked by hand from stated sun hours and common practice, no source.
var scenarioPage = flag.String("scenarios", "", "file to write the scenarios' tables to")

func TestScenarios(t *testing.T) {
	if testing.Short() {
		t.Skip("SCENARIOS SKIPPED: hundreds of runs are too much for a short test")
	}
	var all bytes.Buffer
	all.WriteString(pageHead)
	for _, s := range []struct {
		name string
		play func(*page)
	}{
		{"S1", desertWinter}, {"S2", forestShade}, {"S3", northernOctober}, {"S6", drivewayStorage}, {"S8", smallVan}, {"S10", breathingMachine},
		{"S11", leadToLithium},
	} {
		t.Run(s.name, func(t *testing.T) {
			p := &page{t: t, name: s.name}
			s.play(p)
			if len(p.rows) == 0 {
				t.Fatal("the scenario compared nothing")
			}
			t.Log("\n" + p.text())
			all.WriteString(p.text())
		})
	}
	if *scenarioPage != "" && !t.Failed() {
		if err := os.WriteFile(*scenarioPage, all.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

const pageHead = `# Scenarios worked by hand

What the program answers for stays that were worked out by hand before it was written. This page is made by a command, and every
number of ours is computed by that command:

    go test ./trip -run Scenarios -args -scenarios ../doc/scenarios.md

"Hand" is the estimate: one mean day of stated sun, one mean day of loads, no weather. "Ours" is the median over the runs, with the ends of the
middle 90 % of runs behind it. Unless a row says otherwise the climate's mean sun is replaced by the sun the scenario states, month by month;
the days around that mean are the climate's own. A difference of more than a quarter has its cause beside it. The rigs are the files in
trip/testdata/scenarios.

One difference is common to all rows in days: the hand lets the bank sink evenly from full, while a night takes it down at once. A stay begins at
noon with the bank full, so its first afternoon's sun is thrown away, and the floor is met at the end of a night.

Another runs through all harvests: the hand takes watts by sun hours by a flat-roof factor, 0.77 to 0.78 in cold, 0.72 to 0.76 in mild and 0.66 to
0.70 in hot weather. Ours comes out of the modules' curves, cell temperatures and losses; what it comes to stands in the rows named so.
`

// page collects what one scenario compares.
type page struct {
	t     *testing.T
	name  string
	title string
	about string
	rows  []string
	finds []string
}

func (p *page) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n## %s %s\n\n%s\n\n| | hand | ours | middle 90 %% of runs | why it differs |\n|---|---|---|---|---|\n", p.name, p.title, p.about)
	for _, r := range p.rows {
		b.WriteString(r + "\n")
	}
	b.WriteString("\nFound, as by hand:\n\n")
	for _, f := range p.finds {
		fmt.Fprintf(&b, "- %s\n", f)
	}
	return b.String()
}

// found demands that something the hand found is found here too.
func (p *page) found(holds bool, what string) {
	p.t.Helper()
	p.finds = append(p.finds, what)
	if !holds {
		p.t.Errorf("not found: %s", what)
	}
}

// span is an answer with the range it comes with, if any.
type span struct{ mid, low, high float64 }

func plain(v float64) span { return span{v, math.NaN(), math.NaN()} }

// row holds an answer against the hand's within a quarter; a note may stand beside it.
func (p *page) row(what string, hand float64, unit string, got span, note ...string) {
	p.t.Helper()
	near.Rel(p.t, what, got.mid, hand, 0.25, "a hand estimate with means for weather and loads")
	p.put(what, hand, unit, got, strings.Join(note, "; "))
}

// rowWhy holds an answer that differs from the hand's by more than a quarter within a band of its own, with the cause.
func (p *page) rowWhy(what string, hand float64, unit string, got span, low, high float64, cause string) {
	p.t.Helper()
	near.Within(p.t, what, got.mid, low, high, cause)
	p.put(what, hand, unit, got, cause)
}

func (p *page) put(what string, hand float64, unit string, got span, cause string) {
	between := "-"
	if !math.IsNaN(got.low) {
		between = number(got.low) + " to " + number(got.high) + " " + unit
	}
	with := func(v float64) string { return strings.TrimSpace(number(v) + " " + unit) }
	p.rows = append(p.rows, fmt.Sprintf("| %s | %s | %s | %s | %s |", what, with(hand), with(got.mid), between, cause))
}

func number(v float64) string {
	switch {
	case math.IsInf(v, 1):
		return "over the stay,"
	case math.Abs(v) >= 9.95:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	}
	return strings.TrimSuffix(strings.TrimSuffix(fmt.Sprintf("%.2f", v), "0"), ".0")
}

// rising demands that each value is above the one before it by some margin.
func (p *page) rising(what string, margin float64, values ...float64) {
	p.t.Helper()
	for i := 1; i < len(values); i++ {
		if !(values[i] > values[i-1]*(1+margin)) {
			p.t.Errorf("%s: %v does not rise at number %d", what, values, i+1)
		}
	}
	p.finds = append(p.finds, what)
}

// scene is a rig of a scenario with what the scenario says of its weather. Its methods return changed copies.
type scene struct {
	t       testing.TB
	text    []byte
	sun     *[12]float64 // stated light on the level [kWh/m²/day]; nil: the climate's own
	share   float64      // of that light, for a storm
	warmer  float64      // shift of the air's temperature [K]
	parked  bool
	members int
	stepMin int
	seed    uint64
}

// Stated sun on the level [kWh/m²/day]: the scenarios' own tables.
var (
	lowDesert   = [12]float64{3.25, 4.3, 5.5, 7.1, 8.0, 8.3, 7.6, 7.1, 6.1, 4.9, 3.6, 3.0}
	temperate45 = [12]float64{1.5, 2.5, 3.8, 5.1, 5.9, 6.4, 6.2, 5.3, 4.0, 2.6, 1.6, 1.3}
	northern47  = [12]float64{1.2, 2.1, 3.3, 4.5, 5.5, 6.0, 6.1, 5.2, 3.8, 2.3, 1.25, 0.95}
)

func openScene(t testing.TB, file string) scene {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "scenarios", file))
	if err != nil {
		t.Fatal(err)
	}
	return scene{t: t, text: text, share: 1, members: 60, stepMin: 15}
}

// with returns the scene with something in the rig or the stay changed: path, old text, new text.
func (s scene) with(edits ...rig.Edit) scene {
	s.t.Helper()
	text, err := rig.Apply(s.text, edits)
	if err != nil {
		s.t.Fatal(err)
	}
	s.text = text
	return s
}

func (s scene) under(sun *[12]float64) scene { s.sun = sun; return s }
func (s scene) storm(share float64) scene    { s.share = share; return s }

// doc returns the completed document.
func (s scene) doc() rig.Rig {
	s.t.Helper()
	doc, faults := rig.Decode(bytes.NewReader(s.text))
	if len(faults) > 0 {
		s.t.Fatalf("%v in\n%s", faults, s.text)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		s.t.Fatal(gaps)
	}
	return full
}

// climate is the place's climate with the stated sun for its mean. The mean is stated, so that it is not in doubt.
func (s scene) climate(latitude, longitude float64, elevation *float64) (climate.Climate, error) {
	c, err := climate.At(latitude, longitude, elevation)
	if err != nil {
		return c, err
	}
	for m := range 12 {
		by := s.share
		if s.sun != nil {
			by *= s.sun[m] / c.Horizontal[m]
		}
		c.Clearness[m] *= by
		c.Horizontal[m] *= by
		c.Temperature[m] += s.warmer
	}
	if s.sun != nil {
		c.LightSpread, c.MonthSpread = 0, 0
	}
	return c, nil
}

// ask answers for the stay.
func (s scene) ask() trip.Answer {
	s.t.Helper()
	full := s.doc()
	a, err := s.forecast(full).Answer(context.Background(), &full, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return a
}

// advice tells what could be done about it.
func (s scene) advice() trip.Advice {
	s.t.Helper()
	full := s.doc()
	a, err := s.forecast(full).Advise(context.Background(), &full)
	if err != nil {
		s.t.Fatal(err)
	}
	return a
}

// makeUp returns the hours a day of one source that keep the aim.
func makeUp(t testing.TB, a trip.Advice, source string) float64 {
	t.Helper()
	for _, m := range a.MakeUp {
		if m.Source == source {
			if !m.Enough {
				t.Errorf("no running time of %s is enough: %s", source, m.Words)
			}
			return m.HoursD
		}
	}
	t.Fatalf("no running time of %s among %v", source, a.MakeUp)
	return 0
}

func (s scene) forecast(full rig.Rig) *trip.Forecast {
	s.t.Helper()
	plan, err := trip.NewPlan(full, trip.Locate)
	if err != nil {
		s.t.Fatal(err)
	}
	plan.Parked = s.parked
	f, err := trip.NewForecast(plan, trip.Options{Members: s.members, StepMin: s.stepMin, Seed: s.seed, Climate: s.climate})
	if err != nil {
		s.t.Fatal(err)
	}
	return f
}

// lasts returns how many days a store lasts: +Inf where it outlasts the stay by more than can be told.
func lasts(t testing.TB, a trip.Answer, store string) span {
	t.Helper()
	for _, e := range a.Stores {
		if e.Store != store {
			continue
		}
		s := span{e.Lasts.Value / 24, e.Lasts.Low / 24, e.Lasts.High / 24}
		if e.AtLeast {
			s = span{math.Inf(1), s.low, math.Inf(1)}
		}
		return s
	}
	t.Fatalf("no store %q in the answer", store)
	return span{}
}

// mean is an ordinary day of the typical run: what the arrays could give and what was asked for [kWh], and the sun on the level [kWh/m²].
type mean struct{ harvest, thrown, asked, sun, lowC float64 }

func meanDay(a trip.Answer) mean {
	var m mean
	n := float64(len(a.Days))
	for _, d := range a.Days {
		m.harvest += (d.InWh + d.ThrownWh) / 1000 / n
		m.thrown += d.ThrownWh / 1000 / n
		m.asked += (d.OutWh + d.LostWh) / 1000 / n
		m.sun += d.SunKWhM2 / n
		m.lowC += d.AirLowC / n
	}
	return m
}

// atSun returns the harvest of a day of so much sun on the level: flat modules give in proportion to it.
func (m mean) atSun(hours float64) float64 { return m.harvest / m.sun * hours }

// factor returns the flat-roof factor: the harvest over watts times sun hours.
func (m mean) factor(watts float64) span { return plain(m.harvest / (watts / 1000 * m.sun)) }

// entry returns one line of a ledger [kWh a day], zero when it is not there.
func entry(list []trip.Entry, name string) float64 {
	for _, e := range list {
		if e.Name == name {
			return e.PerDay / 1000
		}
	}
	return 0
}

// least returns the smallest x between low and high for which the stay holds, to a hundredth of the span.
func least(t testing.TB, low, high float64, holds func(x float64) bool) float64 {
	t.Helper()
	if holds(low) || !holds(high) {
		t.Fatalf("what is looked for does not lie between %v and %v", low, high)
	}
	for span := high - low; high-low > span/100; {
		if mid := (low + high) / 2; holds(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

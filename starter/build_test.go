package starter_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
	"campwright/starter"
	"campwright/system"
	"campwright/trip"
)

// today is the day on which the tests' answers are given.
func today(t testing.TB) rig.Date {
	t.Helper()
	d, err := rig.ParseDate("2026-11-20")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func build(t testing.TB, a starter.Answers) starter.Start {
	t.Helper()
	a.Today = today(t)
	s, err := starter.Build(a)
	if err != nil {
		t.Fatalf("%+v: %v", a, err)
	}
	return s
}

// Whatever is answered, the file reads without fault, nothing that cannot be guessed is missing, and the trip has a plan.
func TestBuild_EveryAnswer(t *testing.T) {
	kind, _ := rig.FieldOf("kind")
	camps := []string{"Quartzsite, AZ", "Halifax, CA", "Hobart, AU", "Tromso, NO", "33.5 N 114.2 W", "45.2 S 168.9 E"}
	built := 0
	for i, k := range kind.Words {
		for j, refrigerator := range starter.Refrigerators {
			for l, heat := range starter.Heats {
				a := starter.Answers{Kind: k, Refrigerator: refrigerator, Heat: heat, People: 1 + i, Place: camps[(i+j+l)%len(camps)],
					When: []string{"July", "2027-01-15"}[l%2], Nights: 1 + 9*j, Wishes: [][]string{{}, {"microwave", "3 laptops", "cpap"}, {"a/c", "lights", "hot water"}}[(i+l)%3]}
				s := build(t, a)
				built++
				full, gaps := system.Complete(s.Rig)
				if len(gaps) > 0 {
					t.Errorf("%+v: %v", a, gaps)
				}
				if _, err := trip.NewPlan(full, trip.Locate); err != nil {
					t.Errorf("%+v: %v", a, err)
				}
				if s.Rig.Kind != k || s.Sums.UseWh <= 0 || s.Sums.BankWh <= 0 || s.Sums.ArrayW < 200 {
					t.Errorf("%+v: %q, sums %+v", a, s.Rig.Kind, s.Sums)
				}
				burns := false
				for _, p := range full.Appliances {
					burns = burns || p.Runs == "propane"
				}
				if burns != s.Rig.Stores.Propane.Each.Given() || burns != (refrigerator == "propane" || heat == "propane" || strings.Contains(fmt.Sprint(a.Wishes), "hot water")) {
					t.Errorf("%+v: burns propane %v, carries %q", a, burns, s.Rig.Stores.Propane.Text())
				}
			}
		}
	}
	if built != len(kind.Words)*len(starter.Refrigerators)*len(starter.Heats) {
		t.Fatalf("built %d", built)
	}
}

// Of a file without a single answer every value is remarked as taken, on its line or on the line that opens its group.
func TestBuild_DefaultsAreVisible(t *testing.T) {
	for _, kind := range []string{"", "van"} {
		text := string(build(t, starter.Answers{Kind: kind}).Text)
		type open struct {
			indent int
			taken  bool
		}
		var groups []open
		checked := 0
		for _, line := range strings.Split(text, "\n") {
			body, _, _ := strings.Cut(line, "#")
			if strings.TrimSpace(body) == "" || strings.HasPrefix(line, "campwright:") {
				continue
			}
			indent := len(body) - len(strings.TrimLeft(body, " "))
			for len(groups) > 0 && groups[len(groups)-1].indent >= indent {
				groups = groups[:len(groups)-1]
			}
			taken := strings.Contains(line, "taken")
			for _, g := range groups {
				taken = taken || g.taken
			}
			if strings.HasSuffix(strings.TrimSpace(body), ":") || strings.HasPrefix(strings.TrimSpace(body), "- ") {
				groups = append(groups, open{indent, taken})
			}
			if strings.HasSuffix(strings.TrimSpace(body), ":") {
				continue
			}
			checked++
			// An unknown takes nothing: it stands as a question.
			asked := strings.TrimSpace(body) == "hookup: none" || strings.HasSuffix(strings.TrimSpace(body), ": unknown") || kind != "" && strings.HasPrefix(line, "kind:")
			if !taken && !asked {
				t.Errorf("not remarked as taken: %s", line)
			}
		}
		if checked < 90 {
			t.Fatalf("looked at %d lines", checked)
		}
	}
}

// A second way: the trip, with its curves, weather and dispatch, uses and harvests about what the sums say.
func TestBuild_AgainstTheTrip(t *testing.T) {
	seen := 0
	for _, a := range []starter.Answers{
		{},
		{Kind: "van", Place: "Moab, UT", When: "May", Refrigerator: "electric", People: 1, Nights: 10, Wishes: []string{"laptop", "microwave"}},
		{Kind: "fifth wheel", Place: "Bend, OR", When: "September", Refrigerator: "household", Nights: 20},
		{Kind: "motorhome", Place: "Halifax, CA", When: "July", Refrigerator: "electric", Heat: "diesel", Nights: 14},
	} {
		s := build(t, a)
		full, _ := system.Complete(s.Rig)
		plan, err := trip.NewPlan(full, trip.Locate)
		if err != nil {
			t.Fatal(err)
		}
		forecast, err := trip.NewForecast(plan, trip.Options{Members: 24, Seed: 1, StepMin: 30})
		if err != nil {
			t.Fatal(err)
		}
		answer, err := forecast.Answer(t.Context(), &full, nil)
		if err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("%s at %s", s.Rig.Kind, s.Rig.Trip[0].Place.Text())
		sum := func(entries []trip.Entry, but ...string) float64 {
			total := 0.0
			for _, e := range entries {
				if !slices.Contains(but, e.Name) {
					total += e.PerDay
				}
			}
			return total
		}
		l := answer.Ledger
		uses := sum(l.Uses, "the battery") + sum(l.Unmet)
		for _, e := range l.Losses {
			if e.Name == "inverter" || strings.HasSuffix(e.Name, "own use") {
				uses += e.PerDay
			}
		}
		sun, thrown := sum(l.Sources, "battery"), sum(l.Thrown)
		near.Rel(t, name+": use", s.Sums.UseWh, uses, 0.15, "the month's mean against the nights of one run, inverter at its peak")
		near.Rel(t, name+": sun", s.Sums.HarvestWh, sun+thrown, 0.20, "one factor for a whole array, days of the typical run")
		seen++
	}
	if seen != 4 {
		t.Fatal("did not look")
	}
}

// More asked is never answered with less.
func TestBuild_Monotone(t *testing.T) {
	bank, array, use := 0.0, 0.0, 0.0
	for _, wishes := range [][]string{{}, {"laptop"}, {"2 laptops", "internet"}, {"2 laptops", "internet", "microwave"}, {"2 laptops", "internet", "microwave", "oxygen concentrator"}} {
		s := build(t, starter.Answers{Kind: "fifth wheel", Wishes: wishes})
		if s.Sums.UseWh <= use || s.Sums.BankWh < bank || s.Sums.ArrayW < array {
			t.Errorf("%q: %+v after use %g, bank %g, array %g", wishes, s.Sums, use, bank, array)
		}
		use, bank, array = s.Sums.UseWh, s.Sums.BankWh, s.Sums.ArrayW
	}
	bank, array = 0, 0
	for _, nights := range []int{1, 2, 3, 7, 21, 60} {
		s := build(t, starter.Answers{Nights: nights, When: "2027-01-02", Place: "Denver, CO"})
		if s.Sums.BankWh < bank || s.Sums.ArrayW < array {
			t.Errorf("%d nights: %+v after bank %g, array %g", nights, s.Sums, bank, array)
		}
		bank, array = s.Sums.BankWh, s.Sums.ArrayW
	}
	dark := build(t, starter.Answers{Place: "Seattle, WA", When: "December"})
	bright := build(t, starter.Answers{Place: "Seattle, WA", When: "June"})
	if dark.Sums.ArrayW < bright.Sums.ArrayW || dark.Sums.SunKWhM2 >= bright.Sums.SunKWhM2 || len(dark.Remarks) == 0 {
		t.Errorf("December %+v, June %+v", dark.Sums, bright.Sums)
	}
}

// What is asked for shows in the file.
func TestBuild_Answers(t *testing.T) {
	s := build(t, starter.Answers{Name: "Larkspur: two", Kind: "Travel-Trailer", People: 3, Place: "moab ut", When: "May", Nights: 6,
		Refrigerator: "electric", Heat: "electric", Wishes: []string{"2 laptops", "cpap", "TV", "laptop"}})
	r := s.Rig
	if r.Name != "Larkspur: two" || r.Kind != "travel trailer" || r.People.Quantity.Base != 3 || r.Trip[0].From.Text() != "2027-05-01" || r.Trip[0].Nights.Quantity.Base != 6 {
		t.Errorf("%s %s %v %v", r.Name, r.Kind, r.People, r.Trip)
	}
	by := map[string]rig.Appliance{}
	for _, a := range r.Appliances {
		by[a.Name] = a
	}
	if by["laptops"].Count.Quantity.Base != 3 || by["refrigerator"].Kind != "compressor refrigerator" || by["space heater"].Runs != "off" || by["TV"].Runs != "ac" {
		t.Errorf("appliances %+v", by)
	}
	if len(r.Aims.NeverLose) != 1 || r.Aims.NeverLose[0] != "cpap" || r.Stores.Propane.Each.Given() || r.Book != "us-rv" {
		t.Errorf("aims %+v, stores %+v", r.Aims, r.Stores)
	}
	if len(s.Remarks) < 2 {
		t.Errorf("remarks %q", s.Remarks)
	}
	south := build(t, starter.Answers{Place: "Hobart, AU", When: "July"})
	if south.Rig.Book != "au-nz" || south.Rig.Shore.Inlet != "16 A 230 V" || !strings.Contains(string(south.Text), "kg") || strings.Contains(string(south.Text), " gal") {
		t.Errorf("in the south: book %s, inlet %s", south.Rig.Book, south.Rig.Shore.Inlet)
	}
}

// Every answer that cannot be used is told at once, and what is just inside its limit is taken.
func TestBuild_Faults(t *testing.T) {
	_, err := starter.Build(starter.Answers{Name: "a\nb", Kind: "boat", People: 21, Place: "Quartzzite, AZ", When: "Smarch", Nights: 366, Refrigerator: "ice",
		Heat: "wood", Wishes: []string{"microwvae", "furnace", "21 laptops", ""}, Today: today(t)})
	var faults starter.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("error %v", err)
	}
	var keys []string
	for _, f := range faults {
		keys = append(keys, f.Question)
		if f.Problem == "" || f.Problem != strings.TrimSpace(f.Problem) {
			t.Errorf("fault %+v", f)
		}
	}
	if got := strings.Join(keys, " "); got != "kind people place when nights refrigerator heat wishes wishes wishes wishes name" {
		t.Errorf("faults of %s\n%v", got, err)
	}
	for _, want := range []string{"did you mean Quartzsite", "did you mean microwave", "answer refrigerator and heat", "say January"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no %q in\n%v", want, err)
		}
	}
	build(t, starter.Answers{People: 20, Nights: 365, Wishes: []string{"20 laptops"}})
	build(t, starter.Answers{People: 1, Nights: 1, Name: strings.Repeat("x", 80)})
	for _, a := range []starter.Answers{
		{Name: strings.Repeat("x", 81)}, {People: -1}, {Nights: -3}, {Place: "0 N 140 W"}, {Place: "80 N 20 E"}, {Place: "unknown"}, {When: "Dec 26"}, {When: "2027-02-30"},
		{Wishes: make([]string, 31)}, {Wishes: []string{strings.Repeat("microwave ", 9)}}, {Kind: "truck trailer"}, {Kind: "a"},
	} {
		a.Today = today(t)
		if s, err := starter.Build(a); err == nil || len(s.Text) > 0 {
			t.Errorf("%+v is taken", a)
		}
	}
	if _, err := starter.Build(starter.Answers{When: "May"}); err == nil {
		t.Error("a month is taken without today")
	}
}

// A month is the next one: this month from today, a passed one next year.
func TestBuild_When(t *testing.T) {
	for said, want := range map[string]string{"November": "2026-11-20", "dec": "2026-12-01", "Jan": "2027-01-01", "october": "2027-10-01", "May 2028": "2028-05-01", "2027-06-30": "2027-06-30"} {
		s := build(t, starter.Answers{When: said})
		if got := s.Rig.Trip[0].From.Text(); got != want {
			t.Errorf("%s is %s, want %s", said, got, want)
		}
	}
}

// Set takes an answer as text, one question at a time, and says what is wrong with it.
func TestAnswers_Set(t *testing.T) {
	a := starter.Answers{Today: today(t)}
	for _, q := range starter.Questions() {
		if err := a.Set(q.Key, q.Usual); err != nil {
			t.Errorf("%s: the usual answer %q: %v", q.Key, q.Usual, err)
		}
		if q.Key != "wishes" && q.Key != "place" {
			if err := a.Set(q.Key, "zzz"); err == nil {
				t.Errorf("%s: takes zzz", q.Key)
			}
			if err := a.Set(q.Key, q.Usual); err != nil {
				t.Error(err)
			}
		}
	}
	u := starter.Usual()
	if a.Kind != u.Kind || a.People != u.People || a.Nights != u.Nights || len(a.Wishes) != 3 || a.Heat != u.Heat {
		t.Errorf("%+v", a)
	}
	if err := a.Set("wishes", "none"); err != nil || a.Wishes == nil || len(a.Wishes) != 0 {
		t.Errorf("none wished for: %v, %v", a.Wishes, err)
	}
	if err := a.Set("wishes", ""); err != nil || a.Wishes != nil {
		t.Errorf("not answered: %v, %v", a.Wishes, err)
	}
	if err := a.Set("colour", "red"); err == nil {
		t.Error("a question of no such key")
	}
	if err := a.Set("people", ""); err != nil || a.People != 0 {
		t.Errorf("people taken away: %d, %v", a.People, err)
	}
	seen := map[int]bool{}
	for _, q := range starter.Questions() {
		seen[q.Number] = true
	}
	if len(seen) != 6 {
		t.Errorf("%d questions", len(seen))
	}
}

// Numbers are understood as people write them, and what is none is told with its limits. (Plain English, no source.)
func TestSetNumbers(t *testing.T) {
	for text, want := range map[string]int{
		"2": 2, "two": 2, "Two": 2, "a couple": 2, "just me": 1, "3 people": 3, "two of us": 2, "a couple of nights": 2, "10 nights": 10, "two weeks": 14, "a month": 30, "a week": 7, "about 12": 12, "": 0,
	} {
		a := starter.Answers{}
		if err := a.Set("nights", text); err != nil || a.Nights != want {
			t.Errorf("%q: %d nights, %v; wanted %d", text, a.Nights, err, want)
		}
	}
	if a := (starter.Answers{}); a.Set("people", "two weeks") == nil {
		t.Error("two weeks are people")
	}
	a := starter.Answers{}
	if err := a.Set("wishes", "two laptops, a microwave"); err != nil {
		t.Error(err)
	}
	for _, text := range []string{"many", "two and a half", "0", "-1", "900", "99999999999 weeks", "2 laptops"} {
		a := starter.Answers{}
		if err := a.Set("nights", text); err == nil || a.Nights != 0 {
			t.Errorf("%q was taken as %d nights", text, a.Nights)
		}
	}
}

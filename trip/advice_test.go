package trip

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// asked is a rig file with its answer, the advice, and the forecast behind them.
type asked struct {
	t        *testing.T
	file     string
	forecast *Forecast
	doc      rig.Rig
	Answer
	advice Advice
}

// ask answers for a rig file and tries what could be done, in so many runs at quarters of an hour.
func ask(t *testing.T, file string, members int, edits ...rig.Edit) asked {
	t.Helper()
	a := answered(t, file, members, edits...)
	var err error
	if a.advice, err = a.forecast.Advise(context.Background(), &a.doc); err != nil {
		t.Fatal(err)
	}
	return a
}

// answered answers for a rig file with some edits.
func answered(t *testing.T, file string, members int, edits ...rig.Edit) asked {
	t.Helper()
	changed, err := rig.Apply([]byte(file), edits)
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := rig.Decode(strings.NewReader(string(changed)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	plan, err := NewPlan(full, Locate)
	if err != nil {
		t.Fatal(err)
	}
	f, err := NewForecast(plan, Options{Members: members, StepMin: 15})
	if err != nil {
		t.Fatal(err)
	}
	answer, err := f.Answer(context.Background(), &full, nil)
	if err != nil {
		t.Fatal(err)
	}
	return asked{t: t, file: string(changed), forecast: f, doc: full, Answer: answer}
}

// store returns how long a store lasts.
func (a asked) store(name string) StoreEnd {
	a.t.Helper()
	for _, s := range a.Stores {
		if s.Store == name {
			return s
		}
	}
	a.t.Fatalf("no store %q", name)
	return StoreEnd{}
}

// way returns the way of a store that begins with some words.
func (a asked) way(store, words string) Way {
	a.t.Helper()
	for _, w := range a.advice.Ways {
		if w.Store == store && strings.HasPrefix(w.Words, words) {
			return w
		}
	}
	a.t.Fatalf("no way of %s that begins with %q among %+v", store, words, a.advice.Ways)
	return Way{}
}

// thirsty is a rig with power to spare whose water ends its fortnight.
const thirsty = `campwright: 1
name: thirsty
kind: van
book: us-rv
people: 2
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 400 Ah}}
appliances: [{name: fan, power: 10 W}]
stores: {fresh water: 50 gal, grey: 60 gal, black: 40 gal, water per person: 4 gal/d, grey share: 80 %, black per person: 0.5 gal/d}
trip: [{place: 33.6 N 114.2 W, from: 2027-04-01, nights: 14}]
`

// Water, by hand: 50 gal over two people and fourteen nights are 1.786 gal a day each, and half as much more of it is gone after
// 50 / 8 = 6.25 days; 60 gal of grey at 80 % last 9.4 days and ask for 2.68 gal a day.
func TestAdvise_LessWater(t *testing.T) {
	a := ask(t, thirsty, 20)
	if a.advice.Ends != "fresh water" || a.Stores[0].Store != "fresh water" {
		t.Fatalf("%q ends the stay; the answer says %q", a.advice.Ends, a.Stores[0].Store)
	}
	less := a.way("fresh water", "use at most")
	if got := less.wordsIn.in(quantity.US); got != "use at most 1.7 gal/d a person, in place of 4 gal/d" {
		t.Errorf("by hand 1.7 gal a day: %s", got)
	}
	near.Abs(t, "water saved a day", less.Saves.Value/litresPerGallon, 2*(4-1.7), 1e-9, "by hand, gallons")
	near.Abs(t, "days it then lasts", less.Lasts.Value/24, 50/(2*1.7), 1e-6, "by hand")
	grey := a.way("grey tank", "use at most")
	if got := grey.wordsIn.in(quantity.US); got != "use at most 2.6 gal/d a person, in place of 4 gal/d" {
		t.Errorf("by hand 2.6 gal a day: %s", got)
	}
	if !strings.Contains(grey.Next, "fresh water would still end the stay first") {
		t.Errorf("2.6 gal a day empty the fresh tank after 9.6 days: %s", grey.Next)
	}
	then := answered(t, a.file, 20, less.Edits...)
	if e := then.store("fresh water"); e.Chance.Count > 0 {
		t.Errorf("with the edits made fresh water still ends in %s", e.Chance.Text)
	}
	for _, w := range a.advice.Ways {
		if w.Store == "battery" {
			t.Errorf("the battery lasts, and yet: %s", w.Words)
		}
	}
	if len(a.advice.Switches) > 0 {
		t.Errorf("the battery lasts, and yet: %v", a.advice.Switches)
	}
}

// A haul, by hand: 6.25 days of water are hauled after 6 days and every 6 days; the grey tank, 9.4 days, does not hold until the second haul and
// goes along. With the edits made the answer is the one that was promised.
func TestAdvise_Haul(t *testing.T) {
	a := ask(t, thirsty, 20)
	haul := a.way("fresh water", "fill")
	if want := "fill fresh water and empty the grey tank by Wed 7 Apr 2027, after 6 days, and every 6 days of a stop, 2 times in all"; haul.Words != want {
		t.Errorf("got %q, want %q", haul.Words, want)
	}
	if haul.Next != "then everything lasts the stay" {
		t.Errorf("next: %s", haul.Next)
	}
	then := answered(t, a.file, 20, haul.Edits...)
	for _, store := range []string{"fresh water", "grey tank"} {
		if e := then.store(store); e.Chance.Count > 0 {
			t.Errorf("with the edits made %s ends in %s", store, e.Chance.Text)
		}
	}
	near.Abs(t, "what was promised", haul.Lasts.Value, then.store("fresh water").Lasts.Value, 1e-9, "the same runs")
	near.Abs(t, "days it then lasts", haul.Lasts.Value/24, 12+6.25, 1e-6, "by hand: two hauls and a tank")
}

// cold is a rig whose propane ends its stay: 20 lb at 2 kW last 2.58 days (fill_test.go).
const cold = `campwright: 1
name: burner
kind: van
book: us-rv
bank: {chemistry: LFP, blocks: 5, block: {voltage: 12.8 V, capacity: 400 Ah}}
inverters: {small: {power: 1000 W, idle: 10 W, on: never}}
appliances:
  - {name: stove, runs on: propane, propane: 2 kW, on: always}
  - {name: refrigerator, kind: absorption refrigerator, runs on: propane, propane: 400 W at 50 %, electric: 300 W at 50 %, control: 1 W, takes AC: shore only}
stores: {propane: 1 x 20 lb}
trip: [{place: 33.6 N 114.2 W, from: 2027-04-01, nights: 6}]
`

// One more cylinder doubles what one holds, and a haul is made before the first has run out.
func TestAdvise_Propane(t *testing.T) {
	a := ask(t, cold, 20)
	if a.advice.Ends != "propane" {
		t.Fatalf("%q ends the stay", a.advice.Ends)
	}
	now := a.store("propane")
	more := a.way("propane", "one more cylinder")
	if got := more.wordsIn.in(quantity.US); got != "one more cylinder of 20 lb: 2 in place of 1" {
		t.Errorf("words: %s", got)
	}
	near.Rel(t, "days on two cylinders", more.Lasts.Value, 2*now.Lasts.Value, 0.02, "twice the gas; the refrigerator follows the air of other days")
	then := answered(t, a.file, 20, more.Edits...)
	near.Abs(t, "what was promised", more.Lasts.Value, then.store("propane").Lasts.Value, 1e-9, "the same runs")
	haul := a.way("propane", "fill propane by")
	if want := "fill propane by Sat 3 Apr 2027, after 2 days, and every 2 days of a stop, 2 times in all"; haul.Words != want {
		t.Errorf("got %q, want %q", haul.Words, want)
	}
	if e := answered(t, a.file, 20, haul.Edits...).store("propane"); e.Chance.Count > 0 {
		t.Errorf("filled every other day the propane ends in %s", e.Chance.Text)
	}
	for _, w := range a.advice.Ways {
		if strings.HasPrefix(w.Words, "refrigerator on AC") {
			if len(w.Edits) != 3 || w.Saves.Value <= 0 || len(w.Costs) != 1 {
				t.Errorf("the refrigerator on AC: %+v", w)
			}
			return
		}
	}
	t.Error("the refrigerator can take AC, and it is not proposed")
}

// What an inverter cannot carry, and what would empty the bank, is not proposed: the element of 300 W on an inverter of 200 W, and 3.6 kWh a day out of 5.1.
func TestAdvise_PropaneNotOnTooLittle(t *testing.T) {
	for _, small := range []string{strings.Replace(cold, "power: 1000 W", "power: 200 W", 1), strings.Replace(cold, "blocks: 5", "blocks: 1", 1)} {
		if small == cold {
			t.Fatal("the rig is not smaller")
		}
		for _, w := range ask(t, small, 20).advice.Ways {
			if strings.Contains(w.Words, "on AC through the inverter") {
				t.Errorf("proposed: %s", w.Words)
			}
		}
	}
}

// dim is a rig whose battery ends its stay, with much that must not or cannot be switched off.
const dim = `campwright: 1
name: dim
kind: van
book: us-rv
modules: {field: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}
controllers: {c: {survives: 100 V, output: 30 A}}
arrays: [{name: roof, module: field, controller: c, strings: 2, mounting: raised%s}]
bank: {chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah}, starts at: 100 %%}
inverters: {main: {power: 1000 W, idle: 20 W, on: always}}
vehicle: {alternators: [{rated: 150 A}]}
charge line: [{run: {gauge: 6 AWG, length: 20 ft}}, {dc-dc: {output: 30 A}}]
generators: {little: {power: 1600 W, quiet hours: 20:00-08:00}}
shore: {inlet: 30 A, chargers: {charger: {output: 50 A}}}
appliances:
  - {name: breathing machine, power: 30 W, on: 22:00-06:00}
  - {name: radio memory, power: 1 A}
  - {name: control boards, power: 10 W}
  - {name: smoke alarm, power: 1 W}
  - {name: water pump, power: 5 A, per day: 1 h}
  - {name: internet, power: 20 W, on: 07:00-22:00}
  - {name: television, runs on: ac, power: 60 W, on: 19:00-21:15}
  - {name: coffee maker, runs on: ac, power: 900 W, per day: 10 min, on: 06:30-08:00}
  - {name: bracket, power: 1 mA}
trip: [{place: 33.6 N 114.2 W, from: 2027-12-01, nights: 14}]
aims: {floor: 20 %%, must never lose: [breathing machine]}
`

// What must not be lost, what guards life, what others hang on and what saves next to nothing is not proposed; the inverter is, off while nothing runs on it, or in the
// hours in which nothing does: by hand on 06:30-08:00 and 19:00-21:30, off for 20 hours of 24.
func TestAdvise_Switches(t *testing.T) {
	a := ask(t, fmt.Sprintf(dim, ""), 60)
	if a.advice.Ends != "battery" {
		t.Fatalf("%q ends the stay", a.advice.Ends)
	}
	var names []string
	for _, s := range a.advice.Switches {
		names = append(names, s.Appliance)
		if s.Appliance != "inverter main" {
			continue
		}
		switch s.Edits[0].New {
		case "06:30-08:00, 19:00-21:30":
			near.Rel(t, "idle draw saved a day", s.SavesWh, 20*20, 0.06, "20 W for 20 hours; what waits for the clock is asked only while no AC comes in")
		case "when used":
			near.Rel(t, "idle draw saved a day, off when nothing runs", s.SavesWh, 20*(24-2.25-1.0/6), 0.06, "20 W but for television and coffee")
		default:
			t.Errorf("the inverter is to be on %s", s.Edits[0].New)
		}
	}
	slices.Sort(names)
	if got := strings.Join(names, ", "); got != "coffee maker, internet, inverter main, inverter main, television" {
		t.Errorf("to switch: %s", got)
	}
	for _, h := range a.advice.Hookups {
		t.Errorf("no stop has a hookup, and yet: %s", h.Words)
	}
	before := a.store("battery")
	for _, s := range a.advice.Switches {
		if s.Battery.Low < before.Lasts.Low-1e-9 || s.Battery.Value < before.Lasts.Value-1e-9 {
			t.Errorf("%s %s: the battery lasts %s, less than %s as it is", s.Appliance, s.Words, s.Text, before.Text)
		}
	}
	for _, w := range a.advice.Ways {
		if strings.HasPrefix(w.Words, "tilt") {
			t.Errorf("a mount that cannot be tilted: %s", w.Words)
		}
	}
}

// An array whose mount tilts is proposed to be tilted in December, no steeper than the mount allows, and its harvest is the one that an answer with the
// edit gives.
func TestAdvise_Tilt(t *testing.T) {
	a := ask(t, fmt.Sprintf(dim, ", tilts to: 50 deg"), 60)
	w := a.way("battery", "tilt roof to")
	if w.Words != "tilt roof to 50°" && w.Words != "tilt roof to 45°" {
		t.Errorf("in December at 34 degrees north: %s", w.Words)
	}
	if w.Lasts.Value <= a.store("battery").Lasts.Value && !strings.Contains(w.Text, "more than the stay") {
		t.Errorf("tilted it lasts %s, flat %s", w.Text, a.store("battery").Text)
	}
	then := answered(t, a.file, 60, w.Edits...)
	if then.Nights.Chance.Count >= a.Nights.Chance.Count {
		t.Errorf("tilted as proposed: %s; flat: %s", then.Nights.Sentence, a.Nights.Sentence)
	}
}

// Every edit that advice on the demo rigs holds can be made in their files as they are written, estimates, ranges and lists of stores included.
func TestAdvise_EditsApply(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("demo rigs: %v, %v", files, err)
	}
	made := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, faults := rig.Decode(strings.NewReader(string(text)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		full, _ := system.Complete(AsOf(doc))
		plan, err := NewPlan(full, Locate)
		if err != nil {
			t.Fatal(err)
		}
		f, err := NewForecast(plan, Options{Members: 20, StepMin: 60})
		if err != nil {
			t.Fatal(err)
		}
		a, err := f.Advise(context.Background(), &full)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range a.Ways {
			if _, err := rig.Apply(text, w.Edits); err != nil {
				t.Errorf("%s, %s: %v", name, w.Words, err)
			}
			made += len(w.Edits)
		}
		for _, s := range a.Switches {
			if _, err := rig.Apply(text, s.Edits); err != nil {
				t.Errorf("%s, %s: %v", name, s.Appliance, err)
			}
			made += len(s.Edits)
		}
	}
	if made < 30 {
		t.Errorf("only %d edits were made", made)
	}
}

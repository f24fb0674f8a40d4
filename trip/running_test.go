package trip

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
)

// Hours proposed for the stay keep the aim in all runs when they are written into the itinerary, and an hour less does not.
func TestAdvise_MakeUpHolds(t *testing.T) {
	a := ask(t, fmt.Sprintf(dim, ""), 60)
	seen := 0
	for _, m := range a.advice.MakeUp {
		if m.For != "the stay" || m.Source != "generator" {
			continue
		}
		seen++
		if !m.Enough || m.HoursD <= 0 {
			t.Fatalf("%s", m.Words)
		}
		with := func(h float64) Nights {
			return answered(t, a.file, 60, rig.Edit{Path: "trip/1/generator", New: fmt.Sprintf("%.1f h", h)}).Nights
		}
		aim := math.Max(a.Nights.Aim, 0.5/(60*14))
		if n := with(m.HoursD); float64(n.Chance.Count) > aim*float64(n.Chance.Of) {
			t.Errorf("%.1f hours: %s", m.HoursD, n.Sentence)
		}
		if n := with(m.HoursD - 0.4); float64(n.Chance.Count) <= aim*float64(n.Chance.Of) {
			t.Errorf("%.1f hours would do: %s", m.HoursD-0.4, n.Sentence)
		}
		if !strings.Contains(m.Words, percent(float64(a.Nights.Chance.Count)/float64(a.Nights.Chance.Of))+" as it is") {
			t.Errorf("the answer says %s, the advice %s", a.Nights.Sentence, m.Words)
		}
	}
	if seen != 1 {
		t.Fatalf("%d running times of the generator", seen)
	}
}

// machine is the night of scenario S10, worked by hand: 0.99 kWh from 22:00 to 7:00 out of 2.56 kWh, a charger of 0.7 kW, a floor of 20 %.
const machine = `campwright: 1
name: machine
kind: travel trailer
book: us-rv
bank: {chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah, resistance: 3 mohm}, bay: inside, starts at: 48 %, health: 100 %}
shore: {inlet: 30 A, chargers: {charger: {output: 52 A, efficiency: 85 %, fed by: any AC}}}
generators: {little: {power: 1600 W, derating: none, quiet hours: 22:00-08:00}}
appliances: [{name: the night, power: 110 W, on: 22:00-07:00}]
trip: [{place: 45.0 N 85.0 W, from: 2027-11-10, nights: 3, site: roofed}]
aims: {floor: 20 %%s}
`

// The hours proposed for tonight: by hand, 0.4 h in scenario S10. What is asked for beyond the floor takes the generator its energy over its power longer:
// 20 % of 2.56 kWh at 0.7 kW are 0.73 h. It ends before quiet hours.
func TestAdvise_Tonight(t *testing.T) {
	hours := func(wish string, members int) MakeUp {
		a := ask(t, strings.Replace(machine, "20 %%s", "20 %"+wish, 1), members)
		for _, m := range a.advice.MakeUp {
			if m.For == "tonight" {
				return m
			}
		}
		t.Fatal("nothing is said of tonight")
		return MakeUp{}
	}
	floor := hours("", 20)
	if floor.Source != "generator" || !floor.Enough || floor.Target != 0.2 {
		t.Fatalf("%+v", floor)
	}
	near.Abs(t, "generator for tonight", floor.HoursD, 0.4, 0.11, "by hand, scenario S10; hours are given to a tenth, rounded up, at steps of a quarter of an hour")
	if !strings.Contains(floor.Words, "to 21:00, keep the battery above 20 % (the reserve) until dawn") {
		t.Errorf("words: %s", floor.Words)
	}
	wanted := hours(", charge at dawn: 40 %", 20)
	near.Abs(t, "more for 40 % at dawn", wanted.HoursD-floor.HoursD, 0.2*2.56/0.7, 0.15, "by hand: 0.51 kWh at 0.7 kW")
	if !strings.Contains(wanted.Words, "40 % (the charge wanted at dawn)") {
		t.Errorf("words: %s", wanted.Words)
	}
	full := ask(t, strings.Replace(strings.Replace(machine, "starts at: 48 %", "starts at: 95 %", 1), "20 %%s", "20 %", 1), 20)
	last := full.advice.MakeUp[len(full.advice.MakeUp)-1]
	if last.For != "tonight" || last.HoursD != 0 || !last.Enough || !strings.Contains(last.Words, "needs no running time") {
		t.Errorf("a bank that is full enough: %+v", last)
	}
	much := hours(", charge at dawn: 94 %", 20)
	if much.Enough && much.HoursD > 9 {
		t.Errorf("nine hours lie between noon and 21:00: %+v", much)
	}
}

// TestAdvise_TonightFromBelow: a charge wanted at dawn that the bank does not have in the afternoon takes what lies between, not running from the afternoon on.
// By hand: 2.56 kWh at 40 % less 15 W for nine hours and for thirteen hours of night, 0.33 kWh in all, to end at 50 %: 0.59 kWh at 0.67 kW are 0.88 h.
func TestAdvise_TonightFromBelow(t *testing.T) {
	a := ask(t, `campwright: 1
name: dawn
kind: van
bank: {chemistry: LFP, blocks: 1, block: {voltage: 12.8 V, capacity: 200 Ah}, bay: inside, starts at: 40 %, health: 100 %}
shore: {inlet: 30 A, chargers: {a: {output: 50 A, absorption: 14.2 V, float: 13.5 V}}}
generators: {g: {power: 1800 W, derating: none, quiet hours: 21:00-08:00}}
appliances: [{name: fan, power: 15 W measured, on: always}]
trip: [{place: 33.6 N 114.2 W, from: 2027-04-10, nights: 2, hookup: none, site: roofed}]
aims: {floor: 20 %, charge at dawn: 50 %}
`, 20)
	for _, m := range a.advice.MakeUp {
		if m.For == "tonight" {
			near.Abs(t, "hours for tonight", m.HoursD, 0.88, 0.2, "by hand")
			return
		}
	}
	t.Error("nothing is said of tonight")
}

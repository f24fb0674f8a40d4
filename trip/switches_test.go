package trip

import (
	"fmt"
	"strings"
	"testing"

	"campwright/internal/near"
)

// TestGuards: what warns of gas, smoke or fire, or keeps somebody alive, is never proposed to be switched off, however it is called; names that only hold its
// letters are no guards. Names as owners write them; common practice, no source.
func TestGuards(t *testing.T) {
	for name, want := range map[string]bool{
		"LP detector": true, "carbon monoxide sensor": true, "LP gas sensor": true, "Monoxide": true, "lp": true, "LP/CO": true, "propane sensor": true, "smoke": true, "CPAP": true,
		"alpine radio": false, "help lamp": false, "coffee maker": false, "cooktop fan": false, "water pump": false, "laptop": false,
	} {
		if got := guards(name); got != want {
			t.Errorf("%q: %v, wanted %v", name, got, want)
		}
	}
}

// TestIdleInverter: a laptop of 50 W for six hours a day on an inverter that draws 24 W by itself. Of an inverter that nobody tells about, being left on is
// told as taken, with what it costs: by hand 24 W for the 18 hours without the laptop, 432 Wh a day, a row of the books by itself. Told to be on only when
// used it takes none of it, and nothing is remarked. A laptop that is off uses nothing, whatever it would draw.
func TestIdleInverter(t *testing.T) {
	const text = `campwright: 1
name: laptop
kind: van
bank: {chemistry: LFP, blocks: 4, block: {voltage: 12.8 V, capacity: 100 Ah}}
inverters: {main: {power: 2000 W, idle: 24 W%s}}
appliances: [{name: laptop, power: 50 W, runs on: %s, per day: 6 h}]
trip: [{place: 39 N 95 W, from: 2027-06-01, nights: 3}]
`
	idle := func(a asked) (perDay float64) {
		for _, e := range a.Ledger.Losses {
			if e.Name == "an idle inverter's own use" {
				perDay = e.PerDay
			}
		}
		return perDay
	}
	remarked := func(a asked) string {
		for _, r := range a.Remarks {
			if strings.HasPrefix(r, "Nothing is said of when inverter main is on") {
				return r
			}
		}
		return ""
	}
	silent := answered(t, fmt.Sprintf(text, "", "ac"), 10)
	near.Abs(t, "idle a day", idle(silent), 24*18, 0.5, "watts times hours")
	if r := remarked(silent); !strings.Contains(r, "432 Wh a day") {
		t.Errorf("remarked: %q", r)
	}
	if a := answered(t, fmt.Sprintf(text, ", on: always", "ac"), 10); remarked(a) != "" || idle(a) < 431 {
		t.Errorf("told to be on always: %q, %.0f Wh", remarked(a), idle(a))
	}
	used := answered(t, fmt.Sprintf(text, ", on: when used", "ac"), 10)
	if remarked(used) != "" || idle(used) != 0 {
		t.Errorf("told to be on when used: %q, %.0f Wh", remarked(used), idle(used))
	}
	off := answered(t, fmt.Sprintf(text, ", on: when used", `"off"`), 10)
	for _, d := range off.Days {
		if d.OutWh != 0 {
			t.Errorf("%s: a laptop that is off takes %.1f Wh", d.Date, d.OutWh)
		}
	}
	if len(off.Days) == 0 {
		t.Fatal("no days")
	}
}

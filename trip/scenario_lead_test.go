package trip_test

import (
	"math"
	"testing"

	"campwright/rig"
	"campwright/trip"
)

// leadToLithium is S11 as far as a trip can tell it: what the bank gives, and how fast it fills.
func leadToLithium(p *page) {
	p.title = "Lead-acid to lithium conversion"
	p.about = "A covered yard, no sun, a steady 130 W, about the 20 hours at which lead-acid is rated. Four 6 V flooded blocks, 440 Ah to a floor of 50 %, against " +
		"three 100 Ah LFP to 15 %. What else must change on the day is for the checks and the options."
	lead := openScene(p.t, "s11-lead-to-lithium.yaml")
	lead.members, lead.stepMin = 20, 15
	bank, err := rig.Read(lead.text, "bank")
	if err != nil {
		p.t.Fatal(err)
	}
	lithium := lead.with(
		rig.Edit{Path: "bank", Old: bank, New: "{chemistry: LFP, blocks: 3, block: {voltage: 12.8 V, capacity: 100 Ah, weight: 26 lb}, health: 100 %, starts at: 100 %}"},
		rig.Edit{Path: "aims/floor", Old: "50 %", New: "15 %"},
		rig.Edit{Path: "trip/1/nights", Old: "3", New: "4"},
	)
	usable := func(s scene) float64 { return lasts(p.t, s.ask(), "battery").mid * 24 * 0.130 }
	old, fresh := usable(lead), usable(lithium)
	p.row("usable of the flooded bank", 2.68, "kWh", plain(old))
	p.row("usable of the LFP bank", 3.26, "kWh", plain(fresh))
	p.row("gain", 22, "%", plain(100*(fresh/old-1)))

	plugged := []rig.Edit{{Path: "trip/1/hookup", Old: "none", New: "50 A"}, {Path: "appliances/the house", Old: appliance(p.t, lead, "the house")}}
	half := rig.Edit{Path: "bank/starts at", Old: "100 %", New: "50 %"}
	low := rig.Edit{Path: "bank/starts at", Old: "100 %", New: "30 %"}
	profile := rig.Edit{Path: "shore/chargers/converter/absorption", Old: "13.6 V", New: "14.4 V"}
	p.row("LFP from 30 % at 55 A with a lithium profile: full after", 3.8, "h", plain(fullAfter(lithium.with(plugged...).with(low, profile).ask(), 0.98)))
	slow := fullAfter(lead.with(plugged...).with(half).ask(), 0.95)
	quick := fullAfter(lithium.with(plugged...).with(low).ask(), 0.95)
	p.found(quick < slow, "the same converter fills 200 Ah of LFP to 95 % sooner than the flooded bank its last half, whose charge tapers")

	tied := lithium.with(plugged[1]).with(
		rig.Edit{Path: "trip/1/nights", Old: "4", New: "1"},
		rig.Edit{Path: "trip/2", New: "{place: covered yard (39.0 N 95.0 W), nights: 1, drive: 15 min, site: roofed}"},
		rig.Edit{Path: "vehicle", New: "{alternators: [{rated: 130 A, hot idle: 60 A, hot cruise: 130 A}], own load: 30 A, volts: 14.4 V}"},
		rig.Edit{Path: "charge line", New: "[{resistance: 12.3 mohm}, {relay: {rated: 150 A}}]"},
	)
	relay := func(soc string) float64 {
		a := tied.with(rig.Edit{Path: "bank/starts at", Old: "100 %", New: soc}).ask()
		i := 24 * 60 / a.Trace.StepMin
		return float64(a.Trace.SoC[i]-a.Trace.SoC[i-1]) * 300 / (float64(a.Trace.StepMin) / 60)
	}
	p.row("through the old relay into a rather full LFP bank", 57.8, "A", plain(relay("90 %")))
	p.row("through the old relay into a low LFP bank", 75, "A", plain(relay("20 %")))
}

func appliance(t testing.TB, s scene, name string) string {
	t.Helper()
	old, err := rig.Read(s.text, "appliances/"+name)
	if err != nil {
		t.Fatal(err)
	}
	return old
}

// fullAfter returns the hours from the start of the typical run until the bank holds a share of its capacity.
func fullAfter(a trip.Answer, share float64) float64 {
	for i, soc := range a.Trace.SoC {
		if float64(soc) >= share {
			return float64((i+1)*a.Trace.StepMin) / 60
		}
	}
	return math.Inf(1)
}

package trip_test

import (
	"fmt"
	"math"

	"campwright/rig"
	"campwright/trip"
)

// smallVan is S8: one panel on a small van, June and October. A second battery, a second module, or more driving?
func smallVan(p *page) {
	p.title = "Small van, one panel"
	p.about = "45.0 N 85.0 W, three weeks in the middle of June and of October, 100 Ah LFP to a floor of 10 %, 200 W flat. Stated sun 6.4 hours in June, 2.6 in " +
		"October. Driving is a move to the next shore each noon."
	june := rig.Edit{Path: "trip/1/from", Old: "2027-10-06", New: "2027-06-06"}
	van := openScene(p.t, "s8-small-van.yaml").under(&temperate45)
	two := rig.Edit{Path: "trip/1/nights", Old: "21", New: "2"}
	p.row("asked for in a day", 0.92, "kWh", plain(meanDay(van.with(two).ask()).asked))

	summer := van.with(june).ask()
	s := meanDay(summer)
	p.row("harvest of a June day", 0.92, "kWh", plain(s.atSun(6.4)))
	p.row("flat-roof factor in June", 0.72, "", s.factor(200))
	long := lasts(p.t, summer, "battery")
	p.found(math.Abs(s.atSun(6.4)/s.asked-1) < 0.15 && long.mid > 10, "June is balanced: what comes is what goes, within 15 %")

	autumn := van.ask()
	p.row("harvest of an October day", 0.40, "kWh", plain(meanDay(autumn).atSun(2.6)))
	one := lasts(p.t, autumn, "battery")
	p.row("October as it stands: battery lasts", 2.2, "d", one)
	p.found(autumn.Stores[0].Store == "battery" && autumn.Stores[0].Reached, "in October the battery ends the stay")
	twice := van.with(rig.Edit{Path: "bank/blocks", Old: "1", New: "2"}).ask()
	battery := lasts(p.t, twice, "battery")
	p.row("a second battery: battery lasts", 4.4, "d", battery)
	pair := van.with(rig.Edit{Path: "arrays/roof/strings", Old: "1", New: "2"}).ask()
	module := lasts(p.t, pair, "battery")
	p.rowWhy("a second module: battery lasts", 9.6, "d", module, 4.5, 12, fmt.Sprintf("at a deficit of an eighth of the load the first dark spell decides: half of the runs end before day %s, one in twenty after day %s", number(module.mid), number(module.high)))

	p.row("an hour of engine gives", 0.402, "kWh", plain(entry(van.with(two, rig.Edit{Path: "trip/1/engine idles", New: "1 h"}).ask().Ledger.Sources, "vehicle")))
	driven := van.with(daily("1.3 h")...).ask()
	drive := lasts(p.t, driven, "battery")
	p.rowWhy("engine at idle that keeps the aim", 1.3, "h a day", plain(makeUp(p.t, van.advice(), "engine at idle")), 1.2, 2.6, "the hand makes up the mean day; the aim, one night in a hundred, has to hold in dull spells too")
	p.found(math.IsInf(drive.mid, 1), "1.3 h of driving a day carry the three weeks")
	p.rising("days rise in this order: as it stands, a second battery, a second module, driving", 0.05, one.mid, battery.mid, module.mid, drive.mid)
	p.found(darkShare(twice) > 1.5*darkShare(pair), fmt.Sprintf("a battery stores, it does not make: with a second one %.0f %% of the nights still go below the floor, with a second module %.0f %%", 100*darkShare(twice), 100*darkShare(pair)))

	own := van.under(nil)
	p.row("October as it stands, with our climate's own sun", 2.2, "d", lasts(p.t, own.ask(), "battery"))
}

// darkShare returns the share of all nights that go below the floor.
func darkShare(a trip.Answer) float64 {
	return float64(a.Nights.Chance.Count) / float64(a.Nights.Chance.Of)
}

// daily returns the edits that turn the stay into three weeks of one-night stops, each reached by so much driving.
func daily(hours string) []rig.Edit {
	edits := []rig.Edit{{Path: "trip/1/nights", Old: "21", New: "1"}}
	for i := 2; i <= 21; i++ {
		edits = append(edits, rig.Edit{Path: fmt.Sprintf("trip/%d", i), New: "{place: next shore (45.0 N 85.0 W), nights: 1, drive: " + hours + "}"})
	}
	return edits
}

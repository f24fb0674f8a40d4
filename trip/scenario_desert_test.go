package trip_test

import (
	"fmt"
	"math"

	"campwright/rig"
)

// desertWinter is S1: nine weeks of desert winter. Tilt the pair that is there, or add three modules flat?
func desertWinter(p *page) {
	p.title = "Desert winter, nine weeks without hookup"
	p.about = "Low desert, 33.6 N 114.2 W, 25 November to 31 January, 300 Ah LFP to a floor of 10 %. Stated sun 3.6, 3.0 and 3.25 hours in November, " +
		"December and January. N3 stands 3 in from the air conditioner: 60 % of its beam is taken, which leaves about 60 % of its yield. Propane for the furnace " +
		"is taken as 25,000 BTU/h, for the refrigerator as 0.33 gal a day: together the 1.42 gal a day of the estimate."
	now := openScene(p.t, "s1-desert-winter.yaml").under(&lowDesert)
	pair := rig.Edit{Path: "arrays/new pair", New: "{module: late 220, controller: wardrobe, strings: 2, run: {gauge: 10 AWG, length: 25 ft}}"}
	third := rig.Edit{Path: "arrays/by the cooler", New: "{module: late 220, controller: wardrobe, shade: 60 %, run: {gauge: 10 AWG, length: 25 ft}}"}
	up := rig.Edit{Path: "arrays/old pair/tilt", New: "45 deg"}
	upNew := rig.Edit{Path: "arrays/new pair/tilt", New: "45 deg"}
	december := []rig.Edit{{Path: "trip/1/from", Old: "2026-11-25", New: "2026-12-01"}, {Path: "trip/1/nights", Old: "67", New: "31"}}

	asked := 0.0
	harvest := func(what string, hand float64, edits ...rig.Edit) float64 {
		m := meanDay(now.with(edits...).with(december...).ask())
		asked = m.asked
		p.row(what+": harvest of a December day", hand, "kWh", plain(m.atSun(3.0)))
		return m.atSun(3.0)
	}
	flat := harvest("as it stands, 400 W flat", 0.94)
	tilted := harvest("the old pair tilted 45 deg", 1.59, up)
	four := harvest("two modules more, 840 W flat", 1.97, pair)
	five := harvest("all five flat", 2.27, pair, third)
	harvest("840 W tilted 45 deg", 3.34, pair, up, upNew)
	winter := meanDay(now.with(december...).ask())
	july := meanDay(now.with(rig.Edit{Path: "trip/1/from", Old: "2026-11-25", New: "2027-07-01"}, december[1]).ask())
	p.row("flat-roof factor in December", 0.78, "", winter.factor(400))
	p.row("flat-roof factor in July", 0.68, "", july.factor(400), "of it 0.97 for dirt, 0.96 for mismatch and 0.97 for the controller, and the heat of the cells; the hand takes more off for all of them")
	p.row("asked for in a day", 2.19, "kWh", plain(asked))
	n3 := meanDay(now.with(pair, third).with(december...).ask())
	p.row("N3 beside the air conditioner, of a free module", 0.60, "of it", plain((n3.atSun(3.0)-four)/((four-flat)/2)))

	days := func(what string, hand float64, edits ...rig.Edit) float64 {
		a := now.with(edits...).ask()
		d := lasts(p.t, a, "battery")
		if hand > 0 {
			p.row(what+": battery lasts", hand, "d", d)
		}
		p.found(a.Stores[0].Store == "battery", what+": the battery ends the stay")
		return d.mid
	}
	bare := days("as it stands", 2.8)
	up45 := days("the old pair tilted", 5.8, up)
	all := now.with(pair, third).ask()
	withFour := now.with(pair).ask()
	d4, d5 := lasts(p.t, withFour, "battery"), lasts(p.t, all, "battery")
	p.rowWhy("two modules more: battery lasts", 16, "d", d4, 3, 30, fmt.Sprintf("the hand's deficit of 0.22 kWh a day is a tenth of the load: the end comes with the first dark spell, and %.2f kWh of harvest stand against %.2f", four, asked))
	p.rowWhy("all five: battery lasts", math.Inf(1), "d", d5, 14, math.Inf(1), fmt.Sprintf("a surplus of %.2f kWh a day carries a mean day and no dark spell: one spell in nine weeks takes the bank to the floor in most runs, and the generator hours below cover it", five-asked))
	p.rising("days on the battery rise in this order: as it stands, old pair tilted, two modules more, all five", 0.05, bare, up45, d4.mid, d5.mid)
	p.found(tilted < asked && five > 0.9*asked && four < asked, "tilting what is there stays short; two modules more stay short; all five come even within 10 %")

	gas := lasts(p.t, all, "propane")
	p.row("propane lasts", 9.9, "d", gas)
	p.found(all.Stores[0].Store == "propane", "with all five up, propane ends the stay first and sets its rhythm")

	storm := now.storm(0.25).with(pair, third).with(rig.Edit{Path: "trip/1/from", Old: "2026-11-25", New: "2026-12-10"}, rig.Edit{Path: "trip/1/nights", Old: "67", New: "3"})
	storm.members, storm.stepMin = 20, 5
	a := storm.ask()
	m := meanDay(a)
	p.row("three days at 25 % of the sun: short in a day", 1.62, "kWh", plain(m.asked-m.harvest))
	p.row("three days at 25 % of the sun: battery lasts", 2.1, "d", lasts(p.t, a, "battery"))
	hours := least(p.t, 0, 2, func(x float64) bool {
		return math.IsInf(lasts(p.t, storm.with(rig.Edit{Path: "trip/1/generator", New: fmt.Sprintf("%.3f h", x)}).ask(), "battery").mid, 1)
	})
	p.rowWhy("generator that covers the three days, in all", 1.7, "h", plain(3*hours), 1.4, 2.5, "it runs for the same time each evening until half of the runs hold, and what dirt, age and label take is more than in the hand's factor")

	own := now.under(nil)
	oa, ob, oc := lasts(p.t, own.ask(), "battery"), lasts(p.t, own.with(up).ask(), "battery"), lasts(p.t, own.with(pair, third).ask(), "battery")
	p.row("as it stands, with our climate's own sun", 2.8, "d", oa)
	p.rising("with our climate's own sun the order is the same", 0.05, oa.mid, ob.mid, oc.mid)
}

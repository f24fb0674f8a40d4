package trip_test

import (
	"fmt"
	"math"

	"campwright/rig"
)

// forestShade is S2: ten days under trees. A bigger battery, a module in the clearing, or another camp?
func forestShade(p *page) {
	p.title = "Forest shade in July"
	p.about = "45.0 N 73.0 W, ten days from 10 July, 200 Ah LFP to a floor of 10 %, 600 W flat. Stated sun 6.2 hours in the open. The canopy that lets " +
		"about 20 % through is the site class deep shade (beam 5 to 22 %, sky 18 to 45 %). A module in the clearing stands under an open sky of its own; the " +
		"clearing's edge takes a quarter of its beam, and it is not turned through the day but tilted 30 deg to the south."
	camp := openScene(p.t, "s2-forest-july.yaml").under(&temperate45)
	a := camp.ask()
	m, d := meanDay(a), lasts(p.t, a, "battery")
	open := meanDay(camp.with(rig.Edit{Path: "trip/1/site", Old: "deep shade", New: "open"}).ask())
	p.row("asked for in a day", 1.36, "kWh", plain(m.asked))
	p.row("the canopy lets through, of the open sun", 0.20, "of it", plain(m.sun/open.sun))
	p.row("harvest under the canopy", 0.54, "kWh", plain(m.harvest))
	p.row("as it stands: battery lasts", 2.8, "d", d)
	p.row("canopy at the dark end: battery lasts", 2.1, "d", plain(d.low))
	p.rowWhy("canopy at the bright end: battery lasts", 5.5, "d", plain(d.high), 3.5, 6.9, "the hand's bright end lets 35 % through; the class ends at 22 % of the beam and 45 % of the sky, 31 % together, and one run in twenty is brighter than the end shown")
	p.found(a.Stores[0].Store == "battery" && a.Stores[0].Reached, "the battery ends the stay")
	p.found(len(a.Guesses) > 0 && a.Guesses[0].Path == "trip/1/site", "the canopy is the guess that widens the answer most")

	double := lasts(p.t, camp.with(rig.Edit{Path: "bank/blocks", Old: "2", New: "4"}).ask(), "battery")
	p.row("battery doubled: battery lasts", 5.6, "d", double)
	p.found(double.mid < 10, "twice the battery still does not last the ten days")

	clearing := []rig.Edit{
		{Path: "controllers/on the stand", New: "{survives: 100 V, output: 20 A, own use: 0 W}"},
		{Path: "arrays/in the clearing", New: "{module: field 200, controller: on the stand, mounting: portable, site: open, tilt: 30 deg, faces: 180 deg, shade: 25 %, run: {gauge: 10 AWG, length: 40 ft}}"},
	}
	b := camp.with(clearing...).ask()
	c := meanDay(b)
	p.row("a 200 W module in the clearing gives", 0.76, "kWh", plain(c.harvest-m.harvest))
	stay := lasts(p.t, b, "battery")
	used := b.Days[0].LowSoC - b.Days[len(b.Days)-1].LowSoC
	p.found(math.IsInf(stay.mid, 1), "with a module in the clearing the battery lasts the whole stay")
	p.rowWhy("of the bank used over the stay with it", 0.60, "kWh", plain(2.56*used), -0.5, 1.5, fmt.Sprintf("the difference of two large numbers: %.2f kWh in and %.2f out a day, so that a tenth of the sun is more than the whole of it", c.harvest, c.asked))

	move := camp.with(rig.Edit{Path: "trip/1/site", Old: "deep shade", New: "open"}).ask()
	p.found(math.IsInf(lasts(p.t, move, "battery").mid, 1), "in the open the roof alone lasts the stay")
	p.rising("days rise in this order: as it stands, battery doubled, a module in the clearing", 0.2, d.mid, double.mid, stay.mid)

	own := camp.under(nil)
	od, ob, oc := lasts(p.t, own.ask(), "battery"), lasts(p.t, own.with(rig.Edit{Path: "bank/blocks", Old: "2", New: "4"}).ask(), "battery"), lasts(p.t, own.with(clearing...).ask(), "battery")
	p.row("as it stands, with our climate's own sun", 2.8, "d", od)
	p.rising("with our climate's own sun the order is the same", 0.2, od.mid, ob.mid, oc.mid)
}

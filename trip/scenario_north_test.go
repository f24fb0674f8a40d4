package trip_test

import (
	"fmt"
	"time"

	"campwright/climate"
	"campwright/rig"
)

// northernOctober is S3: October at 47.5 north with the bank in an outside bay. What shortens the stay, and what is the cheapest cure?
func northernOctober(p *page) {
	p.title = "Northern shoulder season"
	p.about = "47.5 N 116.0 W, ten days around the middle of October, 280 Ah LFP in an outside bay to a floor of 20 %, 700 W flat, charge blocked below 0 C. " +
		"Stated sun 2.3 hours. The climate's temperatures are moved together so that the mean night falls to the stated -6 C. Engine hours are put at nine in " +
		"the morning."
	camp := openScene(p.t, "s3-northern-october.yaml").under(&northern47)
	camp.warmer = -6 - meanLow(camp, 47.5, -116)
	cold := camp.ask()
	half := rig.Edit{Path: "bank/starts at", Old: "100 %", New: "50 %"}
	inside := []rig.Edit{{Path: "bank/bay above outside", Old: "2 K"}, {Path: "bank/bay", Old: "outside", New: "inside"}}
	warm := camp.with(inside...)
	brief := rig.Edit{Path: "trip/1/nights", Old: "10", New: "2"} // before the cut-offs take loads off the morning
	m, w := coldDays(camp.with(half, brief)), coldDays(warm.with(half, brief))
	p.row("harvest of an October day", 1.24, "kWh", plain(w.atSun(2.3)))
	p.row("flat-roof factor in October", 0.77, "", w.factor(700))
	p.row("asked for in a day", 2.08, "kWh", plain(meanDay(warm.with(brief).ask()).asked))
	p.rowWhy("harvest thrown away by the cold block", 0.40, "of it", plain((m.thrown-w.thrown)/m.harvest), 0.2, 0.4, "the hand takes every night at the mean; nights spread around it, and after the milder ones the bank is blocked for little of the day")
	in, out := lasts(p.t, warm.ask(), "battery"), lasts(p.t, cold, "battery")
	p.row("bank inside, no cold block: battery lasts", 3.4, "d", in)
	p.row("as it stands: battery lasts", 2.1, "d", out)
	gas := lasts(p.t, cold, "propane")
	p.row("propane lasts", 4.05, "d", gas)
	p.found(cold.Stores[0].Store == "battery", "as it stands the battery ends the stay, shortened by the cold block")

	box := camp.with(rig.Edit{Path: "bank/bay", Old: "outside", New: "insulated"}, rig.Edit{Path: "bank/heater", New: "40 W"}, rig.Edit{Path: "bank/heats below", New: "5 C"})
	heated := box.ask()
	b := lasts(p.t, heated, "battery")
	p.row("insulated and heated, heat from the bank: battery lasts", 2.8, "d", b)
	p.row("heat for the bank", 0.19, "kWh a day", plain(entry(heated.Ledger.Uses, "bank heater")))

	engine := box.with(rig.Edit{Path: "trip/1/engine idles", New: "1 h"})
	driven := engine.ask()
	few := engine.with(brief).ask()
	p.row("an hour of engine gives", 0.536, "kWh", plain(entry(few.Ledger.Sources, "vehicle")))
	e := lasts(p.t, driven, "battery")
	p.rowWhy("and an engine hour a day: battery lasts", 9.4, "d", e, 4, 9.4, "the hand leaves out the heat for the bank: with it, it is 2.87 kWh over 0.49 a day, 5.9 d; at so small a deficit the first dark spell decides")
	p.found(driven.Stores[0].Store == "propane", "with the bank warm and an engine hour a day, propane ends the stay first")
	p.rising("days on the battery rise in this order: as it stands, insulated and heated, bank inside, with an engine hour", 0.02, out.mid, b.mid, in.mid, e.mid)

	lower := engine.with(rig.Edit{Path: "appliances/furnace/per day", Old: "5.85 h", New: "4.68 h"}).ask()
	third := engine.with(rig.Edit{Path: "stores/propane", Old: "2 x 20 lb", New: "3 x 20 lb"}).ask()
	gl, gt := lasts(p.t, lower, "propane"), lasts(p.t, third, "propane")
	p.row("thermostat down 3 K (a fifth less heat): propane lasts", 4.8, "d", gl)
	p.row("a third cylinder: propane lasts", 6.1, "d", gt)
	p.rising("propane lasts longer in this order: as it stands, thermostat down, a third cylinder", 0.05, gas.mid, gl.mid, gt.mid)

	p.rowWhy("insulated and heated, engine at idle that keeps the aim", 1.9, "h a day", plain(makeUp(p.t, box.advice(), "engine at idle")), 1.7, 3.8, "the hand makes up the mean day: 0.84 kWh and the heat, over 0.536 an hour; the aim, one night in a hundred, has to hold in dull spells too")
	own := camp.under(nil)
	own.warmer = 0
	o := own.ask()
	d := coldDays(own)
	p.rowWhy("as it stands, with our climate's own sun and air", 2.1, "d", lasts(p.t, o, "battery"), 2, 6, fmt.Sprintf("our climate has %.1f hours of sun there and nights of %.0f C, so that the bank is seldom blocked", d.sun, meanLow(own, 47.5, -116)))
}

// meanLow returns the mean of the daily lows of a scene's climate in the ten days from 14 October [°C], over many members.
func meanLow(s scene, latitude, longitude float64) float64 {
	s.t.Helper()
	c, err := s.climate(latitude, longitude, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	g, err := climate.New(climate.Params{Climate: c, Seed: 1})
	if err != nil {
		s.t.Fatal(err)
	}
	const members, nights = 200, 10
	days, sum := make([]climate.Day, nights), 0.0
	for m := range members {
		g.Days(m, climate.DayNumber(time.Date(2027, 10, 14, 0, 0, 0, 0, time.UTC)), days)
		for _, d := range days {
			sum += d.Low / (members * nights)
		}
	}
	return sum
}

// coldDays returns an ordinary day of a scene: the mean over single runs, each in a weather of its own, since one of them may be a warm or a cold
// one.
func coldDays(s scene) mean {
	s.t.Helper()
	const ensembles = 60
	var all mean
	s.members = 1
	for seed := range uint64(ensembles) {
		s.seed = seed + 1
		m := meanDay(s.ask())
		all.harvest += m.harvest / ensembles
		all.thrown += m.thrown / ensembles
		all.sun += m.sun / ensembles
	}
	return all
}

package trip_test

import (
	"encoding/json"
	"fmt"
	"strings"

	"campwright/rig"
)

// breathingMachine is S10: a machine that must run all night. How full at bedtime, and how long must the generator run?
func breathingMachine(p *page) {
	p.title = "Medical device that must never lose power"
	p.about = "One night from noon to noon with no sun, 200 Ah LFP to a floor of 20 %: the machine's 0.54 kWh and 0.45 kWh of everything else, both from 22:00 " +
		"to 7:00. The charger gives 0.7 kW. Quiet hours begin at 22:00; the generator is made to end at 21:00."
	night := openScene(p.t, "s10-breathing-machine.yaml")
	night.members, night.stepMin = 20, 1
	startsAt := func(s scene, soc float64) scene {
		return s.with(rig.Edit{Path: "bank/starts at", Old: "59 %", New: fmt.Sprintf("%.2f %%", 100*soc)})
	}
	bedtime := func(s scene) float64 {
		return least(p.t, 0.2, 1, func(soc float64) bool { return !startsAt(s, soc).ask().Stores[0].Reached })
	}
	one := bedtime(night)
	p.row("full at bedtime for one night", 59, "%", plain(100*one))
	rest, err := rig.Read(night.text, "appliances/the rest of the night")
	if err != nil {
		p.t.Fatal(err)
	}
	alone := night.with(rig.Edit{Path: "appliances/the rest of the night", Old: rest})
	both := one + bedtime(alone) - 0.2
	p.row("full at bedtime if tomorrow brings no charge, the machine again", 80, "%", plain(100*both))

	run := func(want float64) float64 {
		low := startsAt(night, 0.48)
		return least(p.t, 0, 2, func(hours float64) bool {
			a := low.with(rig.Edit{Path: "trip/1/generator", New: fmt.Sprintf("%.3f h", hours)}).ask()
			return a.Days[0].LowSoC >= want
		})
	}
	p.row("48 % at bedtime: generator for tonight", 0.4, "h", plain(run(0.2)))
	second := run(0.2 + both - one)
	p.row("48 % at bedtime: generator for both nights", 1.2, "h", plain(second))
	p.row("for both, start by", 20+50.0/60, "h", plain(22-second))

	full := startsAt(night, 1).ask()
	text, err := json.Marshal(full)
	if err != nil {
		p.t.Fatal(err)
	}
	chance := full.Nights.Chance
	p.found(chance.Count == 0 && chance.High > 0 && strings.Contains(chance.Text, "under"), "with a full bank no run fails, and the answer still is a bound and not a certainty")
	p.found(!strings.Contains(strings.ToLower(string(text)), "never"), "no word of the answer says never")
}

package trip_test

import (
	"context"
	"math"
	"strings"

	"campwright/rig"
	"campwright/trip"
)

// drivewayStorage is S6: five winter months under a carport. Plug in, disconnect, or leave it?
func drivewayStorage(p *page) {
	p.title = "Driveway storage with standing drains"
	p.about = "A carport at 44.0 N 72.5 W, nobody there, from 1 November for 151 nights, 200 Ah LFP left at 60 % to a floor of 10 %, 0.27 A standing."
	left := openScene(p.t, "s6-driveway-storage.yaml")
	left.parked, left.members, left.stepMin = true, 20, 30
	a := left.ask()
	p.row("0.27 A in a day", 6.48, "Ah", plain(200*(a.Days[0].LowSoC-a.Days[10].LowSoC)/10))
	as := lasts(p.t, a, "battery")
	p.row("left as it is: battery lasts", 15, "d", as)

	without := func(names ...string) []rig.Edit {
		var edits []rig.Edit
		for _, name := range names {
			old, err := rig.Read(left.text, "appliances/"+name)
			if err != nil {
				p.t.Fatal(err)
			}
			edits = append(edits, rig.Edit{Path: "appliances/" + name, Old: old})
		}
		return edits
	}
	opened := left.with(without("radio memory", "battery electronics", "control boards", "inverter on standby")...)
	open := lasts(p.t, opened.ask(), "battery")
	p.row("factory switch open, detectors still on: battery lasts", 56, "d", open)

	post := opened.with(without("detectors")...).ask()
	p.row("off at the post: left after five months", 50, "%", plain(100*post.Days[len(post.Days)-1].LowSoC))
	never := lasts(p.t, post, "battery")
	p.found(math.IsInf(never.mid, 1), "off at the post the bank lasts the winter")
	p.rising("the bank lasts longer in this order: left as it is, switch open, off at the post", 0.5, as.mid, open.mid, never.mid)

	plug := left.with(rig.Edit{Path: "trip/1/hookup", Old: "none", New: "15 A"}).ask()
	full, refused := 0, 0
	for _, d := range plug.Days[10:] {
		if d.LowSoC > 0.95 {
			full++
		}
		if d.AirLowC < -15 && d.InWh < d.OutWh+1 {
			refused++
		}
	}
	p.found(full == len(plug.Days)-10, "plugged in all winter the bank stands full all winter, which ages LFP")
	p.found(refused > 5, "below freezing it takes no charge, plugged in or not: the charger only carries what draws")

	doc := left.doc()
	home, err := trip.Home(context.Background(), &doc, trip.Options{Members: 10, StepMin: 30}, 2027)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, m := range home.Months {
		if math.Abs(m.Stores[0].Lasts.Value/24-15) > 1.5 {
			p.t.Errorf("at home in %s the battery lasts %.1f days", m.Month, m.Stores[0].Lasts.Value/24)
		}
	}
	p.found(len(home.Months) == 12 && strings.Contains(home.Sentence, "15 days"), "the answer for the home, month by month, says the same: 15 days")
}

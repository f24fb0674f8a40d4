package trip

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// leastWaterL is what one person needs a day for drinking and cooking [L], a US gallon: less is not proposed.
//
// Source: [READY-WATER].
const leastWaterL = 3.785

// lessWater proposes the water that each person may use a day for a tank to last from one filling, or emptying, to the next.
func (w *wayfinder) lessWater() {
	longest := w.f.course.longestLeg(fillName(w.end.Store))
	people, water := w.sys.People, w.sys.Water
	share := 1.0
	holds, value, path, kept := water.FreshL, &w.doc.Stores.WaterUse, "stores/water per person", leastWaterL
	switch w.end.Store {
	case "grey tank":
		holds, share = water.GreyL, water.GreyPerDay/math.Max(water.FreshPerDay, 1e-9)
	case "black tank":
		holds, value, path, kept = water.BlackL, &w.doc.Stores.BlackUse, "stores/black per person", 0
	}
	if longest <= 0 || people <= 0 || share <= 0 {
		return
	}
	each := holds / (longest * people * share)
	said := downTo(each, w.doc.Units() == quantity.US)
	was := value.Quantity.Base
	if each = said.Base; each >= was || each < kept || w.end.Store == "black tank" && each < was/2 {
		return // no need, or no life
	}
	doc := *w.doc
	stores := *w.doc.Stores
	doc.Stores = &stores
	plain := rig.Value{Quantity: said, State: figure.Plain, At: value.At}
	what := "use at most"
	if w.end.Store == "black tank" {
		stores.BlackUse, what = plain, "put into the black tank at most"
	} else {
		stores.WaterUse = plain
	}
	words := say("%s %s a person, in place of %s", what, of(each, quantity.FlowPerDay), of(was, quantity.FlowPerDay))
	saved := figure.Exact("saved a day", (was-each)*people*share, quantity.Volume)
	w.attempt(words, &doc, change{}, []rig.Edit{{Path: path, Old: system.AsWritten(*value), New: plain.Text()}}, saved)
}

// downTo rounds a daily use [L/d] down to a tenth of the unit that people count in, so that what is proposed keeps its promise.
func downTo(litres float64, us bool) quantity.Quantity {
	unit, by := "L/d", 1.0
	if us {
		unit, by = "gal/d", litresPerGallon
	}
	q, err := quantity.Of(math.Floor(10*litres/by+1e-9)/10, quantity.FlowPerDay, unit)
	if err != nil {
		return of(litres, quantity.FlowPerDay)
	}
	return q
}

const litresPerGallon = 3.785411784

// haul proposes to fill, or empty, a store by the day until which it holds in 19 runs of 20, again after as many days, and at every move. Other tanks
// that hold as long, but not until the second haul, are hauled with it.
//
// Propane goes faster in colder weeks than in those before its first end: shorter times between hauls are tried until one carries 19 runs of 20.
func (w *wayfinder) haul() {
	kept := w.list
	for days := int(w.end.Lasts.Low / 24); days >= 1 && w.err == nil; days = min(days-1, days*4/5) {
		w.list = nil
		w.haulEvery(days)
		if done := len(w.list) > 0 && w.list[0].Lasts.Low >= 24*w.f.stay()-1; done || w.end.Store != "propane" || days == 1 {
			break
		}
	}
	w.list = append(kept, w.list...)
}

// haulEvery proposes a haul after so many days, and again after as many.
func (w *wayfinder) haulEvery(days int) {
	what := []string{fillName(w.end.Store)}
	for _, s := range w.now {
		tank := strings.HasSuffix(s.Store, "tank") || s.Store == "fresh water"
		if tank && s.Store != w.end.Store && w.end.Store != "propane" && s.matters() && s.Lasts.Low >= 24*float64(days) && s.Lasts.Low < 48*float64(days) {
			what = append(what, fillName(s.Store))
		}
	}
	slices.Sort(what)
	hauls := strings.Join(what, ", ")
	set := func(s *Site) {
		if s.FirstDay > 0 {
			s.Fills = joined(s.Fills, hauls)
		}
		if s.Nights > days {
			s.Hauls, s.HaulDays = joined(s.Hauls, hauls), days
		}
	}
	var edits []rig.Edit
	hauled, moves := 0, 0
	for i := range w.f.course.Sites {
		s := w.f.course.Sites[i]
		was := s
		set(&s)
		if s.Stop == 0 || s.Stop > len(w.doc.Trip) {
			return // a home
		}
		stop, path := &w.doc.Trip[s.Stop-1], fmt.Sprintf("trip/%d/", s.Stop)
		if s.Fills != was.Fills {
			edits = append(edits, rig.Edit{Path: path + "fills", Old: stop.Fills, New: s.Fills})
			moves++
		}
		if s.HaulDays > 0 && s.HaulDays == days {
			edits = append(edits, rig.Edit{Path: path + "hauls", Old: stop.Hauls, New: s.Hauls},
				rig.Edit{Path: path + "hauls every", Old: system.AsWritten(stop.HaulEvery), New: fmt.Sprintf("%d d", days)})
			hauled += (s.Nights - 1) / days
		}
	}
	if len(edits) == 0 {
		return
	}
	words := hauling(what)
	if hauled > 0 {
		words += fmt.Sprintf(" by %s, after %s", w.f.course.Start.AddDate(0, 0, days).Format("Mon 2 Jan 2006"), plural(days, "day"))
	}
	if hauled > 1 {
		words += fmt.Sprintf(", and every %s of a stop, %d times in all", strings.TrimPrefix(plural(days, "day"), "1 "), hauled)
	}
	if moves > 0 {
		words += map[bool]string{true: ", and", false: ""}[hauled > 0] + " at every move"
	}
	w.attempt(same(words), w.doc, change{sites: set}, edits, figure.Figure{Kind: quantity.Volume})
}

// hauling says what is done to stores by a haul: "fill fresh water and empty the grey tank".
func hauling(what []string) string {
	var fill, empty []string
	for _, store := range what {
		if store == "fresh water" || store == "propane" {
			fill = append(fill, store)
		} else {
			empty = append(empty, store)
		}
	}
	var did []string
	if len(fill) > 0 {
		did = append(did, "fill "+figure.List(fill))
	}
	if len(empty) > 0 {
		did = append(did, "empty the "+figure.List(empty)+map[bool]string{true: " tanks", false: " tank"}[len(empty) > 1])
	}
	return figure.List(did)
}

// joined adds stores to a list of them.
func joined(was, more string) string {
	for _, word := range strings.Split(more, ", ") {
		switch {
		case was == "":
			was = word
		case !names(was, word):
			was += ", " + word
		}
	}
	return was
}

// Package n02 is the room of rule N02.
package n02

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N02", Title: "breakaway brakes dead when something opens", Holds: "breakaway brakes stay fed", Worst: check.Stop,
	What: "What feeds the breakaway brakes of a trailer: a battery of their own, or a place in the house wiring, with every switch, disconnect, relay and cut-off between " +
		"the bank and that place, out and back, opened in turn.",
	Why: "A trailer that tears loose has only these brakes. Behind a switch that is off for storage, or on a bank whose electronics have opened, they do " +
		"nothing, and nobody notices before.",
	Except: "Trailers and fifth wheels alone. A fuse or breaker in the feed is meant to be there. A battery of their own must still be charged and tested: pull the " +
		"pin and hear the magnets.",
	Formula:   "brakes stay fed with each switch open, from a source that cannot open by itself",
	Source:    check.Practice,
	Sure:      "as sure as the wiring that is written",
	Questions: []string{"What feeds the breakaway brakes: a battery of their own, or which place of the house wiring?"},
	Run:       run,
}

const place = "breakaway brakes"

func run(c check.Case) []check.Outcome {
	if c.Doc.Kind != "travel trailer" && c.Doc.Kind != "fifth wheel" {
		return nil
	}
	o := check.Outcome{Place: place, Part: place}
	feed := strings.TrimSpace(strings.TrimSuffix(c.Said.Breakaway, "+"))
	switch {
	case feed == "" || feed == "unknown":
		o.Verdict, o.Title = check.Undecided, "not told what feeds breakaway brakes"
		o.Measure = []string{"follow the feed of the breakaway switch: to a battery of its own, or to which place of the house wiring"}
		return []check.Outcome{o}
	case feed == rig.OwnBattery:
		o.Verdict, o.Detail = check.Pass, "They have a battery of their own."
		return []check.Outcome{o}
	case strings.HasPrefix(feed, "vehicle"):
		o.Verdict, o.Title = check.Stop, "breakaway brakes fed by the vehicle"
		o.Detail = "The feed parts with the trailer."
	case c.Doc.Bank != nil && c.Doc.Bank.Chemistry == "LFP":
		o.Verdict, o.Title = check.Stop, "breakaway brakes on a bank that opens"
		o.Detail = "The only feed is an LFP bank, whose electronics can open at any time."
		if dark, _ := opens(c, feed); len(dark) > 0 {
			o.Detail += " They are dark, too, with " + strings.Join(dark, " or ") + " open."
		}
	default:
		o = walk(c, feed, o)
	}
	o.Ways = []string{"a small lead-acid battery of their own, charged through a diode or its own charger", "feed them ahead of every switch, from a lead-acid battery"}
	o.Tries = []check.Cure{{Words: "give the breakaway brakes a battery of their own", Edits: []rig.Edit{check.SetWord(place, c.Said.Breakaway, rig.OwnBattery)}}}
	if c.Doc.Bank != nil && c.Doc.Bank.Chemistry != "LFP" && feed != "bank" {
		o.Tries = append(o.Tries, check.Cure{Words: "feed the breakaway brakes from the posts of the bank", Edits: []rig.Edit{check.SetWord(place, c.Said.Breakaway, "bank")}})
	}
	return []check.Outcome{o}
}

// walk opens what stands between a lead-acid bank and the feed, one after the other.
func walk(c check.Case, feed string, o check.Outcome) check.Outcome {
	if feed == "bank" || strings.HasPrefix(feed, "block ") {
		o.Verdict, o.Detail = check.Pass, "They are fed at the posts of the bank, ahead of every switch."
		return o
	}
	dark, known := opens(c, feed)
	switch {
	case !known:
		o.Verdict, o.Title = check.Undecided, "way to breakaway brakes not told"
		o.Measure = []string{fmt.Sprintf("follow the cable from the bank to %s and write the runs and switches in it", feed)}
	case len(dark) > 0:
		o.Verdict, o.Title = check.Stop, "breakaway brakes behind a switch"
		o.Detail = "They are dark with " + strings.Join(dark, " or ") + " open."
	case returnOpen(c, feed):
		o.Verdict, o.Title = check.Undecided, "return of breakaway brakes not told"
		o.Detail = "No switch, relay or cut-off stands in the plus up to " + feed + ". The way back to the bank is not written."
		o.Measure = []string{"follow the return of the breakaway switch back to the bank, and write its runs and the switches in it"}
	default:
		o.Verdict, o.Detail = check.Pass, "No switch, relay or cut-off stands between the bank and "+feed+"."
	}
	return o
}

// returnOpen tells whether the way back from a place is not written, and may lead through something that opens.
func returnOpen(c check.Case, feed string) bool {
	n := c.Nets()
	return n != nil && !n.Returned(feed) && n.MinusOpens()
}

// opens returns the devices that darken a place when opened; known is false where the wiring does not reach it.
func opens(c check.Case, feed string) (dark []string, known bool) {
	n := c.Nets()
	if n == nil {
		return nil, false
	}
	if _, known = n.Fed(feed, -1); !known {
		return nil, false
	}
	for _, i := range n.Darkens() {
		if fed, ok := n.Fed(feed, i); ok && !fed {
			dark = append(dark, n.Net().Devices[i].Title(n.Net()))
		}
	}
	return dark, true
}

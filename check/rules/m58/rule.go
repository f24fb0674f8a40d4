// Package m58 is the room of rule M58.
package m58

import (
	"fmt"
	"slices"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M58", Title: "neutral and ground not joined once", Holds: "neutral and ground joined exactly once", Worst: check.Stop,
	What: "How many times neutral and ground are joined in each way the rig's AC is fed: from shore, from each generator, and from the inverters.",
	Why: "Joined twice, the ground carries current all day: frames and hoses stand under voltage when one joint fails, and protected outlets trip. Not " +
		"joined at all, the first fault opens no breaker and waits for a hand.",
	Except: "The post of a campground or house is taken to join them once, as its code demands; a tester at the post tells. A portable generator that floats is told as a note, " +
		"and so is an inverter that floats behind outlets of its own, or where the book allows an isolated supply with a residual-current device. What is not told is asked once.",
	Formula:   "bonds in each way of feeding = 1",
	Source:    "[NEC-551]",
	Sure:      "the rule is sure; what joins neutral and ground in a rig is as sure as the look at it",
	Questions: []string{"Does the rig's panel join neutral and ground?", "Does the inverter, by a relay or always?", "Does the generator, and is it portable or built in?", "Does the inverter feed the panel straight on, or through a transfer switch?"},
	Caution:   check.ShorePower,
	Run:       run,
}

// joint is something that joins neutral and ground in a way of feeding: surely between low and high times.
type joint struct {
	symbol, name string
	low, high    int
	ask          string // how to find out
}

// way is one way in which the rig's AC is fed.
type way struct {
	place, part, title string
	joints             []joint
	none               check.Verdict // what none at all is worth
	noneTitle          string
	noneAsk            string // what must be known before none at all is worth anything; empty where that is known
	tries              []check.Cure
}

func run(c check.Case) []check.Outcome {
	var ways []way
	if c.Doc.Shore != nil {
		w := way{place: "shore", part: "on shore", title: "on shore", none: check.Fail, noneTitle: "neutral not joined on shore",
			joints: []joint{{symbol: "Npost", name: "the post", low: 1, high: 1}}}
		w.panel(c)
		w.inverters(c)
		ways = append(ways, w)
	}
	for i := range c.Doc.Generators {
		ways = append(ways, generator(c, &c.Doc.Generators[i]))
	}
	ways = append(ways, inverting(c)...)
	var list []check.Outcome
	var places, parts, asks []string
	for i := range ways {
		o, open := ways[i].judge()
		if o.Verdict == check.Undecided {
			places, parts = append(places, o.Place), append(parts, o.Part)
			for _, a := range open {
				if !slices.Contains(asks, a) {
					asks = append(asks, a)
				}
			}
			continue
		}
		list = append(list, o)
	}
	if len(asks) > 0 {
		list = append(list, check.Ask("not told where neutral is joined", places, parts, asks))
	}
	return list
}

func (w *way) add(j joint) { w.joints = append(w.joints, j) }

// cure adds the edit that makes a joint read as text.
func (w *way) cure(words, path, said, text string) {
	w.tries = append(w.tries, check.Cure{Words: words, Edits: []rig.Edit{check.SetWord(path, said, text)}})
}

// panel adds what the rig's own wiring joins, where the file has a place to say so.
func (w *way) panel(c check.Case) {
	j := joint{symbol: "Npanel", name: "the rig's own panel", ask: "with everything unplugged and off, measure between the neutral and ground bars of the rig's panel: they must not be joined"}
	switch s := c.Doc.Shore; {
	case s == nil || s.Bonds == "no":
	case s.Bonds == "yes":
		j.low, j.high = 1, 1
		w.cure("part neutral and ground in the rig's panel", "shore/bonds neutral", "yes", "no")
	default:
		j.high = 1
	}
	w.add(j)
}

// inverters adds what the inverters join while something else feeds the panel: those whose neutral stays joined to it and whose bond does not open.
func (w *way) inverters(c check.Case) {
	n := 0
	for i := range c.Doc.Inverters {
		v := &c.Doc.Inverters[i]
		if v.Feeds == "own outlets" || v.Feeds == "transfer switch" || v.Bonds == "never" || v.Bonds == "relay" {
			continue
		}
		j := joint{symbol: "Ninv" + letter(n), name: "inverter " + v.Name, high: 1, ask: bondAsk(v)}
		if v.Bonds == "always" {
			j.ask = fmt.Sprintf("see whether inverter %s feeds the panel straight on, or through a transfer switch that switches the neutral too", v.Name)
			if v.Feeds == "panel" {
				j.low = 1
				w.cure("take an inverter whose bond opens while it passes AC through, as "+v.Name, "inverters/"+v.Name+"/bonds neutral", v.Bonds, "relay")
				w.cure("put a transfer switch that switches the neutral behind "+v.Name, "inverters/"+v.Name+"/feeds", v.Feeds, "transfer switch")
			}
		}
		w.add(j)
		n++
	}
}

func letter(i int) string {
	if i == 0 {
		return ""
	}
	return string(rune('a' + i))
}

func bondAsk(v *rig.Inverter) string {
	return fmt.Sprintf("look up in the manual of inverter %s whether it joins neutral and ground: always, by a relay while it inverts, or never", v.Name)
}

// generator is a generator that feeds the rig.
func generator(c check.Case, g *rig.Generator) way {
	w := way{place: "generators/" + g.Name, part: "on generator " + g.Name, title: "on the generator", none: check.Note, noneTitle: "generator floats against ground"}
	switch {
	case c.Doc.Book == "au-nz": // an isolated supply behind a residual-current device
	case g.BuiltIn == "yes":
		w.none, w.noneTitle = check.Fail, "built-in generator floats against ground"
		w.cure("join them at generator "+g.Name, "generators/"+g.Name+"/bonds neutral", g.Bonds, "yes")
	case g.BuiltIn != "no":
		w.noneAsk = "see whether generator " + g.Name + " is portable, or built in and wired to the panel"
	}
	j := joint{symbol: "Ngen", name: "generator " + g.Name, ask: "look up whether generator " + g.Name + " joins neutral and ground, or floats"}
	switch g.Bonds {
	case "yes":
		j.low, j.high = 1, 1
	case "no":
	default:
		j.high = 1
	}
	w.add(j)
	w.panel(c)
	w.inverters(c)
	return w
}

// inverting returns the ways in which inverters feed the rig: those on the panel together, and each with outlets of its own by itself.
func inverting(c check.Case) []way {
	var shared []*rig.Inverter
	var list []way
	for i := range c.Doc.Inverters {
		v := &c.Doc.Inverters[i]
		if v.Feeds != "own outlets" {
			shared = append(shared, v)
			continue
		}
		w := way{place: "inverters/" + v.Name, part: "on inverter " + v.Name, title: "on the inverter", none: check.Note, noneTitle: "inverter floats behind its outlets"}
		w.add(closing(v, 0))
		list = append(list, w)
	}
	if len(shared) == 0 {
		return list
	}
	w := way{place: "inverters/" + shared[0].Name, part: "on inverter", title: "on the inverter", none: check.Fail, noneTitle: "neutral not joined while inverting"}
	if c.Doc.Book == "au-nz" {
		w.none, w.noneTitle = check.Note, "inverter is an isolated supply"
	}
	for i, v := range shared {
		j := closing(v, i)
		if unsure := v.Feeds == "" || v.Feeds == "unknown"; unsure && (len(shared) > 1 || v.Bonds == "never") {
			// By itself behind outlets of its own it would be no part of this way.
			j.low = 0
			j.ask = "see whether inverter " + v.Name + " feeds the panel or outlets of its own"
			if v.Bonds == "never" {
				j.high = 1
			}
		}
		if v.Bonds == "never" {
			w.cure("take an inverter that joins them by a relay, as "+v.Name, "inverters/"+v.Name+"/bonds neutral", v.Bonds, "relay")
		} else if i > 0 {
			w.cure("give "+v.Name+" outlets of its own", "inverters/"+v.Name+"/feeds", v.Feeds, "own outlets")
		}
		w.add(j)
	}
	w.panel(c)
	return append(list, w)
}

// closing is what an inverter joins while it inverts.
func closing(v *rig.Inverter, i int) joint {
	j := joint{symbol: "Ninv" + letter(i), name: "inverter " + v.Name, ask: bondAsk(v)}
	switch v.Bonds {
	case "always", "relay":
		j.low, j.high = 1, 1
	case "never":
	default:
		j.high = 1
	}
	return j
}

// judge counts the joints of a way.
func (w *way) judge() (check.Outcome, []string) {
	low, high := 0, 0
	var asks, has, symbols []string
	var terms []figure.Term
	for _, j := range w.joints {
		low, high = low+j.low, high+j.high
		if j.low != j.high {
			asks = append(asks, j.ask)
		}
		if j.low > 0 {
			has = append(has, j.name)
		}
		symbols = append(symbols, j.symbol)
		terms = append(terms, check.Number(j.symbol, j.name, quantity.Count, float64(j.low), "neutral to ground"))
	}
	o := check.Outcome{Place: w.place, Part: w.part}
	most, sign := 1.0, "≤"
	switch {
	case low > 1:
		o.Verdict, o.Title = check.Stop, "neutral joined twice "+w.title
		o.Detail = "Joined at " + strings.Join(has, " and at ") + "."
		o.Ways = []string{"leave the one joint at the source that is feeding, and part all others", "an inverter whose bond opens while AC comes in"}
	case high == 0 && w.noneAsk != "":
		o.Verdict = check.Undecided
		return o, []string{w.noneAsk}
	case high == 0:
		o.Verdict, o.Title, sign = w.none, w.noneTitle, "≥"
		o.Detail = "Nothing joins neutral and ground then."
		if w.none == check.Note {
			o.Detail = "Nothing joins neutral and ground then: the first fault trips nothing. Use it with a residual-current device, one thing at a time, or join them at its own terminals where its maker allows it."
		}
		o.Ways = []string{"an inverter that joins them by a relay while it inverts", "outlets of its own for things with double insulation"}
		if strings.HasPrefix(w.place, "generators/") {
			o.Ways = []string{"join neutral and ground at the generator's own terminals, where its maker allows it", "a transfer switch that joins them while the generator feeds"}
		}
	case low == 1 && high == 1:
		o.Verdict, o.Title = check.Pass, "neutral joined once "+w.title
		o.Detail = "Joined at " + strings.Join(has, "") + " alone."
	default:
		o.Verdict = check.Undecided
		return o, asks
	}
	o.Tries = w.tries
	q := check.Inequality{Formula: "n = " + strings.Join(symbols, " + ") + " " + sign + " Nonce", Name: "joints of neutral and ground", Kind: quantity.Count, Source: "[NEC-551]",
		Inputs: append(terms, check.Number("Nonce", "joints there must be", quantity.Count, most, "[NEC-551]"))}
	if w.none != check.Note || high > 0 {
		o.Numbers = q.Judge().Working
	}
	return o, nil
}

// Package m41 is the room of rule M41.
package m41

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M41", Title: "inverter cable too thin or long", Holds: "inverter gets its voltage", Worst: check.Fail,
	What: "What is lost between the bank's posts and the inverter's terminals at full load, cables, lugs, fuses, switch and shunt together, out of the " +
		"solved network; and the voltage left there, against the inverter's cut-off. And every load of which the cable gives too little for any voltage to hold.",
	Why: "The inverter alarms or stops with a bank that is half full, and what is lost heats the cable.",
	Except: "Above 3 % it works and is a WARN; at or below the cut-off it does not, and is a FAIL. What is left unserved only at one end " +
		"of the guesses, or by a cable of unknown size, is a question. The bank is taken at the reserve of the aims. A start of a second " +
		"may go lower.",
	Formula:   "ΔV / Vnom ≤ 3 %; Vinv ≥ Voff",
	Source:    "Ohm's law; 3 %: [ABYC-E11]",
	Sure:      "exact for the ohms stated; each lug nobody measured is taken as a good one",
	Questions: []string{"How long are the cables to the inverter, one way, and of which size?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// allowed is the share of the bank's voltage that may be lost, by boat builders for feeders.
const allowed = 0.03

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil || !c.Wired() {
		return nil
	}
	list := append(unreached(c, n.Net()), unserved(c, n)...)
	sets, ok := n.In(system.StateInverter)
	if !ok {
		return list
	}
	for i := range c.Doc.Inverters {
		name := "inverter " + c.Doc.Inverters[i].Name
		if p, ok := sets[1].Part(name); ok && p.Amps > 0 && !slices.ContainsFunc(list, func(o check.Outcome) bool { return o.Place == "inverters/"+c.Doc.Inverters[i].Name }) {
			list = append(list, judge(c, n, sets, &c.Doc.Inverters[i], name))
		}
	}
	return list
}

// unreached asks for the way to the bank and to each inverter, where DC runs are written and none of them goes there.
func unreached(c check.Case, net *system.Network) []check.Outcome {
	if !slices.ContainsFunc(net.Runs, func(r system.Run) bool { return r.Side == conductor.Battery && !r.Branch }) {
		return nil
	}
	var list []check.Outcome
	for _, l := range net.Loose {
		bank := l.Part == "bank" || strings.HasPrefix(l.Part, "block ")
		if l.Taken || !bank && !strings.HasPrefix(l.Part, "inverter ") || !strings.Contains(l.Why, "no run ") {
			continue
		}
		list = append(list, check.Outcome{Verdict: check.Undecided, Place: l.Path, Part: l.Part, Title: "no run reaches it",
			Detail: "The wiring that is written joins nothing to it: what flows there is not judged.", Measure: []string{"write the runs that lead to " + l.Part + ", with size and length"}})
	}
	return list
}

// unserved names what asks for more than its line gives, so that no voltage holds: each load once, in the state that leaves it least.
func unserved(c check.Case, n *check.Nets) []check.Outcome {
	net := n.Net()
	var list []check.Outcome
	for k := range n.Solved[1] {
		s := &n.Solved[1][k]
		if s.Problem != "" && !s.State.Surge {
			list = append(list, check.Outcome{Verdict: check.Undecided, Place: "bank", Part: s.State.Name, Title: "a state has no operating point", Detail: "In state \"" + s.State.Name + "\" " + s.Problem + ".",
				Measure: []string{"measure the voltage where the hardest load hangs while all of it runs"}})
		}
		for _, u := range s.Unserved {
			if s.State.Surge {
				continue
			}
			o := check.Outcome{Verdict: check.Fail, Place: "bank", Part: u.Name, Title: "cable too thin for what it feeds", Ways: []string{"a thicker or shorter cable", "less load on it"},
				Consequence: "The voltage falls until the load stops or something opens, and the cable heats meanwhile."}
			ask := "measure the length and read the size of every cable on the way to " + u.Name
			if u.Load >= 0 {
				for i := range net.Runs {
					if r := &net.Runs[i]; r.Core[0].To == net.Loads[u.Load].Plus {
						o.Place, o.Part, o.Tries = r.Path, r.Title(), c.SizeCures(r)
						o = o.Unsure(r)
					}
				}
			} else {
				o.Place, o.Title = "inverters/"+strings.TrimPrefix(u.Name, "inverter "), "inverter load has no operating point"
				o.Consequence, o.Ways, o.Tries = "The inverter drags the bank down until something opens.", []string{"thicker or shorter cables", "a smaller inverter"}, tries(c, n)
			}
			o.Detail = fmt.Sprintf("In state %q it asks %s; its line gives %s at most, with everything else off.", s.State.Name, check.Say(u.Watts, quantity.Power), check.Say(u.MostW, quantity.Power))
			if u.MostW >= u.Watts {
				o.Detail = fmt.Sprintf("In state %q no voltage holds: it asks %s, and its line gives %s with everything else off, less with it on.", s.State.Name, check.Say(u.Watts, quantity.Power), check.Say(u.MostW, quantity.Power))
			}
			if o.Verdict == check.Fail && !always(n, k, u.Name) { // at one end of the guesses it is served
				o.Verdict, o.Measure = check.Undecided, []string{ask}
			}
			if u.Load >= 0 && net.Loads[u.Load].Unknown && o.Verdict == check.Fail {
				o.Verdict, o.Measure = check.Undecided, []string{"find out what " + u.Name + " draws"}
			}
			if !slices.ContainsFunc(list, func(x check.Outcome) bool { return x.Place == o.Place }) {
				list = append(list, o)
			}
		}
	}
	return list
}

// always tells whether something is left unserved in a state wherever the guesses lie.
func always(n *check.Nets, state int, name string) bool {
	for lean := range n.Solved {
		if !slices.ContainsFunc(n.Solved[lean][state].Unserved, func(u system.Unserved) bool { return u.Name == name }) {
			return false
		}
	}
	return true
}

func judge(c check.Case, n *check.Nets, sets [3]*system.Solved, v *rig.Inverter, name string) check.Outcome {
	var lost, left [3]float64
	for lean, s := range sets {
		p, _ := s.Part(name)
		lost[lean], left[lean] = s.BankPostsV()-p.Volts, p.Volts
	}
	p, _ := sets[1].Part(name)
	guessed := guesses(n)
	term := func(symbol, what string, kind quantity.Kind, x [3]float64) figure.Term {
		t := check.Computed(symbol, what, kind, x[1], "solved: "+system.StateInverter)
		if guessed {
			t = check.Between(symbol, what, kind, x[1], math.Min(x[0], x[2]), math.Max(x[0], x[2]), "solved: "+system.StateInverter)
		}
		return t
	}
	hints := map[string]string{"R": "measure the voltage at the posts and at the inverter under a known load", "V0": "measure the voltage at the inverter under full load"}
	place, part := "inverters/"+v.Name, name
	cut := check.Inequality{Formula: "Vinv = V0 ≥ Voff", Name: "voltage at its terminals", Kind: quantity.Voltage, Hints: hints, Source: "solved network",
		Inputs: []figure.Term{term("V0", "voltage at its terminals at full load", quantity.Voltage, left), check.Known("Voff", "voltage at which it stops", c.Doc.Bank.InverterOff)}}
	o := cut.Judge().Outcome(place, part, check.Fail)
	if o.Verdict == check.Fail {
		o.Title, o.Consequence = "inverter stops before the bank is empty", fmt.Sprintf("At full load %.2f V reach it, and it stops there with charge left.", left[1])
	} else {
		ohm := [3]float64{}
		for lean, s := range sets {
			q, _ := s.Part(name)
			ohm[lean] = lost[lean] / q.Amps
		}
		q := check.Inequality{Formula: "p = I × R / Vnom ≤ pmax", Name: "share of voltage lost", Kind: quantity.Share, Hints: hints, Source: "Ohm's law; [ABYC-E11]",
			Inputs: []figure.Term{check.Computed("I", "current at full load", quantity.Current, p.Amps, "solved: "+system.StateInverter), term("R", "from posts to inverter, there and back", quantity.Resistance, ohm),
				check.Number("Vnom", "bank, nominal", quantity.Voltage, c.BankV(), "bank"), check.Number("pmax", "share that practice allows", quantity.Share, allowed, "[ABYC-E11]")}}
		if w := q.Judge().Outcome(place, part, check.Warn); w.Verdict == check.Warn || o.Verdict == check.Pass {
			o = w
			if o.Verdict == check.Warn {
				o.Consequence = "The inverter alarms early, and the cables heat the bay."
			}
		}
	}
	o.Detail = fmt.Sprintf("At full load %.0f A flow, %.2f V are lost and %.2f V are left.", p.Amps, lost[1], left[1])
	o.Ways = []string{"thicker or shorter cables between bank and inverter", "the inverter closer to the bank"}
	o.Tries = tries(c, n)
	return o
}

// guesses tells whether a run on the way to an inverter rests on a guess.
func guesses(n *check.Nets) bool {
	net := n.Net()
	for i := range net.Runs {
		if r := &net.Runs[i]; len(r.Guessed) > 0 && n.Run(i).State == system.StateInverter && n.Run(i).Amps > 20 {
			return true
		}
	}
	return false
}

// tries makes all heavy runs of the way thicker at once, size by size.
func tries(c check.Case, n *check.Nets) []check.Cure {
	net := n.Net()
	byWords := map[string]*check.Cure{}
	var list []check.Cure
	var order []string
	for i := range net.Runs {
		r := &net.Runs[i]
		if f := n.Run(i); f.State != system.StateInverter || f.Amps < 50 {
			continue
		}
		for _, cure := range c.SizeCures(r) {
			words := "lay the inverter's cables in " + cure.Edits[0].New
			if byWords[words] == nil {
				byWords[words] = &check.Cure{Words: words}
				order = append(order, words)
			}
			byWords[words].Edits = append(byWords[words].Edits, cure.Edits...)
		}
	}
	for _, words := range order {
		list = append(list, *byWords[words])
	}
	return list
}

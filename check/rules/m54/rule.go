// Package m54 is the room of rule M54.
package m54

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M54", Title: "outlet loaded above its continuous share", Holds: "outlet bears what runs for hours", Worst: check.Fail,
	What: "Everything that runs for hours on a hookup, chargers at full output, or the shore limit where that is less, against four fifths of the " +
		"breaker.",
	Why: "A breaker and a worn outlet bear their rating for minutes, and four fifths of it for hours. Over that the breaker opens at night, or the " +
		"outlet bakes.",
	Except: "Loads that run for less than three hours are left to the people. What else hangs on a house's circuit is not known to the file: less is " +
		"left there. On two legs the loads are taken as evenly shared.",
	Formula:   "sum of lasting currents, or the shore limit ≤ 80 % × breaker",
	Source:    "[NEC-210] 210.20(A)",
	Sure:      "standard from memory; powers as said",
	Questions: []string{"What shore limit is the inverter/charger set to?"},
	Caution:   check.ShorePower,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil {
		return nil // the chargers' voltage is not known
	}
	var list []check.Outcome
	for _, p := range c.Services() {
		post := c.Post(p.Service)
		sum, inputs := c.LastingAC(post.Volts)
		if sum == "" {
			continue
		}
		q := check.Inequality{
			Formula: "Isum = " + legs(sum, post.Legs) + " ≤ f × Ibreaker", Name: "drawn for hours", Kind: quantity.Current, Inputs: inputs, Source: "[NEC-210] 210.20(A)",
		}
		if post.Legs == 2 {
			q.Inputs = append(q.Inputs, check.Number("L", "legs", quantity.Count, 2, "hookup"))
		}
		if limit := c.Doc.Shore; limit != nil && limit.Limit.Known() {
			q.Formula = "Isum = min(" + legs(sum, post.Legs) + ", Ilimit) ≤ f × Ibreaker"
			q.Inputs = append(q.Inputs, check.Known("Ilimit", "shore limit that is kept", limit.Limit))
		}
		q.Inputs = append(q.Inputs, check.Number("f", "continuous share of a breaker", quantity.Share, post.Continuous, "[NEC-210] 210.20(A)"),
			check.Number("Ibreaker", "breaker of the "+post.Name+" hookup", quantity.Current, post.Amps, "hookup"))
		o := q.Judge().Outcome(p.Sites[0].Path, post.Name+" hookup", check.Fail)
		honest := post.Continuous * post.Amps
		var where []string
		for _, s := range p.Sites {
			where = append(where, strings.TrimPrefix(check.At(s), "at "))
		}
		o.Detail = fmt.Sprintf("The honest limit there is %s, %s, less what else shares the circuit. Where: %s.", check.Say(honest, quantity.Current),
			check.Say(honest*post.Volts*float64(post.Legs), quantity.Power), figure.List(where))
		o.Ways = []string{fmt.Sprintf("set a shore limit of %.0f A or less", honest), "set the charger lower, or run one large load at a time"}
		if c.Doc.Shore != nil {
			o.Tries = []check.Cure{{Words: fmt.Sprintf("set the shore limit to %.0f A", honest), Edits: []rig.Edit{check.Set("shore/limit", saidLimit(c), fmt.Sprintf("%.0f A", honest))}}}
		}
		list = append(list, o)
	}
	return list
}

func saidLimit(c check.Case) rig.Value {
	if c.Said.Shore == nil {
		return rig.Value{}
	}
	return c.Said.Shore.Limit
}

// legs shares a sum evenly between the legs of a service.
func legs(sum string, n int) string {
	if n == 2 {
		return "(" + sum + ") / L"
	}
	return sum
}

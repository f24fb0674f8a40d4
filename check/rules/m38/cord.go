package m38

import (
	"fmt"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// cord judges the shore cord behind the breaker of the largest post that it is plugged into. Behind an adapter on a larger post than the inlet the rig's own main
// breaker holds the load to the inlet's, so that the inlet's counts: common practice, no source.
func cord(c check.Case, net *system.Network) (check.Outcome, bool) {
	var post convert.Service
	for _, p := range c.Services() {
		if s := c.Post(p.Service); s.Amps > post.Amps {
			post = s
		}
	}
	amps, origin := net.CordAmps()
	if post.Amps <= 0 || amps <= 0 {
		return check.Outcome{}, false
	}
	q := check.Inequality{Formula: "Fuse = F ≤ Icord", Name: "breaker before the cord", Kind: quantity.Current, Source: origin, Inputs: []figure.Term{
		check.Number("F", "breaker of the "+post.Name+" hookup", quantity.Current, post.Amps, "hookup"),
		check.Number("Icord", "what a conductor of the cord may carry", quantity.Current, amps, origin)}}
	o := q.Judge().Outcome("shore/cord", "shore cord", check.Fail)
	if o.Verdict == check.Pass {
		return o, true
	}
	o.Title = "post's breaker larger than the cord's rating"
	o.Consequence = "Overloaded, the cord melts before the breaker opens, the plug first."
	o.Detail = "A thin cord behind an adapter is for a post whose breaker it bears."
	o.Ways = []string{"a cord of a thicker size", fmt.Sprintf("plug this cord into a post of %.0f A or less", amps)}
	if said, ok := c.SaidValue("shore/cord/gauge"); ok && said.Given() {
		for _, size := range []string{"12 AWG", "10 AWG", "8 AWG", "6 AWG"} {
			o.Tries = append(o.Tries, check.Cure{Words: "take a cord of " + size, Edits: []rig.Edit{check.Set("shore/cord/gauge", said, size)}})
		}
	}
	return o, true
}

// Package m38 is the room of rule M38.
package m38

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M38", Title: "fuse larger than its wire can carry", Holds: "fuses protect their wires", Worst: check.Fail,
	What: "For every fuse and breaker: its rating against the largest device that the rig's book lets stand before the thinnest cable it protects, which " +
		"may lie behind a bus bar further on. And the breaker of the largest post against what the shore cord may carry.",
	Why: "With a fuse above what the cable bears, the cable is the fuse: it glows first.",
	Except: "Books differ: the ampacity on the road, 150 % of it on boats under 50 V, the next standard size in buildings. Cable of unknown size is a question, " +
		"air is taken at 40 C where no bay says how hot it gets. Array cables are rule M09. Behind an " +
		"adapter on a larger post the inlet counts: the rig's own main breaker holds the load to it, by common practice.",
	Formula:   "F ≤ Fmax",
	Source:    "by the rig's book: [CFR-183] 183.455, [NEC] 240.4 and, from memory, 400.5(A)(1), [IEC-60364-4-43]; on the battery side of us-rv " + check.Practice,
	Sure:      "tables of the book that is named; heat and bundles move them",
	Questions: []string{"What size is the cable behind the fuse?", "How hot does the bay get, and how many cables lie together?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	list := twice(c)
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if !d.Protects() || d.Run < 0 || net.Runs[d.Run].Side == conductor.Photovoltaic {
			continue
		}
		if o, ok := judge(c, n, net, i); ok {
			list = append(list, o)
		}
	}
	list = append(list, together(n, net)...)
	if o, ok := cord(c, net); ok {
		list = append(list, o)
	}
	return list
}

// together judges the cables behind the fuses of several blocks: each fuse alone is not above what such a cable bears, and all of them together let
// more through. Such a cable fails when more flows in it for hours than it may carry, and nothing would open.
func together(n *check.Nets, net *system.Network) []check.Outcome {
	var list []check.Outcome
	for k := range net.Runs {
		r := &net.Runs[k]
		g := n.Guard(k)
		if r.Unknown || !check.OffShore(r) || r.Side == conductor.Photovoltaic || g < 0 || net.Devices[g].Run < 0 || net.Devices[g].Run == k {
			continue
		}
		d := &net.Devices[g]
		if net.Blocks < 2 || !strings.HasPrefix(net.Runs[d.Run].From, "block ") {
			continue
		}
		rating, iz, err := n.Rating(r, r.Main().Gauge)
		f := n.Run(k)
		if err != nil || d.RatingA <= 0 || d.RatingA > rating.Amps || f.Low <= rating.Amps {
			continue
		}
		q := check.Inequality{Formula: "Icable = I ≤ Iz", Name: "current for hours", Kind: quantity.Current, Source: rating.Origin.String(), Hints: map[string]string{"Iz": check.ReadSize(r)},
			Inputs: []figure.Term{check.Computed("I", "solved, in state "+f.State, quantity.Current, f.Amps, "Kirchhoff's laws"), iz}}
		o := q.Judge().Outcome(r.Path, r.Title(), check.Fail)
		if o.Verdict == check.Pass {
			continue
		}
		o.Title = "fuses together above what their cable bears"
		o.Detail = fmt.Sprintf("Each fuse lets %.0f A through and all of them %.0f A, so none opens while the cable carries too much.", d.RatingA, d.RatingA*float64(net.Blocks))
		o.Ways = []string{fmt.Sprintf("a main fuse of %.0f A or less in %s", rating.Amps, r.Title()), "a thicker cable in " + r.Title()}
		list = append(list, o)
	}
	return list
}

// twice names appliances that hang on two branches of fuse blocks.
func twice(c check.Case) []check.Outcome {
	if c.Doc.Wiring == nil {
		return nil
	}
	first := map[string]string{}
	var list []check.Outcome
	for i := range c.Doc.Wiring.FuseBlocks {
		b := &c.Doc.Wiring.FuseBlocks[i]
		for k, path := range b.BranchPaths() {
			for _, name := range b.Branches[k].Feeds {
				switch before, found := first[name]; {
				case !found:
					first[name] = path
				case before != path:
					list = append(list, check.Outcome{Verdict: check.Warn, Place: path, Part: name, Title: "one appliance behind two fuses",
						Consequence: "With one fuse pulled it is still live through the other, and a fault in it is fed by both.",
						Detail:      fmt.Sprintf("It hangs on %s as well, and its current is counted on each.", strings.TrimPrefix(before, "wiring/")),
						Ways:        []string{"name it under the one fuse that really feeds it", "take one of the two feeds off"}})
				}
			}
		}
	}
	return list
}

// judge returns the worst that a device does to the cables it protects.
func judge(c check.Case, n *check.Nets, net *system.Network, i int) (check.Outcome, bool) {
	d := &net.Devices[i]
	var worst check.Outcome
	found := false
	for _, k := range n.Protected(i) {
		r := &net.Runs[k]
		for core := range r.Core {
			if r.Core[core].From < 0 || core == 1 && r.Core[1].Gauge == r.Core[0].Gauge && r.Core[0].From >= 0 {
				continue
			}
			o, ok := cable(c, n, net, d, r, r.Core[core].Gauge)
			if ok && (!found || o.Verdict > worst.Verdict || o.Verdict == worst.Verdict && o.Margin != nil && worst.Margin != nil && *o.Margin < *worst.Margin) {
				worst, found = o, true
			}
		}
	}
	return worst, found
}

func cable(c check.Case, n *check.Nets, net *system.Network, d *system.Device, r *system.Run, g conductor.Gauge) (check.Outcome, bool) {
	place, part := d.Path, d.Title(net)
	rating, iz, err := n.Rating(r, g)
	if d.RatingA == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{check.ReadPrint(net, d, "rating")}}, true
	}
	if err != nil {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{check.ReadSize(r)}}, true
	}
	limit, err := conductor.LargestFuse(rating, r.Volts)
	if err != nil {
		return check.Outcome{}, false
	}
	iz.Symbol, iz.Figure.Name = "Fmax", fmt.Sprintf("largest device before %s of %s", g, r.Title())
	iz.Figure.Value, iz.Figure.Low, iz.Figure.High, iz.Figure.Source = limit.Amps, limit.Amps, limit.Amps, limit.Origin.String()
	if r.Unknown {
		iz.Figure.Name = "largest device before " + r.Title() + ", whose size is not known"
	}
	q := check.Inequality{Formula: "Fuse = F ≤ Fmax", Name: "rating", Kind: quantity.Current, Source: limit.Origin.String(), Hints: map[string]string{"Fmax": check.ReadSize(r)},
		Inputs: []figure.Term{check.Known("F", "rating of "+part, d.Rating), iz}}
	o := q.Judge().Outcome(place, part, check.Fail)
	o.Detail = fmt.Sprintf("Book %s: %s bears %.0f A here.", net.Book, g, rating.Amps)
	o.Ways = []string{fmt.Sprintf("a device of %.0f A or less", limit.Amps), "a thicker cable in " + r.Title()}
	if less := smaller(c, net, d, limit.Amps); carries(n, net, d, limit.Amps) {
		o.Tries = append(less, c.SizeCures(r)...)
	} else {
		o.Tries = append(c.SizeCures(r), less...)
	}
	return o.Unsure(r), true
}

// carries tells whether the largest standard rating up to a limit [A] bears what flows through a device for hours, and a quarter.
func carries(n *check.Nets, net *system.Network, d *system.Device, most float64) bool {
	r, ok := conductor.Last(ratingsOf(d), most)
	if !ok {
		return false
	}
	for i := range net.Devices {
		if &net.Devices[i] == d {
			need, _ := conductor.SmallestFuse(n.Device(i).Amps)
			return r >= need
		}
	}
	return false
}

// ratingsOf returns the standard ratings of a device's family.
func ratingsOf(d *system.Device) []float64 {
	if f, ok := conductor.FamilyNamed(d.Family); ok {
		return f.Ratings
	}
	ratings, _ := conductor.StandardRatings()
	return ratings
}

// smaller offers the largest standard rating that the cable allows.
func smaller(c check.Case, net *system.Network, d *system.Device, most float64) []check.Cure {
	if r, ok := conductor.Last(ratingsOf(d), most); ok {
		return c.RatingCures(net, d, "rating", []float64{r}, "take %s A as %s")
	}
	return nil
}

// Package m34 is the room of rule M34.
package m34

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M34", Title: "first fuse too far from the post", Holds: "first fuse is near the post", Worst: check.Stop,
	What: "How far along the cable from each plus post of the bank the first overcurrent device stands, against the distance that the rig's book allows. " +
		"Every conductor on the post counts.",
	Why: why,
	Except: "Books differ: 7, 40 or 72 in on boats, 18 in on recreational vehicles, 200 mm or 1 m in Australia; the building code asks for as near as practicable, " +
		"and bare cable of more than 18 in is a WARN there. Sheathed or enclosed cable is a FAIL where bare cable is a STOP; no fuse at all is a STOP in " +
		"either. Leads that join blocks, and thin wires that only measure, are rules M33 and M46.",
	Formula:   "x ≤ xmax",
	Source:    "[CFR-183] 183.455, [ABYC-E11], [NEC] 552.10(E)(4), [ASNZS-3001-2], by the rig's book",
	Sure:      "the figure of the book that is named; current editions should be checked",
	Questions: []string{"How far from the post is the first fuse, along the cable?", "Does the cable lie in a sheath or enclosure all that way?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

const why = "Up to its first fuse a cable is fed by the bank alone: chafed through, it burns until the bank is empty."

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil || !c.Wired() {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Side != conductor.Battery || r.Core[0].From < 0 || sense(r) {
			continue
		}
		if far, ok := fromPost(net, r); ok {
			o := judge(c, net, r, far)
			o.Tries = tries(c, n, i)
			list = append(list, o)
		}
	}
	return list
}

// sense tells whether a run only measures, or links blocks.
func sense(r *system.Run) bool {
	return isBlock(r.From) && isBlock(r.To) || len(r.To) > 6 && r.To[:6] == "sense " || len(r.From) > 6 && r.From[:6] == "sense "
}

func isBlock(t string) bool { return len(t) > 6 && t[:6] == "block " }

// walked is the way from a post to the first device.
type walked struct {
	metres   float64
	low      float64
	high     float64
	sheathed bool
	found    bool // a device was met
	from     string
	guessed  bool
	taken    bool // the program took the place of the fuse, or the length of the cable, for want of a word about it
}

// fromPost walks a run that begins at a plus post, and what follows it where it has no device and ends on a bar that only such runs feed.
func fromPost(net *system.Network, r *system.Run) (walked, bool) {
	if !isBlock(r.From) && r.From != "bank" {
		return walked{}, false
	}
	w := walked{sheathed: r.Sheathed, from: r.From}
	w.add(net, r)
	at := r.Core[0].To
	for range 4 {
		if w.found {
			break
		}
		next := longestFrom(net, at)
		if next == nil {
			break
		}
		w.sheathed = w.sheathed && next.Sheathed
		w.add(net, next)
		at = next.Core[0].To
	}
	return w, true
}

// longestFrom returns the run that goes on from a node and has its first device farthest away.
func longestFrom(net *system.Network, node int) (best *system.Run) {
	far := -1.0
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Core[0].From != node || sense(r) {
			continue
		}
		w := walked{}
		w.add(net, r)
		if w.metres > far {
			best, far = r, w.metres
		}
	}
	return best
}

// add goes along one run up to its first device.
func (w *walked) add(net *system.Network, r *system.Run) {
	low, high := r.Length.Low, r.Length.High
	if low == 0 && high == 0 || !system.IsGuess(r.Length) {
		low, high = r.LengthM, r.LengthM
	}
	untold := r.Length.State < figure.About
	if untold && r.Wire.Ohms.Given() {
		low = 0 // a resistance tells nothing of where things stand
	}
	x := r.LengthM
	for k, d := range r.Devices {
		if q := &net.Devices[d]; q.Protects() {
			w.found = true
			if !math.IsNaN(q.AtM) {
				x, low, high, untold = q.AtM, q.AtM, q.AtM, false
			} else {
				share := float64(k+1) / float64(len(r.Devices)+1)
				x, low, untold = share*x, 0, true
			}
			break
		}
	}
	w.metres, w.low, w.high = w.metres+x, w.low+low, w.high+high
	w.guessed = w.guessed || low != high
	w.taken = w.taken || untold
}

func judge(c check.Case, net *system.Network, r *system.Run, w walked) check.Outcome {
	reach, err := conductor.FirstDevice(net.Book, conductor.BatteryPost, w.sheathed)
	if err != nil {
		return check.Outcome{Verdict: check.Undecided, Place: r.Path, Part: r.Title(), Measure: []string{"choose a book of rules"}}
	}
	part := r.Title()
	if !reach.Stated {
		return practicable(net, r, w, reach, part)
	}
	far := w.term(r, reach.Metres)
	if !w.found {
		far.Figure.Name = "along the cable without any device"
	}
	q := check.Inequality{Formula: "x = x0 ≤ xmax", Name: "unprotected length", Kind: quantity.Length, Source: reach.Origin.String(),
		Inputs: []figure.Term{far, check.Number("xmax", reach.Text, quantity.Length, reach.Metres, reach.Origin.String())},
		Hints:  map[string]string{"x0": "measure the distance from the post to the fuse, along " + part}}
	worst := check.Stop
	if w.sheathed && w.found {
		worst = check.Fail
	}
	o := q.Judge().Outcome(r.Path, part, worst)
	if !w.found && o.Verdict < check.Stop {
		o.Verdict, o.Margin = worst, nil
	}
	if o.Verdict >= check.Fail && !w.found {
		o.Title = "no fuse behind the post"
	}
	o.Detail = fmt.Sprintf("Book %s: %s.", net.Book, reach.Text)
	o.Ways = []string{"move the fuse to the post, or fit a terminal-mount fuse on it", "sheath the cable up to the fuse, where the book allows more length then"}
	return o
}

// tries moves the first fuse of a run to the post, or puts one there.
func tries(c check.Case, n *check.Nets, run int) []check.Cure {
	net := n.Net()
	r := &net.Runs[run]
	cure := check.Cure{Words: "put a fuse of class T at the post in " + r.Title()}
	for _, d := range r.Devices {
		if q := &net.Devices[d]; q.Protects() {
			cure.Words = fmt.Sprintf("move %s to the post", q.Title(net))
			cure.Edits = c.MoveToPost(q)
			break
		}
	}
	if cure.Edits == nil {
		cure.Edits = c.AddFuse(n, run)
	}
	if cure.Edits == nil {
		return nil
	}
	return []check.Cure{cure}
}

// term is how far the first device stands, where a limit lies at metres.
func (w *walked) term(r *system.Run, metres float64) figure.Term {
	far := check.Number("x0", "along the cable to the first device", quantity.Length, w.metres, r.Path)
	if w.guessed {
		far = check.Between("x0", "along the cable to the first device", quantity.Length, w.metres, w.low, w.high, r.Path)
	}
	if w.taken && w.low <= metres && w.high > metres {
		far.Figure.State = figure.Unknown // what the program took stops nobody
	}
	return far
}

// nearM is how far along bare cable the first device may stand in a book that asks for it as near as practicable, before somebody has to look: the 18 in of
// the book of recreational vehicles. Common practice, no source.
const nearM = 18 * 0.0254

// practicable judges a book that gives no length.
func practicable(net *system.Network, r *system.Run, w walked, reach conductor.Reach, part string) check.Outcome {
	o := check.Outcome{Verdict: check.Pass, Place: r.Path, Part: part}
	switch {
	case !w.found:
		o.Verdict, o.Title, o.Consequence = check.Stop, "no fuse behind the post", why
	case !w.sheathed:
		q := check.Inequality{Formula: "x = x0 ≤ xnear", Name: "unprotected length", Kind: quantity.Length, Source: reach.Origin.String(),
			Inputs: []figure.Term{w.term(r, nearM), check.Number("xnear", "distance that counts as near", quantity.Length, nearM, check.Practice)},
			Hints:  map[string]string{"x0": "measure the distance from the post to the fuse, along " + part}}
		if o = q.Judge().Outcome(r.Path, part, check.Warn); o.Verdict == check.Warn {
			o.Title = "first fuse may not be near enough"
		}
	}
	o.Detail = fmt.Sprintf("Book %s gives no length: %s.", net.Book, reach.Text)
	o.Ways = []string{"move the fuse to the post, or fit a terminal-mount fuse on it", "lay the cable up to the fuse in a sheath or conduit"}
	return o
}

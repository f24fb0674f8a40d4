// Package m04 is the room of rule M04.
package m04

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/pv"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M04", Title: "unlike modules in parallel on one controller", Holds: "arrays share their best voltage", Worst: check.Fail,
	What: "The most that the arrays of a controller give together, their curves added at one voltage, against the sum of what each would give by itself: " +
		"in full sun at 25 °C cells.",
	Why: "Strings in parallel stand at one voltage. The one with the higher voltage is dragged to that of the lower, and what it could have given is lost from " +
		"the first day on.",
	Except: "Controllers with one array, and ones that tie the array to the bank without tracking. Unlike slopes and shade are left out: with one voltage they lose " +
		"little by themselves. One per cent is what voltages 6 % apart cost; over it is a warning, over 20 % fails.",
	Formula:   "(sum of the separate maxima − maximum together) / sum ≤ 1 %",
	Source:    "[DESOTO-2006] for the curves, Kirchhoff's rules for their sum; 1 and 20 %: " + check.Practice,
	Sure:      "curves from the labels; within a few per cent of the sum",
	Questions: []string{"What are voltage and current at maximum power on the label of each kind of module?"},
	Run:       run,
}

// Share that may be lost, and from which on it fails the purpose of the array. Common practice, no source.
const little, much = 0.01, 0.20

// Standard test conditions.
const fullSun, cellC = 1000, 25

func run(c check.Case) []check.Outcome {
	if c.Sys == nil {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		if k.Kind == "direct" {
			continue
		}
		if p := partsOf(c, k.Name, i); len(p) > 1 {
			list = append(list, judge(c, k, p))
		}
	}
	return list
}

// part is one array on a controller that others share.
type part struct {
	array    *rig.Array
	module   *rig.Module
	curve    pv.Curve
	inSeries int
	guess    [2]float64 // by how much its voltage may lie off at either end, as a factor; both 1 for a label that was read
	unknown  bool
}

func partsOf(c check.Case, controller string, at int) []part {
	var list []part
	for _, a := range c.ArraysOn(controller) {
		for j := range c.Sys.Arrays {
			s := &c.Sys.Arrays[j]
			m := c.Module(a.Module)
			if s.Name != a.Name || s.Controller != at || m == nil {
				continue
			}
			p := part{array: a, module: m, curve: s.Unit.At(fullSun, cellC).Scale(s.Series, s.Strings), inSeries: int(s.Series), guess: [2]float64{1, 1}, unknown: m.Vmp.State == figure.Unknown}
			if v := m.Vmp; v.State < figure.Plain && v.High > v.Low && v.Quantity.Base > 0 {
				p.guess = [2]float64{v.Low / v.Quantity.Base, v.High / v.Quantity.Base}
			}
			list = append(list, p)
			break
		}
	}
	return list
}

// sum is what arrays in parallel come to.
type sum struct {
	together pv.Point
	apartW   float64
	each     []pv.Point // at the common voltage
	best     []pv.Point // by itself
}

func (s *sum) lostW() float64 { return math.Max(0, s.apartW-s.together.P) }

// join adds the curves of arrays at one voltage. There are no blocking diodes, so an array may take current from the others.
func join(curves []pv.Curve) (sum, error) {
	groups := make([][]pv.Group, len(curves))
	for i, k := range curves {
		groups[i] = []pv.Group{{Units: []pv.Unit{{Curve: k, Count: 1}}}}
	}
	all, err := pv.Combine(groups)
	if err != nil {
		return sum{}, err
	}
	s := sum{together: all.Best()}
	for _, k := range curves {
		best := k.MaxPower()
		s.apartW += best.P
		s.best, s.each = append(s.best, best), append(s.each, k.At(s.together.V))
	}
	return s, nil
}

// mostGuesses caps how many labels that were not read are tried at both ends together.
const mostGuesses = 6

// losses returns what is lost with every label at nominal, and the least and the most over the ends of those that were not read [W]. Arrays of one
// kind move together.
func losses(parts []part) (s sum, low, high float64, err error) {
	curves := make([]pv.Curve, len(parts))
	for i := range parts {
		curves[i] = parts[i].curve
	}
	if s, err = join(curves); err != nil {
		return s, 0, 0, err
	}
	low, high = s.lostW(), s.lostW()
	var kinds []*rig.Module
	for i := range parts {
		known := parts[i].guess == [2]float64{1, 1}
		for _, m := range kinds {
			known = known || m == parts[i].module
		}
		if !known && len(kinds) < mostGuesses {
			kinds = append(kinds, parts[i].module)
		}
	}
	for corner := range 1 << len(kinds) {
		for b, m := range kinds {
			for i := range parts {
				if parts[i].module == m {
					curves[i] = parts[i].curve.Scale(parts[i].guess[corner>>b&1], 1)
				}
			}
		}
		if at, err := join(curves); err == nil {
			low, high = math.Min(low, at.lostW()), math.Max(high, at.lostW())
		}
	}
	return s, low, high, nil
}

func judge(c check.Case, k *rig.Controller, parts []part) check.Outcome {
	place := "controllers/" + k.Name
	s, low, high, err := losses(parts)
	if err != nil {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: "controller " + k.Name, Detail: err.Error(), Measure: []string{"read the labels of its modules again: their figures give no curve"}}
	}
	q := share(s, low, high, parts)
	j := q.Judge()
	fails := check.Warn
	if j.Result > much {
		fails = check.Fail
	}
	o := j.Outcome(place, "controller "+k.Name, fails)
	var each []string
	for i := range parts {
		each = append(each, fmt.Sprintf("%s %s of %s (its best is at %.1f V)", parts[i].array.Name, check.Say(s.each[i].P, quantity.Power), check.Say(s.best[i].P, quantity.Power), s.best[i].V))
	}
	o.Detail = fmt.Sprintf("Together they stand at %.1f V and give %s of %s, %s less than apart: %s.", s.together.V, check.Say(s.together.P, quantity.Power), check.Say(s.apartW, quantity.Power), check.Say(s.lostW(), quantity.Power), strings.Join(each, ", "))
	o.Ways = []string{"put one of them on a controller of its own", "rearrange strings so that their voltages come within a few per cent"}
	if o.Verdict >= check.Warn {
		o.Tries = append(apart(c, k, parts), rearranged(parts)...)
	}
	return o
}

// share is the inequality of what is lost.
func share(s sum, low, high float64, parts []part) check.Inequality {
	lost := check.Computed("Plost", "lost by standing at one voltage", quantity.Power, s.lostW(), "[DESOTO-2006]")
	if high > low {
		lost = check.Between("Plost", "lost by standing at one voltage", quantity.Power, s.lostW(), low, high, "[DESOTO-2006]")
	}
	var names []string
	for i := range parts {
		if parts[i].guess != [2]float64{1, 1} {
			names = append(names, parts[i].module.Name)
		}
		if parts[i].unknown && high > 0 {
			lost.Figure.State = figure.Unknown
		}
	}
	return check.Inequality{
		Formula: "x = Plost / Psum ≤ xmax", Name: "share that is lost", Kind: quantity.Share,
		Inputs: []figure.Term{lost, check.Computed("Psum", "sum of what each gives by itself", quantity.Power, s.apartW, "[DESOTO-2006]"),
			check.Number("xmax", "share that may be lost", quantity.Share, little, check.Practice)},
		Hints:  map[string]string{"Plost": "read the voltage at maximum power on the label of " + strings.Join(names, " and of ")},
		Source: "[DESOTO-2006]",
	}
}

// apart returns the edits that move an array to a controller that has none.
func apart(c check.Case, k *rig.Controller, parts []part) []check.Cure {
	var list []check.Cure
	for i := range c.Doc.Controllers {
		free := &c.Doc.Controllers[i]
		if len(c.ArraysOn(free.Name)) > 0 {
			continue
		}
		for j := len(parts) - 1; j >= 0; j-- {
			a := parts[j].array
			list = append(list, check.Cure{Words: fmt.Sprintf("put %s on controller %s", a.Name, free.Name),
				Edits: []rig.Edit{check.SetWord(check.ArrayPath(a)+"/controller", k.Name, free.Name)}})
		}
	}
	return list
}

// rearranged returns the edits that give one array as many modules in series as bring it nearest to the others.
func rearranged(parts []part) []check.Cure {
	var list []check.Cure
	for i := range parts {
		p := &parts[i]
		n := p.inSeries * int(math.Round(p.array.Strings.Quantity.Base))
		others := 0.0
		for j := range parts {
			if j != i {
				others += parts[j].curve.MaxPower().V / float64(len(parts)-1)
			}
		}
		one := p.curve.MaxPower().V / float64(p.inSeries)
		best, off := p.inSeries, math.Inf(1)
		for s := 1; s <= n; s++ {
			if d := math.Abs(float64(s)*one - others); n%s == 0 && d < off {
				best, off = s, d
			}
		}
		if best == p.inSeries {
			continue
		}
		path := check.ArrayPath(p.array)
		list = append(list, check.Cure{Words: fmt.Sprintf("join %s as %d strings of %d in series", p.array.Name, n/best, best), Edits: []rig.Edit{
			check.Set(path+"/in series", saidOf(p.array.InSeries), fmt.Sprint(best)), check.Set(path+"/strings", saidOf(p.array.Strings), fmt.Sprint(n/best)),
		}})
	}
	return list
}

// saidOf returns a value as its owner wrote it: nothing where the program filled it in.
func saidOf(v rig.Value) rig.Value {
	if v.Given() {
		return v
	}
	return rig.Value{}
}

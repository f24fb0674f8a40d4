// Package m46 is the room of rule M46.
package m46

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M46", Title: "thin wire unfused at the post", Holds: "thin wires are fused at the post", Worst: check.Fail,
	What: "Every wire that only measures, such as voltage sense and gauge wires: whether what protects it, its own fuse or the one before it, is within what it " +
		"bears.",
	Why:       "A thin wire on a battery post is fed by thousands of amps: it glows red from end to end and lights what lies beside it.",
	Except:    "Wires that carry a load are rules M34 and M38. A minus sense wire needs none where it ends on the minus bar.",
	Formula:   "F ≤ Iz, with a fuse at the post",
	Source:    "[NEC] 240.4; conductors on a battery: " + check.Practice,
	Sure:      "whatever its size, an unfused thin wire on a battery fails",
	Questions: []string{"Has the wire a fuse at the post, and of how many amps?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Core[0].From < 0 || !strings.HasPrefix(r.To, "sense ") && !strings.HasPrefix(r.From, "sense ") {
			continue
		}
		list = append(list, judge(c, n, net, i))
	}
	return list
}

func judge(c check.Case, n *check.Nets, net *system.Network, i int) check.Outcome {
	r := &net.Runs[i]
	ways := []string{"a 1 to 3 A fuse at the post", "take the voltage from behind a small fuse that is there"}
	g := n.Guard(i)
	if g < 0 {
		return check.Outcome{Verdict: check.Fail, Place: r.Path, Part: r.Title(), Ways: ways, Detail: fmt.Sprintf("The bank could drive %.1f kA into it.", net.FaultVolts()/blockOhm(c, net)/1000)}
	}
	d := &net.Devices[g]
	if d.RatingA == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: r.Path, Part: r.Title(), Measure: []string{check.ReadPrint(net, d, "rating")}}
	}
	_, iz, err := n.Rating(r, r.Use.Gauge)
	if err != nil {
		return check.Outcome{Verdict: check.Undecided, Place: r.Path, Part: r.Title(), Measure: []string{check.ReadSize(r)}}
	}
	q := check.Inequality{Formula: "Fuse = F ≤ Iz", Name: "what protects it", Kind: quantity.Current, Source: iz.Figure.Source, Hints: map[string]string{"Iz": check.ReadSize(r)},
		Inputs: []figure.Term{check.Known("F", "rating of "+d.Title(net), d.Rating), iz}}
	o := q.Judge().Outcome(r.Path, r.Title(), check.Fail)
	o.Ways = ways
	return o.Unsure(r)
}

// blockOhm is the resistance of the whole bank [Ω].
func blockOhm(c check.Case, net *system.Network) float64 {
	k := c.Doc.Bank
	return k.Block.Resistance.Quantity.Base * max(1, k.InSeries.Quantity.Base) / float64(net.Blocks)
}

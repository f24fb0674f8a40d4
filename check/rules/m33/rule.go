// Package m33 is the room of rule M33.
package m33

import (
	"fmt"
	"slices"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M33", Title: "parallel blocks without their own fuse", Holds: "a faulted block is cut off", Worst: check.Fail,
	What: "Whether every block of a bank of three or more, or of more than 500 Ah, has a fuse or breaker of its own in its lead.",
	Why:  "A fault in one block or in its lead is fed by all the others, and the main fuse does not see it.",
	Except: "Two small blocks together are taken as one. In a bank linked block to block the links carry the others' current past any fuse, so the rule " +
		"asks for leads to bars.",
	Formula:   "N ≤ 2 and N × C ≤ 500 Ah, or a fuse in each block's lead",
	Source:    "[ABYC-E11], July 2025 text seen as quoted, for the 500 Ah; three blocks: " + check.Practice,
	Sure:      "boat builders' rule; on the road it is practice",
	Questions: []string{"Has each block a fuse of its own?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// Largest bank that may do without: blocks and capacity [Ah].
const (
	mostBlocks = 2
	mostAh     = 500
)

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	b := c.Doc.Bank
	if n == nil || b == nil || n.Net().Blocks < 2 || !c.Wired() {
		return nil
	}
	net := n.Net()
	o := check.Outcome{Place: "bank", Part: "bank", Ways: []string{"a class T or terminal-mount fuse at each block's post", "fewer and larger blocks"}}
	bare, named := bareLeads(n, net)
	switch {
	case !named:
		o.Verdict = check.Undecided
		o.Measure = []string{"write how each block is joined: its leads, and the fuse in each"}
		if alone(c, net) {
			return nil
		}
	case len(bare) == 0:
		o.Verdict, o.Detail = check.Pass, "Each block has an overcurrent device in its lead."
	default:
		o = count(c, net).Judge().Outcome("bank", "bank", check.Fail)
		if o.Verdict == check.Pass {
			o = capacity(c).Judge().Outcome("bank", "bank", check.Fail)
		}
		o.Ways = []string{"a class T or terminal-mount fuse at each block's post", "fewer and larger blocks"}
		if o.Verdict != check.Pass {
			o.Tries = tries(c, n)
			o.Detail = fmt.Sprintf("Without a fuse: %s. The others could drive %.1f kA into a fault there.", strings.Join(bare, ", "), others(c, net)/1000)
		}
	}
	return []check.Outcome{o}
}

// alone tells whether a bank is small enough to need none.
func alone(c check.Case, net *system.Network) bool {
	return net.Blocks <= mostBlocks && float64(net.Blocks)*c.Doc.Bank.Block.Capacity.Quantity.Base <= mostAh
}

func count(c check.Case, net *system.Network) check.Inequality {
	return check.Inequality{Formula: "Nblocks = N ≤ Nmax", Name: "blocks side by side", Kind: quantity.Count, Source: check.Practice,
		Inputs: []figure.Term{check.Number("N", "blocks side by side", quantity.Count, float64(net.Blocks), "bank"), check.Number("Nmax", "blocks that may do without", quantity.Count, mostBlocks, check.Practice)}}
}

func capacity(c check.Case) check.Inequality {
	return check.Inequality{Formula: "Cbank = N × C ≤ Cmax", Name: "capacity of the bank", Kind: quantity.Charge, Source: "[ABYC-E11]",
		Inputs: []figure.Term{check.Known("N", "blocks side by side", c.Doc.Bank.Blocks), check.Known("C", "capacity of one block", c.Doc.Bank.Block.Capacity),
			check.Number("Cmax", "capacity that may do without", quantity.Charge, mostAh, "[ABYC-E11]")}, Hints: map[string]string{"C": "read the capacity on a block"}}
}

// bareLeads returns the blocks whose plus post has a run without a device of its own, and whether blocks are named at all.
func bareLeads(n *check.Nets, net *system.Network) (bare []string, named bool) {
	for k := range net.Blocks {
		post, ok := net.NodeOf(fmt.Sprintf("block %d +", k+1))
		if !ok {
			continue
		}
		for i := range net.Runs {
			r := &net.Runs[i]
			core := r.Core[0]
			if core.From != post && core.To != post {
				continue
			}
			named = true
			protected := false
			for _, d := range r.Devices {
				protected = protected || net.Devices[d].Protects()
			}
			if name := fmt.Sprintf("block %d", k+1); !protected && len(bare) < k+1 {
				bare = append(bare, name)
			}
		}
	}
	return bare, named
}

// tries puts a fuse into every lead of a block that has none.
func tries(c check.Case, n *check.Nets) []check.Cure {
	net := n.Net()
	cure := check.Cure{Words: "put a fuse of class T at the post of each block"}
	for k := range net.Blocks {
		post, ok := net.NodeOf(fmt.Sprintf("block %d +", k+1))
		for i := range net.Runs {
			r := &net.Runs[i]
			if !ok || r.Core[0].From != post && r.Core[0].To != post || slices.ContainsFunc(r.Devices, func(d int) bool { return net.Devices[d].Protects() }) {
				continue
			}
			edits := c.AddFuse(n, i)
			if edits == nil || strings.HasPrefix(r.From, "block ") && strings.HasPrefix(r.To, "block ") {
				return nil
			}
			cure.Edits = append(cure.Edits, edits...)
		}
	}
	if cure.Edits == nil {
		return nil
	}
	return []check.Cure{cure}
}

// others is what the other blocks could drive into a fault at one of them, leads left out [A].
func others(c check.Case, net *system.Network) float64 {
	k := c.Doc.Bank
	ohm := k.Block.Resistance.Quantity.Base * max(1, k.InSeries.Quantity.Base)
	return float64(net.Blocks-1) * net.FaultVolts() / ohm
}

package check

import (
	"fmt"
	"math"
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// shareTolerance is how far a block may lie from the mean of all. Common practice, no source.
const shareTolerance = 0.10

// Sharing judges how the blocks of a bank share in the solved network, for a bank whose blocks are linked one to the next or for one where each
// has leads of its own. Nothing where the file does not say how they are joined.
func (c Case) Sharing(linked bool) []Outcome {
	n := c.Nets()
	if n == nil || n.Net().Blocks < 2 || !c.namesBlocks() || c.linked() != linked {
		return nil
	}
	state, worst, ok := n.hardest()
	if !ok {
		return nil
	}
	sets, _ := n.In(state)
	s := sets[nominal]
	var mean, peak [3]float64
	for lean, q := range sets {
		for _, b := range q.Blocks {
			mean[lean] += math.Abs(b.Amps) / float64(len(q.Blocks))
		}
		peak[lean] = math.Abs(q.Blocks[worst].Amps)
	}
	low, high := math.Min(peak[least], peak[most]), math.Max(peak[least], peak[most])
	if !linked {
		low, high = n.apart(worst, peak[nominal], low, high)
	}
	guessedLeads, unknown := c.guessedLeads(n)
	term := func(symbol, name string) figure.Term {
		t := Number(symbol, name, quantity.Current, peak[nominal], "solved: "+state)
		if guessedLeads {
			t = Between(symbol, name, quantity.Current, peak[nominal], math.Min(low, peak[nominal]), math.Max(high, peak[nominal]), "solved: "+state)
		}
		if unknown {
			t.Figure.State = figure.Unknown
		}
		return t
	}
	k := c.Doc.Bank.Block
	limit := k.DischargeLimit
	if s.Blocks[worst].Amps > 0 {
		limit = k.ChargeLimit
	}
	hints := map[string]string{"I": "measure the length and read the size of every lead of the bank", "Imean": "measure the length and read the size of every lead of the bank", "Ilim": "look up the limit of one block"}
	name := fmt.Sprintf("current of block %d", worst+1)
	// The worst block against the mean: what the owner sees with a clamp.
	even := Inequality{Formula: "d = max(I / Imean − 1, 1 − I / Imean) ≤ dmax", Name: "how far the worst block lies off", Kind: quantity.Share, Hints: hints,
		Inputs: []figure.Term{term("I", name), Number("Imean", "mean of all blocks", quantity.Current, mean[nominal], "solved: "+state), Number("dmax", "tolerance", quantity.Share, shareTolerance, Practice)},
		Source: "Kirchhoff's laws"}
	o := even.Judge().Outcome("bank", "bank", Warn)
	if o.Verdict == Warn {
		o.Consequence = "The block that works hardest ages first."
	}
	// Where even the mean is over the limit, sharing is not to blame: that is rules M23 and M25.
	if limit.Stands() && mean[nominal] <= limit.Quantity.Base || o.Verdict == Warn {
		hot := Inequality{Formula: "Iblock = I ≤ Ilim", Name: name, Kind: quantity.Current, Hints: hints, Inputs: []figure.Term{term("I", name), Known("Ilim", "limit of one block", limit)}, Source: "Kirchhoff's laws"}
		if p := hot.Judge().Outcome("bank", "bank", Fail); p.Verdict > o.Verdict {
			o = p
			o.Consequence = "The block that works hardest opens first, and the others follow."
			if o.Verdict == Fail {
				o.Title = "one block over its limit"
			}
		}
	}
	var each []string
	for i := range s.Blocks {
		each = append(each, fmt.Sprintf("%.1f", math.Abs(s.Blocks[i].Amps)))
	}
	o.Detail = fmt.Sprintf("In state %q the blocks carry %s A.", state, strings.Join(each, " / "))
	o.Ways = []string{"equal leads from every block to bus bars", "plus from the first block and minus from the last"}
	return []Outcome{o}
}

// namesBlocks tells whether the written wiring joins single blocks.
func (c Case) namesBlocks() bool {
	if c.Said.Wiring == nil {
		return false
	}
	for i := range c.Said.Wiring.Runs {
		if w := &c.Said.Wiring.Runs[i]; strings.HasPrefix(w.From, "block ") || strings.HasPrefix(w.To, "block ") {
			return true
		}
	}
	return false
}

// linked tells whether blocks are joined one to the next.
func (c Case) linked() bool {
	for i := range c.Said.Wiring.Runs {
		if w := &c.Said.Wiring.Runs[i]; strings.HasPrefix(w.From, "block ") && strings.HasPrefix(w.To, "block ") {
			return true
		}
	}
	return false
}

// guessedLeads tells whether a lead of a block rests on a guess, and whether nobody knows the size or the length of one.
func (c Case) guessedLeads(n *Nets) (guessed, unknown bool) {
	for i := range n.Net().Runs {
		if r := &n.Net().Runs[i]; strings.HasPrefix(r.From, "block ") || strings.HasPrefix(r.To, "block ") {
			guessed = guessed || len(r.Guessed) > 0
			unknown = unknown || !r.FromMeter && !r.Wire.Ohms.Given() && (r.Unknown || r.Length.State == figure.Unknown)
		}
	}
	return guessed || unknown, unknown
}

// apart widens the ends of a block's current [A] to those at which its own leads lie at one end of their guesses and all others at the other, for blocks whose leads
// meet on bars.
func (n *Nets) apart(block int, amps, low, high float64) (float64, float64) {
	ohms := func(k, lean int) float64 {
		net := n.all[lean]
		sum := n.Net().BlockOhms()
		for i := range net.Runs {
			r := &net.Runs[i]
			for core, sign := range [...]string{" +", " -"} {
				post := fmt.Sprintf("block %d", k+1)
				if r.Core[core].From >= 0 && (r.From == post || r.From == post+sign || r.To == post || r.To == post+sign) {
					sum += r.Core[core].Ohms
				}
			}
		}
		return sum
	}
	share := func(own, others int) float64 {
		all, mine := 0.0, 0.0
		for k := range n.Net().Blocks {
			if k == block {
				mine = 1 / ohms(k, own)
				all += mine
				continue
			}
			all += 1 / ohms(k, others)
		}
		return mine / all
	}
	usual := share(nominal, nominal)
	return math.Min(low, amps*share(most, least)/usual), math.Max(high, amps*share(least, most)/usual)
}

// leastShared is the share of its limit that a block must carry for anything to be told of how the blocks share: less is a leak, or a network
// that does not reach the loads yet. Common practice, no source.
const leastShared = 0.02

// hardest returns the lasting state in which a block comes nearest to its limit, and that block; false where none carries anything to speak of.
func (n *Nets) hardest() (state string, block int, ok bool) {
	k := n.Net().Doc.Bank.Block
	worst := leastShared
	for i := range n.Solved[nominal] {
		s := &n.Solved[nominal][i]
		if s.Problem != "" || s.State.Surge {
			continue
		}
		for j, b := range s.Blocks {
			limit := k.DischargeLimit.Quantity.Base
			if b.Amps > 0 {
				limit = k.ChargeLimit.Quantity.Base
			}
			if limit > 0 && math.Abs(b.Amps)/limit > worst {
				worst, state, block, ok = math.Abs(b.Amps)/limit, s.State.Name, j, true
			}
		}
	}
	return state, block, ok
}

// Discharge returns the flow out of all blocks of the bank together, in the lasting state that asks most of them.
func (n *Nets) Discharge() Flow {
	return n.flow(func(_ *system.Network, s *system.Solved) float64 {
		sum := 0.0
		for _, b := range s.Blocks {
			sum -= b.Amps
		}
		return math.Max(0, sum)
	})
}

package design

import (
	"fmt"
	"slices"

	"campwright/conductor"
)

// thickBranch is the largest section that a branch of a fuse block is made for the sake of fewer kinds [mm²], 10 AWG: thicker cable hardly goes
// under the screws of such a block. Common practice, no source.
const thickBranch = 5.3

// fewerKinds takes the next thicker size for a size that only one run or pair of runs uses, where that thicker size is in the rig anyway: one
// kind less of cable, lug and crimp die.
func (p *plan) fewerKinds() {
	for range 3 {
		if !p.mergeOne() {
			return
		}
	}
}

// fewUses is how many conductors of a size are few enough to do without it.
const fewUses = 2

func (p *plan) mergeOne() bool {
	uses, branches := map[conductor.Gauge]int{}, map[conductor.Gauge]bool{}
	var order []conductor.Gauge
	for _, s := range p.sized {
		if s.side == conductor.Mains {
			continue
		}
		if uses[s.gauge] == 0 {
			order = append(order, s.gauge)
		}
		uses[s.gauge]++
		branches[s.gauge] = branches[s.gauge] || s.run < 0
	}
	slices.SortFunc(order, func(a, b conductor.Gauge) int {
		if a.Section() < b.Section() {
			return -1
		}
		return 1
	})
	for i := 0; i+1 < len(order); i++ {
		g, next := order[i], order[i+1]
		if branches[g] && next.Section() > thickBranch {
			continue
		}
		if uses[g] <= fewUses && uses[next] > 0 && p.neighbours(g, next) {
			p.replace(g, next)
			return true
		}
	}
	return false
}

// neighbours tells whether no stocked size lies between two.
func (p *plan) neighbours(g, next conductor.Gauge) bool {
	for _, between := range conductor.Gauges(p.sizes) {
		if between.Section() > g.Section() && between.Section() < next.Section() && !seldom(between) {
			return false
		}
	}
	return true
}

// replace makes every run of one size one of another.
func (p *plan) replace(g, next conductor.Gauge) {
	for i := range p.sized {
		s := &p.sized[i]
		if s.gauge != g || s.side == conductor.Mains {
			continue
		}
		s.gauge = next
		if s.run >= 0 {
			p.w.Runs[s.run].Gauge = gaugeValue(next)
		} else {
			p.w.FuseBlocks[s.block].Branches[s.branch].Gauge = gaugeValue(next)
		}
		c := &p.choices[s.choice]
		c.Chosen = next.String()
		c.Relax = fmt.Sprintf("%s would do; %s is laid elsewhere as well, so one kind of cable less is bought", g, next)
	}
}

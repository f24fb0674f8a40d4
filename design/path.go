package design

import (
	"fmt"
	"strings"

	"campwright/conductor"
	"campwright/system"
)

// mostSteps caps how often a run of the path is made thicker.
const mostSteps = 12

// wholePath holds the solved network against the 3 % that may be lost between the bank's posts and the inverter at full load, lugs and devices
// included, and against the voltage at which the inverter stops, and makes the run thicker that gains most until it does.
func (p *plan) wholePath() error {
	if len(p.sys.Inverters) == 0 || !p.proposedInverter() {
		return nil
	}
	allowed, _, err := conductor.DropPractice(p.book, true)
	if err != nil {
		return fmt.Errorf("design: %w", err)
	}
	for range mostSteps {
		lost, short, at, err := p.inverterDrop()
		if err != nil {
			return err
		}
		if lost <= allowed && short <= 0 {
			return nil
		}
		if !p.thicken(at) {
			if lost <= allowed {
				p.problem("at full load the inverter is left %.2f V less than it stops at, on the thickest single cables: shorten the runs, or set its cut-off lower", short)
				return nil
			}
			p.problem("between the bank's posts and the inverter %.1f %% is lost at full load on the thickest single cables, and %.1f %% is the practice: shorten the runs, or take a bank of twice the voltage", 100*lost, 100*allowed)
			return nil
		}
	}
	return nil
}

// proposedInverter tells whether the run to an inverter is of this proposal.
func (p *plan) proposedInverter() bool {
	for i := range p.sized {
		if r := p.sized[i].run; r >= 0 && strings.HasPrefix(p.w.Runs[r].To, "inverter ") {
			return true
		}
	}
	return false
}

// inverterDrop solves the wiring in the making at full inverter load: the share that is lost between posts and inverter, by how much what is left
// there is below the voltage at which it stops, and the state. Nothing is short where the posts themselves are below that: no cable helps there.
func (p *plan) inverterDrop() (lost, short float64, at *system.Solved, err error) {
	p.refresh()
	full, _ := system.Complete(p.work)
	net, err := system.NewNetwork(&full, p.sys, system.Draw{}, system.Nominal)
	if err != nil {
		return 0, 0, nil, fmt.Errorf("design: the wiring proposed: %w", err)
	}
	s, ok := net.State(system.StateInverter)
	if !ok {
		return 0, 0, nil, nil
	}
	solved := net.Solve(s)
	if solved.Problem != "" {
		return 1, 0, &solved, nil
	}
	off := full.Bank.InverterOff.Quantity.Base
	for i := range p.sys.Inverters {
		if part, ok := solved.Part("inverter " + p.sys.Inverters[i].Name); ok {
			lost = max(lost, (solved.BankPostsV()-part.Volts)/net.BankV)
			if solved.BankPostsV() > off {
				short = max(short, off-part.Volts)
			}
		}
	}
	return lost, short, &solved, nil
}

// group names the runs of the path that are cut from one kind of cable.
func group(run string) string {
	switch {
	case strings.HasPrefix(run, "block "):
		return "leads"
	case run == "main" || run == "main return":
		return "main"
	case strings.HasPrefix(run, "inverter ") && !strings.HasSuffix(run, " output"):
		return run
	}
	return ""
}

// thicken makes the group of runs one stocked size thicker that gains most.
func (p *plan) thicken(at *system.Solved) bool {
	gain, next := map[string]float64{}, map[string]conductor.Gauge{}
	for i := range p.sized {
		s := &p.sized[i]
		if s.run < 0 {
			continue
		}
		w := &p.w.Runs[s.run]
		g := group(w.Name)
		thicker, ok := p.thicker(s.gauge)
		if g == "" || !ok || g == "leads" && p.faultWith(thicker, s.rating) > p.stopsA() {
			continue
		}
		amps := p.mainA
		if g == "leads" {
			amps /= float64(p.net.Blocks) * float64(p.net.Blocks)
		}
		saved := (s.gauge.OhmsPerMetre(dropC) - thicker.OhmsPerMetre(dropC)) * w.Length.Quantity.Base * amps
		if w.From[len(w.From)-1] != '+' && w.From[len(w.From)-1] != '-' {
			saved *= 2
		}
		gain[g] += saved
		next[g] = thicker
	}
	best := ""
	for i := range p.sized { // in order, so that ties fall the same way each time
		if r := p.sized[i].run; r >= 0 {
			if g := group(p.w.Runs[r].Name); gain[g] > 0 && (best == "" || gain[g] > gain[best]*(1+1e-9)) {
				best = g
			}
		}
	}
	if best == "" || at == nil {
		return false
	}
	for i := range p.sized {
		s := &p.sized[i]
		if s.run < 0 || group(p.w.Runs[s.run].Name) != best {
			continue
		}
		c := &p.choices[s.choice]
		if c.Relax == "" || !strings.Contains(c.Relax, "whole path") {
			c.Relax = fmt.Sprintf("%s would do for the run by itself; this size keeps the whole path from posts to inverter within the allowance", s.gauge)
		}
		s.gauge = next[best]
		c.Chosen = s.gauge.String()
		p.w.Runs[s.run].Gauge = gaugeValue(s.gauge)
	}
	return true
}

// thicker returns the next stocked size.
func (p *plan) thicker(g conductor.Gauge) (conductor.Gauge, bool) {
	for _, next := range conductor.Gauges(p.sizes) {
		if next.Section() > g.Section() && !seldom(next) {
			return next, true
		}
	}
	return g, false
}

// faultWith returns what the bank could drive into a fault behind its bar with leads of a size, short and cold [A], and stopsA what the fuses
// that stand first can stop: thick leads save volts and let more current through.
func (p *plan) faultWith(lead conductor.Gauge, fuse float64) float64 {
	block := p.full.Bank.Block.Resistance
	ohm := block.Quantity.Base
	if system.IsGuess(block) && block.Low > 0 {
		ohm = block.Low
	}
	ohm = ohm*max(1, p.full.Bank.InSeries.Quantity.Base) + p.leadOhm(lead, fuse)
	return p.net.FaultVolts() / ohm * float64(p.net.Blocks)
}

func (p *plan) stopsA() float64 {
	f, _ := conductor.FamilyNamed("class T fuse")
	i, _ := f.InterruptAt(p.maxV)
	return i.Amps
}

// leadOhm is the resistance of a block's leads and fuse, short and cold [Ω].
func (p *plan) leadOhm(lead conductor.Gauge, fuse float64) float64 {
	length := p.trade(system.RunLength(&p.work, p.terminal("block 1 +"), p.terminal(p.bankBar+" +")))
	ohm := 2 * lead.OhmsPerMetre(coldC) * length.Low
	if fuse > 0 {
		ohm += coldFuseV / fuse
	}
	return ohm
}

// Conductor temperature at which faults are counted [°C], and the voltage that a fuse drops at its rating, cold [V]. Common practice, no source.
const (
	coldC     = 20
	coldFuseV = 0.03
)

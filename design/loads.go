package design

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// loads gives every appliance on the DC side a fuse of its own in a fuse block; what must never lose power, and what warns, hangs on a block
// ahead of the main switch.
func (p *plan) loads() {
	fed := map[string]bool{}
	for i := range p.net.Loads {
		for _, name := range p.net.Loads[i].Appliances {
			fed[name] = true
		}
	}
	var always, house []*rig.Appliance
	for i := range p.full.Appliances {
		a := &p.full.Appliances[i]
		if w, _ := system.DCWatts(a, system.HighEnd(), p.net.BankV); w <= 0 || fed[a.Name] {
			continue
		}
		if p.neverLose(a) {
			always = append(always, a)
		} else {
			house = append(house, a)
		}
	}
	p.fuseBlock("always on", always, p.bankBar, "ahead of the main switch: what warns or must never lose power")
	p.fuseBlock("house", house, "bus bar "+p.mainBar, "every DC load that may be switched off with the rest")
}

// neverLose tells whether an appliance belongs ahead of the main switch.
func (p *plan) neverLose(a *rig.Appliance) bool {
	if slices.Contains(p.full.Aims.NeverLose, a.Name) {
		return true
	}
	name := strings.ToLower(a.Name)
	for _, word := range []string{"detector", "smoke", "carbon monoxide", "gas alarm", "lp alarm", "co alarm"} {
		if strings.Contains(name, word) {
			return true
		}
	}
	return false
}

// fuseBlock makes a block with a branch for each appliance, and its feed.
func (p *plan) fuseBlock(name string, list []*rig.Appliance, from, why string) {
	if len(list) == 0 {
		return
	}
	at := slices.IndexFunc(p.w.FuseBlocks, func(b rig.FuseBlock) bool { return b.Name == name })
	fresh := at < 0
	if fresh {
		p.w.FuseBlocks = append(p.w.FuseBlocks, rig.FuseBlock{Name: name})
		at = len(p.w.FuseBlocks) - 1
	}
	total := 0.0
	for _, a := range list {
		total += p.loadA(a)
		p.branch(at, a)
	}
	p.refresh()
	if !fresh || p.reached("fuse block "+name) {
		return
	}
	fault := 0.0
	if p.mainFuse == 0 || from == p.bankBar {
		fault = p.bankA
	}
	run := "feed of " + name
	d, rating, ok := p.fuse(run, name+" feed fuse", math.Max(total, smallFeed), fault, firstAt)
	if !ok {
		return
	}
	p.w.FuseBlocks[at].Rating = amps(math.Max(100, rated([]float64{30, 60, 100, 150, 200}, total)))
	a := ask{name: run, from: from, to: "fuse block " + name, lasting: total, share: feedShare, fuse: rating, devices: []rig.Device{d}, reason: why}
	if from != p.bankBar {
		p.run(a)
		return
	}
	// Its minus goes to the main bar, so that the shunt counts what it draws.
	minus := a
	a.from, a.to = from+" +", a.to+" +"
	minus.name, minus.from, minus.to, minus.devices = run+", return", "bus bar "+p.mainBar+" -", minus.to+" -", nil
	minus.reason = "to the main bar, so that the shunt counts what it draws"
	if _, ok := p.run(a); ok {
		p.run(minus)
	}
}

// smallBranch is the smallest branch fuse that a proposal uses, and smallFeed the smallest current that a feed is laid for, so that the block can
// grow [A]. Common practice, no source.
const (
	smallBranch = 5
	smallFeed   = 20
)

// branch makes one branch.
func (p *plan) branch(block int, a *rig.Appliance) {
	lasting := p.loadA(a)
	family, _ := conductor.FamilyNamed("blade fuse")
	need, origin := conductor.SmallestFuse(lasting)
	rating, ok := conductor.Next(family.Ratings, math.Max(need, smallBranch))
	if !ok || p.maxV > family.Volts {
		family, _ = conductor.FamilyNamed("large blade fuse")
		rating, ok = conductor.Next(family.Ratings, need)
	}
	if !ok || p.maxV > family.Volts {
		kind := "terminal-mount block fuse"
		if need < 30 || p.maxV > 58 { // these begin at 30 A and hold 58 V
			kind = "class J fuse"
		}
		family, _ = conductor.FamilyNamed(kind)
		if rating, ok = conductor.Next(family.Ratings, need); !ok || p.maxV > family.Volts {
			p.problem("%s: no fuse of a fuse block carries %.0f A at %.0f V", a.Name, lasting, p.maxV)
			return
		}
	}
	length := p.trade(system.RunLength(&p.work, rig.Terminal{Part: "branch"}, rig.Terminal{}))
	share, reason := p.allowance(a)
	ask := ask{name: a.Name, from: "fuse block " + p.w.FuseBlocks[block].Name, to: "appliance " + a.Name, lasting: lasting, share: share - feedShare, fuse: rating, reason: reason}
	path := "wiring/fuse blocks/" + p.w.FuseBlocks[block].Name + "/branches/" + a.Name
	n := p.need(ask, conductor.Battery, length)
	br := rig.Branch{Name: a.Name, Feeds: []string{a.Name}, Fuse: amps(rating), Family: family.Name, Length: p.guessed(length)}
	g, c, ok := p.size(n, ask, path, br.Length)
	if !ok {
		return
	}
	br.Gauge = value(g.String(), quantity.Section)
	p.w.FuseBlocks[block].Branches = append(p.w.FuseBlocks[block].Branches, br)
	fuse := Choice{Path: path + "/fuse", Part: a.Name + " fuse", Chosen: fmt.Sprintf("%g A %s", rating, family.Name), Final: a.Power.Rate.State != figure.Unknown, Book: origin.String(),
		Why: fmt.Sprintf("%.1f A for hours ask for %.1f A or more", lasting, need)}
	if rating == smallBranch {
		fuse.Why += fmt.Sprintf("; none below %d A is used", smallBranch)
	}
	p.choices = append(p.choices, fuse, c)
	p.sized = append(p.sized, sized{run: -1, block: block, branch: len(p.w.FuseBlocks[block].Branches) - 1, gauge: g, side: conductor.Battery, choice: len(p.choices) - 1, rating: rating})
}

// feedShare is the part of a load's allowance that the feed of its fuse block may use, and motorShare what a motor or control board bears
// in all. Common practice, no source.
const (
	feedShare  = 0.015
	motorShare = 0.05
)

// allowance returns the share of the bank's voltage that an appliance may lose in all, and why.
func (p *plan) allowance(a *rig.Appliance) (share float64, why string) {
	name := strings.ToLower(a.Name)
	if p.neverLose(a) || strings.Contains(name, "internet") || strings.Contains(name, "radio") {
		share, _, _ = conductor.DropPractice(p.book, true)
		return share, "it counts as critical: 3 % in all"
	}
	share, _, _ = conductor.DropPractice(p.book, false)
	switch a.Kind {
	case "furnace", "absorption refrigerator", "compressor refrigerator", "water heater":
		return math.Min(share, motorShare), "a motor or control board: 5 % in all"
	}
	if strings.Contains(name, "pump") {
		return math.Min(share, motorShare), "a motor or control board: 5 % in all"
	}
	return share, ""
}

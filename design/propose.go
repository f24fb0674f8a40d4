package design

import (
	"fmt"
	"math"
	"strings"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Choice is one decision of a proposal.
type Choice struct {
	Path   string `json:"path"`   // in the document
	Part   string `json:"part"`   // the run or device in words
	Chosen string `json:"chosen"` // such as "2/0 AWG" or "300 A class T fuse"
	Why    string `json:"why"`    // the limit that forced it
	Relax  string `json:"relax"`  // what relaxing that would allow; may be empty
	Book   string `json:"book"`   // the table that spoke
	Short  string `json:"short"`  // what it would be at the short end of a guessed length; empty where the length is no guess
	Long   string `json:"long"`   // and at the long end
	Final  bool   `json:"final"`  // whether no guess can change it

	base string            // of a fuse: the reason without the fault it meets
	fuse *conductor.Family // of a fuse that stands first from the bank
}

// Proposal is what a rig's wiring lacks.
type Proposal struct {
	Edits    []rig.Edit
	Doc      rig.Rig // with the proposal accepted
	Choices  []Choice
	Problems []string // what no standard part does
}

// Propose returns the wiring that a document lacks. The document is not changed. The error is for a document that cannot be made into models,
// such as one without a bank.
func Propose(doc rig.Rig) (Proposal, error) {
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		return Proposal{}, gapsError(gaps)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 60)
	if err != nil {
		return Proposal{}, fmt.Errorf("design: %w", err)
	}
	p, err := propose(doc, &full, sys)
	if err != nil || len(p.Choices) == 0 {
		return p, err
	}
	wired, _ := system.Complete(p.Doc)
	net, err := system.NewNetwork(&wired, sys, system.Draw{}, system.Least)
	if err != nil {
		return Proposal{}, fmt.Errorf("design: the wiring proposed: %w", err)
	}
	faults, err := net.Faults()
	if err != nil {
		return Proposal{}, fmt.Errorf("design: the wiring proposed: %w", err)
	}
	p.meet(net, faults)
	return p, nil
}

func gapsError(gaps []system.Gap) error {
	lines := make([]string, len(gaps))
	for i, g := range gaps {
		lines[i] = g.Error()
	}
	return fmt.Errorf("the rig cannot be wired yet:\n%s", strings.Join(lines, "\n"))
}

// propose works on a document that is already completed and assembled. What its fuses meet is told by meet.
func propose(said rig.Rig, full *rig.Rig, sys *system.System) (Proposal, error) {
	net, err := system.NewNetwork(full, sys, system.Draw{}, system.Nominal)
	if err != nil {
		return Proposal{}, fmt.Errorf("design: %w", err)
	}
	p := newPlan(said, full, sys, net)
	p.bars()
	p.blocks()
	p.mainRun()
	p.inverters()
	p.sources()
	p.loads()
	p.arrays()
	p.mains()
	p.unsized()
	p.fewerKinds()
	if err := p.wholePath(); err != nil {
		return Proposal{}, err
	}
	out := Proposal{Problems: p.problems, Doc: said.Clone()}
	if len(p.choices) == 0 {
		return out, nil
	}
	out.Doc.Wiring = p.w
	out.Choices, out.Edits = p.choices, rig.Diff(said, out.Doc)
	return out, nil
}

// meet holds every fuse that stands first from the bank against the fault current of the wiring as proposed, cables short and cold.
func (p *Proposal) meet(least *system.Network, faults []system.FaultAt) {
	for i := range p.Choices {
		c := &p.Choices[i]
		if d, ok := least.FindDevice(c.Path); ok && c.fuse != nil {
			c.stops(faults[d].Amps, least.ChargingV())
		}
	}
}

// plan is one proposal in the making.
type plan struct {
	said  rig.Rig
	full  *rig.Rig
	work  rig.Rig // the completed document with the wiring in the making, for terminals and bays
	sys   *system.System
	net   *system.Network
	w     *rig.Wiring
	book  conductor.Book
	sizes conductor.System
	feet  bool // lengths in feet

	bankBar  string // terminal from which the whole bank is taken
	mainBar  string // name of the main bus bar
	mainFuse float64
	mainA    float64 // lasting current through it
	bankA    float64 // what the bank could drive into a fault at its posts
	maxV     float64 // highest voltage of the bank

	sized    []sized
	choices  []Choice
	problems []string
}

// sized is a run whose size the proposal chose.
type sized struct {
	run    int // in w.Runs, or −1
	block  int // else the fuse block and branch
	branch int
	gauge  conductor.Gauge
	side   conductor.Side
	choice int
	rating float64 // the device that protects it
}

func newPlan(said rig.Rig, full *rig.Rig, sys *system.System, net *system.Network) *plan {
	p := &plan{said: said, full: full, sys: sys, net: net, book: net.Book, sizes: conductor.AWG, feet: true, maxV: net.ChargingV()}
	p.w = said.Wiring.Clone()
	if p.w == nil {
		p.w = &rig.Wiring{}
	}
	if net.Book == conductor.AUNZ || metric(&said) {
		p.sizes, p.feet = conductor.Metric, false
	}
	block := full.Bank.Block.Resistance
	ohm := block.Quantity.Base
	if system.IsGuess(block) && block.Low > 0 {
		ohm = block.Low
	}
	p.bankA = net.FaultVolts() / (ohm * math.Max(1, full.Bank.InSeries.Quantity.Base) / float64(net.Blocks))
	p.refresh()
	return p
}

// refresh makes the working document follow the wiring in the making.
func (p *plan) refresh() {
	p.work = *p.full
	p.work.Wiring = p.w
}

// metric tells whether a document's cables are written in square millimetres.
func metric(doc *rig.Rig) bool {
	mm, awg := 0, 0
	rig.Walk(doc, func(_ string, v *rig.Value) {
		if v.Quantity.Kind != quantity.Section || v.State < figure.About {
			return
		}
		if strings.Contains(v.Quantity.Unit, "mm") {
			mm++
		} else {
			awg++
		}
	})
	return mm > awg
}

// reached tells whether a written run ends at the plus side of a terminal.
func (p *plan) reached(terminal string) bool {
	node, ok := p.net.NodeOf(terminal + " +")
	if !ok {
		return false
	}
	for i := range p.net.Runs {
		for _, c := range p.net.Runs[i].Core {
			if c.From == node || c.To == node {
				return true
			}
		}
	}
	return false
}

// value reads a value of our own making.
func value(text string, kind quantity.Kind) rig.Value {
	v, err := rig.ParseValue(text, kind)
	if err != nil {
		panic("design: internal error: " + err.Error())
	}
	return v
}

func amps(x float64) rig.Value  { return value(quantity.Digits(x, 4, 1)+" A", quantity.Current) }
func volts(x float64) rig.Value { return value(quantity.Digits(x, 4, 0)+" V", quantity.Voltage) }

// Steps in which lengths are proposed [m]: half a foot, and a tenth of a metre. Common practice, no source.
const (
	halfFootM = 0.1524
	tenthM    = 0.1
)

// step is the step of the lengths proposed for this rig [m].
func (p *plan) step() float64 {
	if p.feet {
		return halfFootM
	}
	return tenthM
}

// trade rounds a guessed length to what is cut from a reel: up, its low end down, so that the truth stays inside. What the owner said stays as it is.
func (p *plan) trade(v rig.Value) rig.Value {
	if v.Given() {
		return v
	}
	const slack = 0.05 // of a step: a foot is taken for 0.3 m
	step := p.step()
	up := func(m float64) float64 { return step * math.Max(1, math.Ceil(m/step-slack)) }
	v.Quantity.Base = up(v.Quantity.Base)
	if v.High > 0 {
		v.Low, v.High = step*math.Max(1, math.Floor(v.Low/step+slack)), up(v.High)
	}
	return v
}

// length writes a length in whole steps, the nearest.
func (p *plan) length(m float64) string {
	if p.feet {
		return fmt.Sprintf("%g ft", math.Max(1, math.Round(m/halfFootM))/2)
	}
	return fmt.Sprintf("%g m", math.Max(1, math.Round(m/tenthM))/10)
}

// spot writes a place along a run, not beyond m: in whole steps where that leaves any, otherwise in whole inches or in steps of 5 cm.
func (p *plan) spot(m float64) string {
	const hair = 1e-9
	if n := math.Floor(m/p.step() + hair); n >= 1 {
		return p.length(n * p.step())
	}
	if p.feet {
		return fmt.Sprintf("%g in", math.Max(1, math.Floor(m/0.0254+hair)))
	}
	return "0.05 m"
}

// guessed writes a guessed length with its ends.
func (p *plan) guessed(v rig.Value) rig.Value {
	low, mid, high := p.length(v.Low), p.length(v.Quantity.Base), p.length(v.High)
	if v.Low <= 0 || low == mid || mid == high {
		return value("about "+mid, quantity.Length)
	}
	return value(fmt.Sprintf("about %s (%s to %s)", mid, low, high), quantity.Length)
}

// gaugeValue writes a size.
func gaugeValue(g conductor.Gauge) rig.Value { return value(g.String(), quantity.Section) }

// problem notes what no standard part does.
func (p *plan) problem(format string, args ...any) {
	p.problems = append(p.problems, fmt.Sprintf(format, args...))
}

package check

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Case is a rig prepared for judging. It does not change; rules may read it from any goroutine.
type Case struct {
	Said  *rig.Rig        // the document as its owner wrote it
	Doc   *rig.Rig        // the same with everything filled in
	Gaps  []system.Gap    // what is missing and cannot be guessed
	Sys   *system.System  // at nominal; nil where gaps or faults keep it from being made
	Low   *system.System  // every guess at its low end; nil with Sys
	High  *system.System  // every guess at its high end; nil with Sys
	Fault error           // why Sys is nil, besides gaps
	Sites []system.Site   // stops in their order, home last
	Units quantity.System // of the texts; Prepare takes the owner's

	find system.Lookup
	ends []Case                      // while something is missing: the case with it at the low and at the high end of what is plausible
	nets func() *Nets                // the wiring as a network, made once when a rule asks
	says func() map[string]rig.Value // every value of Said by its path, gathered once when a rule asks
}

// stepMin is the step of schedules in a budget [min].
const stepMin = 60

// Prepare makes the case of a document. find looks up the climate of a place: system.FindClimate, or one that remembers. A document that is not
// complete gives a case all the same: what is missing stands as unknown within what is plausible, and Judge lets nothing pass that hangs on
// it. The error is for a document with no rig in it.
func Prepare(doc rig.Rig, find system.Lookup) (Case, error) {
	if doc.Version == 0 && doc.Name == "" && doc.Kind == "" {
		return Case{}, fmt.Errorf("check: the document is empty")
	}
	said := doc.Clone()
	full, gaps := system.Complete(doc)
	c := Case{Said: &said, Doc: &full, Gaps: gaps, Units: said.Units(), find: find}
	c.Sites = system.Sites(&full, find)
	if len(gaps) == 0 {
		c.finish(true)
		return c, nil
	}
	middle, ok := c.standing(doc, []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0, 1})
	if !ok {
		c.finish(false)
		return c, nil
	}
	for _, shares := range [][]float64{{0, 0.05, 0.1, 0.2, 0.3, 0.4}, {1, 0.95, 0.9, 0.8, 0.7, 0.6}} {
		if end, ok := c.standing(doc, shares); ok && end.Fault == nil {
			middle.ends = append(middle.ends, end)
		}
	}
	return middle, nil
}

// standing returns the case with what is missing at the first of some shares of the plausible at which the parts agree with each other, or at the
// first of all where they agree at none; false when something is missing for which nothing can stand.
func (c *Case) standing(doc rig.Rig, shares []float64) (Case, bool) {
	var first Case
	for k, share := range shares {
		full, ok := system.StandIn(doc, share)
		if !ok {
			return Case{}, false
		}
		at := *c
		at.Doc = &full
		if at.finish(true); at.Fault == nil {
			return at, true
		}
		if k == 0 {
			first = at
		}
	}
	return first, true
}

// In returns the case with its texts in the units of a system.
func (c Case) In(units quantity.System) Case {
	c.Units = units
	c.ends = slices.Clone(c.ends)
	for i := range c.ends {
		c.ends[i].Units = units
	}
	doc, sys := c.Doc, c.Sys
	c.nets = sync.OnceValue(func() *Nets { return makeNets(doc, sys, units) })
	return c
}

// finish makes the systems of a document in which nothing is missing, and what is made when a rule asks.
func (c *Case) finish(whole bool) {
	if whole {
		c.assemble()
	}
	doc, said, sys, units := c.Doc, c.Said, c.Sys, c.Units
	c.says = sync.OnceValue(func() map[string]rig.Value { return valuesOf(said) })
	c.nets = sync.OnceValue(func() *Nets { return makeNets(doc, sys, units) })
}

// assemble makes the systems at nominal and at both ends of the guesses.
func (c *Case) assemble() {
	kit, err := system.NewKit(c.Doc)
	if err != nil {
		c.Fault = err
		full, ok := system.Relax(*c.Said)
		if !ok {
			return
		}
		if kit, err = system.NewKit(&full); err != nil {
			return
		}
		c.Doc = &full
	}
	nominal, err := kit.Assemble(system.Draw{}, stepMin)
	if err != nil {
		c.Fault = err
		return
	}
	c.Sys, c.Low, c.High = nominal, nominal, nominal
	// An end that contradicts another part is no end: nominal stands for it.
	if s, err := kit.Assemble(system.LowEnd(), stepMin); err == nil {
		c.Low = s
	}
	if s, err := kit.Assemble(system.HighEnd(), stepMin); err == nil {
		c.High = s
	}
}

// BankV returns the nominal voltage of the bank [V]; 12.8 without a bank.
func (c Case) BankV() float64 {
	b := c.Doc.Bank
	if b == nil {
		return 12.8
	}
	return b.Block.Voltage.Quantity.Base * math.Max(1, b.InSeries.Quantity.Base)
}

// ChargingV returns the voltage of the bank while it is charged in bulk [V]: 3.4 V a cell for LFP, 2.3 for lead-acid. Common practice, no
// source.
func (c Case) ChargingV() float64 {
	b := c.Doc.Bank
	if b == nil || b.Chemistry == "LFP" {
		return 3.4 * c.Cells()
	}
	return 2.3 * c.Cells()
}

// Module returns the module kind of a name, nil when there is none.
func (c Case) Module(name string) *rig.Module {
	for i := range c.Doc.Modules {
		if c.Doc.Modules[i].Name == name {
			return &c.Doc.Modules[i]
		}
	}
	return nil
}

// Controller returns the controller of a name, nil when there is none.
func (c Case) Controller(name string) *rig.Controller {
	for i := range c.Doc.Controllers {
		if c.Doc.Controllers[i].Name == name {
			return &c.Doc.Controllers[i]
		}
	}
	return nil
}

// SaidController returns the controller of a name as its owner wrote it, nil when there is none.
func (c Case) SaidController(name string) *rig.Controller {
	for i := range c.Said.Controllers {
		if c.Said.Controllers[i].Name == name {
			return &c.Said.Controllers[i]
		}
	}
	return nil
}

// ArraysOn returns the arrays on a controller.
func (c Case) ArraysOn(controller string) []*rig.Array {
	var list []*rig.Array
	for i := range c.Doc.Arrays {
		if c.Doc.Arrays[i].Controller == controller {
			list = append(list, &c.Doc.Arrays[i])
		}
	}
	return list
}

// Link returns the links of the charge line that are what pick wants, with the path of the first.
func (c Case) Link(pick func(*rig.Link) bool) (*rig.Link, string) {
	for i := range c.Doc.ChargeLine {
		if l := &c.Doc.ChargeLine[i]; pick(l) {
			return l, fmt.Sprintf("charge line/%d", i+1)
		}
	}
	return nil, ""
}

// Unit returns the dc-dc unit of the charge line, as filled in and as the owner wrote it, with its path; nil when there is none.
func (c Case) Unit() (full, said *rig.DCDC, path string) {
	at := system.UnitAt(c.Doc)
	if at < 0 {
		return nil, nil, ""
	}
	full, path = c.Doc.ChargeLine[at].DCDC, fmt.Sprintf("charge line/%d/dc-dc", at+1)
	if said = full; at < len(c.Said.ChargeLine) && c.Said.ChargeLine[at].DCDC != nil {
		said = c.Said.ChargeLine[at].DCDC
	}
	return full, said, path
}

// Home returns the site where the rig lives, nil when the file does not say.
func (c Case) Home() *system.Site {
	for i := range c.Sites {
		if c.Sites[i].Home {
			return &c.Sites[i]
		}
	}
	return nil
}

// Services returns the hookups that the rig is plugged into, each once, with the sites where.
func (c Case) Services() []Plugged {
	var list []Plugged
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.Plugged() {
			continue
		}
		post, ok := convert.ServiceNamed(s.Hookup)
		if !ok {
			continue
		}
		found := false
		for k := range list {
			if list[k].Service.Name == post.Name {
				list[k].Sites, found = append(list[k].Sites, s), true
			}
		}
		if !found {
			list = append(list, Plugged{Service: post, Sites: []*system.Site{s}})
		}
	}
	return list
}

// Plugged is a hookup with the sites where the rig is plugged into it.
type Plugged struct {
	Service convert.Service
	Sites   []*system.Site
}

// InverterV returns the peak efficiency of the first inverter as a value, 0.9 where there is none.
func (c Case) InverterEfficiency() rig.Value {
	if len(c.Doc.Inverters) > 0 {
		return c.Doc.Inverters[0].Efficiency
	}
	v := rig.Value{State: figure.Default, Low: 0.9, High: 0.9}
	v.Quantity.Base = 0.9
	return v
}

// SaidValue returns a value of the document as its owner wrote it, by its path; false when it is not written.
func (c Case) SaidValue(path string) (rig.Value, bool) {
	if c.says == nil {
		return rig.Value{}, false
	}
	v, ok := c.says()[path]
	return v, ok
}

func valuesOf(said *rig.Rig) map[string]rig.Value {
	all := map[string]rig.Value{}
	rig.Walk(said, func(path string, v *rig.Value) { all[path] = *v })
	return all
}

// SaidLink returns a link of the charge line as its owner wrote it, by its path such as "charge line/3"; nil when there is none.
func (c Case) SaidLink(path string) *rig.Link {
	for i := range c.Said.ChargeLine {
		if fmt.Sprintf("charge line/%d", i+1) == path {
			return &c.Said.ChargeLine[i]
		}
	}
	return nil
}

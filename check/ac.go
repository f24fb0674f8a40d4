package check

import (
	"math"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// AppliancePath returns the path of an appliance.
func AppliancePath(a *rig.Appliance) string { return "appliances/" + a.Name }

// OffGrid tells whether the rig is lived in anywhere without a hookup, so that its inverter feeds what runs on AC. A file without places
// counts as one.
func (c Case) OffGrid() bool {
	for i := range c.Sites {
		if s := &c.Sites[i]; s.Lived && !s.Plugged() {
			return true
		}
	}
	return len(c.Sites) == 0
}

// Inverted tells whether the rig's AC circuits are fed by an inverter where there is no hookup.
func (c Case) Inverted() bool { return len(c.Doc.Inverters) > 0 && c.OffGrid() }

// SaidAppliance returns an appliance as its owner wrote it.
func (c Case) SaidAppliance(i int) *rig.Appliance { return &c.Said.Appliances[i] }

// Element returns what an appliance takes on AC: the electric side of one that burns propane too, else its power.
func Element(a *rig.Appliance) rig.Draw { return system.ElementOf(a) }

// OnShore tells whether an appliance takes AC when the rig is plugged in.
func OnShore(a *rig.Appliance) bool { return system.OnShore(a) }

// Watts returns a draw as a term in watts on an AC circuit: a current is taken at the outlet's voltage.
func Watts(symbol, name string, v rig.Value, outletV float64) figure.Term {
	t := Known(symbol, name, v)
	if t.Figure.Kind == quantity.Current {
		t.Figure.Kind = quantity.Power
		t.Figure.Value, t.Figure.Low, t.Figure.High = t.Figure.Value*outletV, t.Figure.Low*outletV, t.Figure.High*outletV
		t.Figure.Source += " at the outlet's voltage"
	}
	return t
}

// OutletV returns the voltage of an AC outlet where the rig's book applies [V].
func (c Case) OutletV() float64 {
	if c.Doc.Book == "au-nz" {
		return 230
	}
	return 120
}

// LastingAC returns what a rig draws for hours from a post whose legs stand at volts [V], as currents: appliances that run for hours and the chargers at
// full output, with the text of their sum. leg is "L1" or "L2" of a post with two, or empty for all of it. Of what nobody said which leg it hangs on, a
// share x is taken on the leg: half, and between none and all of it; untold lists it.
func (c Case) LastingAC(volts float64, leg string) (sum string, inputs []figure.Term, untold []string) {
	add := func(name, on, text string, terms ...figure.Term) {
		switch {
		case leg == "" || on == leg:
		case on == "both":
			text = "(" + text + ") / 2"
		case on == "" || on == "unknown":
			text = "x × " + text
			untold = append(untold, name)
		default:
			return
		}
		if sum != "" {
			sum += " + "
		}
		sum += text
		inputs = append(inputs, terms...)
	}
	n := 0
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		if !OnShore(a) || !system.Lasting(a) || !Element(a).Rate.Stands() {
			continue
		}
		p := "P" + letterAlways(n)
		add(a.Name, a.Leg, p+" / Vac", Watts(p, a.Name, Element(a).Rate, volts))
		n++
	}
	if c.Doc.Shore != nil {
		for i := range c.Doc.Shore.Chargers {
			k := &c.Doc.Shore.Chargers[i]
			if !k.Output.Stands() {
				continue
			}
			l := letter(i)
			add("charger "+k.Name, k.Leg, "Iout"+l+" × Vabs"+l+" / (ηc"+l+" × pf"+l+" × Vac)", Known("Iout"+l, "charger "+k.Name, k.Output),
				Known("Vabs"+l, "its charging voltage", k.Absorption), Known("ηc"+l, "its efficiency", k.Efficiency), Known("pf"+l, "its power factor", k.PowerFactor))
		}
	}
	if len(untold) > 0 {
		inputs = append(inputs, Between("x", "share on this leg of what nobody told", quantity.Share, 0.5, 0, 1, "no leg is written"))
	}
	return sum, append(inputs, Number("Vac", "outlet", quantity.Voltage, volts, "hookup")), untold
}

func letterAlways(i int) string { return string(rune('a' + i)) }

// Post returns the service that is left between the rig's inlet and a post.
func (c Case) Post(post convert.Service) convert.Service {
	if c.Doc.Shore != nil {
		if inlet, ok := convert.ServiceNamed(c.Doc.Shore.Inlet); ok {
			if s, ok := inlet.Narrower(post); ok {
				return s
			}
		}
	}
	return post
}

// Highest returns the site with the highest ground, nil where no height is known.
func (c Case) Highest() *system.Site {
	return c.Coldest(func(s *system.Site) float64 { return -s.ElevationM })
}

// UsableWh returns what the bank holds when full, of its label [Wh], and above the floor.
func (c Case) UsableWh() (label, usable float64) {
	b := c.Doc.Bank
	if b == nil {
		return 0, 0
	}
	label = b.Block.Capacity.Quantity.Base * math.Max(1, b.Blocks.Quantity.Base) * c.BankV()
	return label, label * (1 - c.Doc.Aims.Floor.Quantity.Base)
}

// BankAh returns the capacity of the bank on its label as a term.
func (c Case) BankAh(symbol string) figure.Term {
	b := c.Doc.Bank
	t := Known(symbol, "capacity of the bank", b.Block.Capacity)
	by := math.Max(1, b.Blocks.Quantity.Base)
	t.Figure.Value, t.Figure.Low, t.Figure.High = by*t.Figure.Value, by*t.Figure.Low, by*t.Figure.High
	return t
}

// Say writes a number with its unit for a sentence.
func Say(x float64, kind quantity.Kind) string {
	return quantity.Format(quantity.Quantity{Base: x, Kind: kind}, quantity.Metric)
}

// Say writes a number with its unit for a sentence, in the units of the case.
func (c Case) Say(x float64, kind quantity.Kind) string {
	return quantity.Format(quantity.Quantity{Base: x, Kind: kind}, c.Units)
}

// SetHours returns the edit that makes the hours of a part read as text.
func SetHours(path string, said rig.Hours, text string) rig.Edit {
	return rig.Edit{Path: path, Old: said.Text(), New: text}
}

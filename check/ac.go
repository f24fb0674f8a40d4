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

// Lasting is what a rig draws for hours on a leg of a post, as currents: the texts of the sums of its loads and of its chargers, empty for none, with their terms.
type Lasting struct {
	Loads, Chargers string
	Inputs          []figure.Term
	Untold          []string // of what nobody said which leg it hangs on
}

// LastingAC returns what a rig draws for hours from a post whose legs stand at volts [V]: appliances that run for hours, counted as package system counts them,
// and the chargers at full output. leg is "L1" or "L2" of a post with two, or empty for one that has one, on which nothing runs that hangs between two legs. Of what
// nobody said which leg it hangs on, a share x is taken on the leg: half, and between none and all of it.
func (c Case) LastingAC(volts float64, leg string) Lasting {
	var l Lasting
	two := c.twoLegs()
	// hangs returns how a text stands on this leg: one that flows between the legs is given for that.
	hangs := func(name, on, text, between string) string {
		switch {
		case two && on == "both":
			if leg == "" {
				return ""
			}
			return between
		case leg == "" || on == leg:
			return text
		case on == "" || on == "unknown":
			l.Untold = append(l.Untold, name)
			return "x × " + text
		}
		return ""
	}
	put := func(sum *string, text string, terms ...figure.Term) {
		if text == "" {
			return
		}
		if *sum != "" {
			*sum += " + "
		}
		*sum += text
		l.Inputs = append(l.Inputs, terms...)
	}
	n := 0
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		take, _ := system.ACTakeOf(a, two)
		if !OnShore(a) || !system.Lasting(a) || !take.Rate.Stands() {
			continue
		}
		text, between, terms := amps(take, a.Name, letterAlways(n))
		put(&l.Loads, hangs(a.Name, a.Leg, text, between), terms...)
		n++
	}
	if c.Doc.Shore != nil {
		for i := range c.Doc.Shore.Chargers {
			k := &c.Doc.Shore.Chargers[i]
			if !k.Output.Stands() {
				continue
			}
			s := letter(i)
			text := "Iout" + s + " × Vabs" + s + " / (ηc" + s + " × pf" + s + " × Vac)"
			put(&l.Chargers, hangs("charger "+k.Name, k.Leg, text, text+" / 2"), Known("Iout"+s, "charger "+k.Name, k.Output),
				Known("Vabs"+s, "its charging voltage", k.Absorption), Known("ηc"+s, "its efficiency", k.Efficiency), Known("pf"+s, "its power factor", k.PowerFactor))
		}
	}
	if len(l.Untold) > 0 {
		l.Inputs = append(l.Inputs, Between("x", "share on this leg of what nobody told", quantity.Share, 0.5, 0, 1, "no leg is written"))
	}
	l.Inputs = append(l.Inputs, Number("Vac", "outlet", quantity.Voltage, volts, "hookup"))
	return l
}

// amps returns the text of the current of an appliance, and that of one which flows between two legs, with its terms.
func amps(take system.ACTake, name, letter string) (text, between string, terms []figure.Term) {
	many := ""
	if take.Many() > 1 || take.Count.State == figure.Unknown {
		many = "n" + letter + " × "
		terms = append(terms, Known("n"+letter, "how many of "+name, take.Count))
	}
	if take.Amps {
		text = many + "I" + letter
		return text, text, append(terms, Known("I"+letter, name, take.Rate))
	}
	text, between = many+"P"+letter+" / Vac", many+"P"+letter+" / (2 × Vac)"
	terms = append(terms, Known("P"+letter, name, take.Rate))
	if take.PowerFactor.Known() {
		text, between = many+"P"+letter+" / (pfl"+letter+" × Vac)", many+"P"+letter+" / (2 × pfl"+letter+" × Vac)"
		terms = append(terms, Known("pfl"+letter, "its power factor", take.PowerFactor))
	}
	return text, between, terms
}

// twoLegs tells whether the rig's inlet has two legs.
func (c Case) twoLegs() bool {
	if c.Doc.Shore == nil {
		return false
	}
	inlet, ok := convert.ServiceNamed(c.Doc.Shore.Inlet)
	return ok && inlet.Legs == 2
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

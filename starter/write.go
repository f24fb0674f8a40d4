package starter

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"campwright/catalogue"
	"campwright/quantity"
)

// write writes the whole file, in the order of the rig's document.
func (n needs) write(c carried, z sizes, head []string) []byte {
	s := &sheet{us: n.camp.us()}
	s.line(0, "campwright: 1", "")
	s.remark(head...)
	s.gap()
	s.said(n, 0, "name", "name: "+text(n.Name))
	s.said(n, 0, "kind", "kind: "+n.Kind)
	s.line(0, "book: "+n.camp.book(), "taken: usual where it stands; campwright explain tells which rules that means")
	s.said(n, 0, "people", fmt.Sprintf("people: %d", n.People))
	if n.Kind == "travel trailer" || n.Kind == "fifth wheel" {
		s.line(0, "breakaway brakes: unknown", "say own battery, or where in the house wiring their feed begins")
	}
	s.gap()
	roof := "  roof: {length: 24 ft, width: 92 in}"
	if !s.us {
		roof = "  roof: {length: 7.2 m, width: 2.3 m}"
	}
	s.remark("The roof is left out: say its length and width, and heat loss and roof plan follow them, such as", roof)
	s.gap()
	n.solar(s, z)
	n.bank(s, z)
	if c.alternator != "" {
		n.engine(s, c)
	} else {
		s.remark("What charges from the tow vehicle is left out. To add it: vehicle, with its alternators, and charge line, piece by piece.")
		s.gap()
	}
	n.shore(s, c)
	n.appliances(s)
	s.gap()
	n.stores(s, c)
	s.gap()
	s.remark("Where it lives between trips is left out: home, with place, lived in and hookup.")
	s.gap()
	n.stay(s)
	s.gap()
	s.line(0, "aims:", "")
	s.line(2, "floor: 20 %", "taken: leaves a reserve and spares the cells")
	s.line(2, "dark nights: at most 1 in 100", "taken: nights that may end below the floor")
	var lose []string
	for _, f := range n.aboard() {
		if f.care {
			lose = append(lose, text(f.name))
		}
	}
	if len(lose) > 0 {
		s.line(2, "must never lose: ["+strings.Join(lose, ", ")+"]", "")
	}
	return []byte(s.b.String())
}

// solar writes modules, controllers and arrays. The remark on the first line of a group is for all of it.
func (n needs) solar(s *sheet, z sizes) {
	module := part(catalogue.ModulePart, "200 W module")
	s.line(0, "modules:", "")
	s.line(2, moduleName+":", "taken, all of it: figures usual for a "+module.Name+", until its label is read")
	s.values(4, module)
	s.gap()
	s.line(0, "controllers:", "")
	for i, w := range z.layout.arrays {
		unit := part(catalogue.ControllerPart, w.controller)
		s.line(2, controllerName(i)+":", "taken, all of it: a usual "+unit.Name)
		s.values(4, unit, "kind", "survives", "output", "input isc")
	}
	s.gap()
	s.line(0, "arrays:", "")
	for i, w := range z.layout.arrays {
		s.line(2, "- name: "+arrayName(i, len(z.layout.arrays)), "taken, all of it: sized for the stay, within what such a roof has room for")
		s.line(4, "module: "+moduleName, "")
		s.line(4, "controller: "+controllerName(i), "")
		s.line(4, fmt.Sprintf("in series: %d", w.series), "")
		s.line(4, fmt.Sprintf("strings: %d", w.strings), "")
		s.line(4, "mounting: raised", "")
	}
	s.gap()
}

// values writes the values of a part, those of the keys named or all.
func (s *sheet) values(indent int, p catalogue.Part, keys ...string) {
	for _, v := range p.Values {
		if v.Key != "chemistry" && (len(keys) == 0 || slices.Contains(keys, v.Key)) {
			s.line(indent, v.Key+": "+s.part(v), "")
		}
	}
}

// moduleName is what the sheet calls its kind of module.
const moduleName = "usual 200"

func controllerName(i int) string { return "controller " + strconv.Itoa(i+1) }

func arrayName(i, of int) string {
	switch {
	case of == 1:
		return "roof"
	case i == 0:
		return "front"
	}
	return "rear"
}

// bank writes battery and inverter.
func (n needs) bank(s *sheet, z sizes) {
	chemistry, _ := z.block.Get("chemistry")
	s.line(0, "bank:", "")
	s.line(2, "chemistry: "+chemistry.Text, "taken")
	s.line(2, fmt.Sprintf("blocks: %d", z.blocks), "taken: sized for the stay")
	s.line(2, "block:", "taken, all of it: a usual "+z.block.Name)
	for _, v := range z.block.Values {
		switch v.Key {
		case "voltage", "capacity":
			s.line(4, v.Key+": "+v.Text, "")
		case "charge limit", "discharge limit", "peak limit", "charges above", "charges below", "weight":
			s.line(4, v.Key+": "+s.part(v), "")
		}
	}
	s.line(2, "bay: inside", "taken: say outside or insulated where frost can reach it")
	s.gap()
	if z.inverter == "" {
		return
	}
	s.line(0, "inverters:", "")
	s.line(2, "inverter:", "taken, all of it: sized for the largest thing on AC, with a quarter to spare")
	s.values(4, part(catalogue.InverterPart, z.inverter))
	s.line(4, "bonds neutral: unknown", "say always, relay or never: its manual tells")
	if n.Refrigerator == "household" {
		s.line(4, "on: always", "the refrigerator needs it")
	} else {
		s.line(4, "on: when used", "left on always, it costs its idle draw day and night")
	}
	s.gap()
}

// engine writes vehicle and charge line of a rig with its own engine.
func (n needs) engine(s *sheet, c carried) {
	a, unit := part(catalogue.AlternatorPart, c.alternator), part(catalogue.DCDCPart, c.unit)
	s.line(0, "vehicle:", "taken, all of it: usual for a "+a.Name)
	s.line(2, "alternators:", "")
	for i, v := range a.Values {
		dash := "  "
		if i == 0 {
			dash = "- "
		}
		s.line(4, dash+v.Key+": "+s.part(v), "")
	}
	s.gap()
	gauge, length := "4 AWG", "18 ft"
	if !s.us {
		gauge, length = "25 mm2", "5.5 m"
	}
	s.line(0, "charge line:", "taken, all of it: from the starter battery to the bank, with a usual "+unit.Name)
	s.line(2, "- fuse: 60 A", "")
	s.line(2, "- run: {gauge: "+gauge+", length: "+length+"}", "")
	s.line(2, "- dc-dc:", "")
	s.values(6, unit)
	s.line(6, "wakes on: engine signal", "")
	s.gap()
}

// shore writes inlet and charger.
func (n needs) shore(s *sheet, c carried) {
	inlet := c.inlet
	if n.camp.book() == "au-nz" {
		inlet = c.inlet230
	}
	s.line(0, "shore:", "taken, all of it: usual for a "+n.Kind)
	s.line(2, "inlet: "+inlet, "")
	s.line(2, "bonds neutral: unknown", "say no once the panel is measured: neutral and ground must not be joined in it")
	s.line(2, "chargers:", "")
	s.line(4, "converter:", "")
	s.values(6, part(catalogue.ChargerPart, c.charger))
	s.line(6, "equalizes: unknown", "say no once it is seen to be off; for lithium it must be")
	s.line(6, "fed by: shore only", "say any AC where the inverter's circuits feed it too")
	s.gap()
}

// stores writes propane and tanks.
func (n needs) stores(s *sheet, c carried) {
	amount := func(base float64, kind quantity.Kind) string { return in(base, kind, s.unit(kind, base)) }
	s.line(0, "stores:", "taken, all of it: usual for a "+n.Kind)
	if slices.ContainsFunc(n.aboard(), func(f fitted) bool { return f.circuit == "propane" }) {
		s.line(2, fmt.Sprintf("propane: %d x %s", c.vessels, amount(c.lb*kgPerLb, quantity.Mass)), "")
	}
	for _, tank := range []struct {
		key string
		gal float64
	}{{"fresh water", c.fresh}, {"grey", c.grey}, {"black", c.black}} {
		if tank.gal > 0 {
			s.line(2, tank.key+": "+amount(tank.gal*litresPerGal, quantity.Volume), "")
		}
	}
}

// Exact by definition [NIST-811].
const (
	kgPerLb      = 0.45359237
	litresPerGal = 3.785411784
)

// stay writes the one stop of the trip.
func (n needs) stay(s *sheet) {
	s.line(0, "trip:", "")
	s.said(n, 2, "place", "- place: "+text(n.camp.text))
	s.said(n, 4, "when", "from: "+n.from.Text())
	s.said(n, 4, "nights", fmt.Sprintf("nights: %d", n.Nights))
	s.line(4, "site: open", "taken: say light trees, half shade or deep shade where they stand over it")
	s.line(4, "hookup: none", "")
	s.line(4, "fills: all", "taken: arrives with full stores and empty waste tanks")
}

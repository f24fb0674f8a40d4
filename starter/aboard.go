package starter

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"campwright/catalogue"
	"campwright/quantity"
)

// fitted is one appliance of the sheet.
type fitted struct {
	name      string // as the sheet calls it
	appliance catalogue.Appliance
	circuit   string
	count     int
	asked     bool // wished for or answered, not added as usual
	taken     bool // its question was not answered
	off       bool // written, and off
	care      bool // must never lose power
}

// warmC is the mean air from which a roof fan is aboard and running.
const warmC = 18

// aboard returns the appliances in the order of the sheet: cold, heat, what was wished for, and what every rig has.
func (n needs) aboard() []fitted {
	list := n.answered()
	list = append(list, n.wished(list)...)
	usually := func(name, as, circuit string, count int) {
		if !slices.ContainsFunc(list, func(f fitted) bool { return f.appliance.Name == name }) {
			list = append(list, fitted{name: free(list, as), appliance: appliance(name), circuit: circuit, count: count})
		}
	}
	if kinds[n.Kind].tank && (n.Heat == "propane" || n.Refrigerator == "propane") {
		usually("water heater", "water heater", "propane", 1)
	}
	usually("lights", "lights", "dc", int(appliance("lights").Count.Value))
	usually("water pump", "water pump", "dc", 1)
	usually("phone charging", "phones", "dc", n.People)
	if _, _, airC := n.camp.darkest(months(n.from, n.Nights)); airC > warmC {
		usually("roof fan", "roof fan", "dc", 1)
	}
	if slices.ContainsFunc(list, func(f fitted) bool { return f.circuit == "propane" }) {
		usually("propane detector", "propane detector", "dc", 1)
	}
	usually("carbon monoxide and smoke detector", "smoke and carbon monoxide detector", "dc", 1)
	usually("radio memory", "radio memory", "dc", 1)
	if n.Kind != "van" {
		usually("control boards", "control boards", "dc", 1)
	}
	return list
}

// answered returns refrigerator and heat.
func (n needs) answered() []fitted {
	small := n.Kind == "van" || n.Kind == "truck camper"
	pick := func(ifSmall, otherwise string) catalogue.Appliance {
		if small {
			return appliance(ifSmall)
		}
		return appliance(otherwise)
	}
	var list []fitted
	switch n.Refrigerator {
	case "propane":
		list = append(list, fitted{name: "refrigerator", appliance: pick("small absorption refrigerator", "absorption refrigerator"), circuit: "propane", taken: n.taken["refrigerator"]})
	case "electric":
		list = append(list, fitted{name: "refrigerator", appliance: pick("compressor cool box", "compressor refrigerator"), circuit: "dc"})
	case "household":
		list = append(list, fitted{name: "refrigerator", appliance: appliance("household refrigerator"), circuit: "ac"})
	}
	switch n.Heat {
	case "propane":
		list = append(list, fitted{name: "furnace", appliance: appliance(kinds[n.Kind].furnace), circuit: "propane", taken: n.taken["heat"]})
	case "diesel":
		list = append(list, fitted{name: "air heater", appliance: appliance("fuel-fired air heater"), circuit: "dc"})
	case "electric":
		list = append(list, fitted{name: "space heater", appliance: appliance("space heater"), circuit: "ac", off: true})
	}
	for i := range list {
		list[i].asked, list[i].count = true, 1
	}
	return list
}

// wished returns what was wished for beside a list: on DC where the thing can be had so, so that no inverter runs for it.
func (n needs) wished(beside []fitted) []fitted {
	var list []fitted
	for _, w := range n.wishes {
		a := w.appliance
		if slices.ContainsFunc(beside, func(f fitted) bool { return f.appliance.Name == a.Name }) {
			continue
		}
		if i := slices.IndexFunc(list, func(f fitted) bool { return f.appliance.Name == a.Name }); i >= 0 {
			list[i].count += w.count
			continue
		}
		f := fitted{name: free(append(beside, list...), w.said), appliance: a, circuit: a.Runs[0], count: w.count, asked: true, taken: n.taken["wishes"]}
		if a.Feeds("dc") {
			f.circuit = "dc"
		}
		if w.count == 1 && a.Count.Kind != quantity.None {
			f.count = int(a.Count.Value)
		}
		f.care = strings.HasPrefix(a.Name, "breathing machine") || a.Name == "oxygen concentrator"
		list = append(list, f)
	}
	return list
}

// free returns a name that no appliance of a list goes by yet.
func free(list []fitted, name string) string {
	for n := 1; ; n++ {
		try := name
		if n > 1 {
			try = fmt.Sprintf("%s %d", name, n)
		}
		if !slices.ContainsFunc(list, func(f fitted) bool { return f.name == try }) {
			return try
		}
	}
}

// appliances writes the appliances. The remark on the first line of each is for all its figures.
func (n needs) appliances(s *sheet) {
	s.line(0, "appliances:", "")
	for _, f := range n.aboard() {
		a := f.appliance
		remark := "figures taken: usual for " + a.Name
		switch {
		case !f.asked:
			remark = "taken: usually aboard, with usual figures"
		case f.taken:
			remark = "taken: not answered, with figures usual for " + a.Name
		}
		if f.count > 1 {
			remark += ", each"
		}
		s.line(2, "- name: "+text(f.name), remark)
		if a.Kind != "plain" {
			s.line(4, "kind: "+a.Kind, "")
		}
		runs := f.circuit
		if f.off {
			runs = "off"
		}
		s.line(4, "runs on: "+runs, "")
		n.draws(s, f)
	}
}

// draws writes what an appliance takes, and when.
func (n needs) draws(s *sheet, f fitted) {
	a := f.appliance
	put := func(key, value string) { s.line(4, key+": "+value, "") }
	at := func(rate string, duty catalogue.Typical) string {
		if duty.Kind == quantity.None {
			return rate
		}
		return rate + " at " + s.about(duty)
	}
	switch {
	case a.Kind == "furnace": // its duty follows the cold
		put("propane", s.heat(a.Propane.Rate))
		put("blower", s.about(a.Power.Rate))
	case a.Kind == "absorption refrigerator":
		put("propane", at(s.heat(a.Propane.Rate), a.Propane.Duty))
		put("electric", s.about(a.Power.Rate))
		put("control", s.about(a.Control))
	case a.Kind == "water heater": // its duty follows the water used
		put("propane", s.heat(a.Propane.Rate))
		put("control", s.about(a.Control))
	case a.Kind == "air conditioner": // its duty follows the heat
		put("power", s.about(a.Power.Rate))
		put("per day", "about 2 h (1 h to 4 h)")
		put("on", "13:00-18:00")
	case f.circuit == "propane":
		put("propane", at(s.heat(a.Propane.Rate), a.Propane.Duty))
	default:
		put("power", at(s.about(a.Power.Rate), a.Power.Duty))
	}
	if a.Kind == "plain" {
		if a.PerDay.Kind != quantity.None {
			put("per day", s.about(a.PerDay))
		}
		if a.On != "" {
			put("on", a.On)
		}
		if a.Standby.Kind != quantity.None && f.circuit == "dc" {
			put("standby", s.about(a.Standby))
		}
	}
	if f.count > 1 {
		put("count", strconv.Itoa(f.count))
	}
	if a.Surge.Kind != quantity.None && f.circuit == "ac" && a.Surge.Value > 1.2*a.Power.Rate.Value {
		put("surge", s.about(a.Surge))
	}
}

package system

import (
	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// appliance fills what one appliance leaves out, by its kind.
func (f *filler) appliance(a *rig.Appliance, doc rig.Rig) {
	p := "appliances/" + a.Name + "/"
	word(&a.Kind, "plain")
	word(&a.Runs, feed(a, doc))
	word(&a.TakesAC, "")
	f.usualHours(a, p)
	hours(&a.On, "always")
	f.fixed(&a.Count, p+"count", quantity.Count, 1, "one")
	switch a.Kind {
	case "furnace":
		f.value(&a.Keeps, p+"keeps", catalogue.FurnaceKeeps)
		f.value(&a.FurnaceEff, p+"efficiency", catalogue.FurnaceEfficiency)
		f.value(&a.Blower.Rate, p+"blower/rate", catalogue.FurnaceBlower)
		f.value(&a.Propane.Rate, p+"propane/rate", catalogue.FurnaceInput)
		f.value(&a.Control, p+"control", catalogue.FurnaceControl)
		f.heatLoss(a, p, doc)
	case "absorption refrigerator":
		f.value(&a.Propane.Rate, p+"propane/rate", catalogue.AbsorptionInput)
		f.value(&a.Propane.Duty, p+"propane/duty", catalogue.AbsorptionDuty)
		f.value(&a.Electric.Rate, p+"electric/rate", catalogue.AbsorptionElement)
		f.value(&a.Electric.Duty, p+"electric/duty", catalogue.AbsorptionDuty)
		f.value(&a.Control, p+"control", catalogue.FridgeControl)
	case "compressor refrigerator":
		f.value(&a.Power.Rate, p+"power/rate", catalogue.CompressorPower)
		f.value(&a.Power.Duty, p+"power/duty", catalogue.CompressorDuty)
	case "water heater":
		f.value(&a.Propane.Rate, p+"propane/rate", catalogue.HeaterInput)
		f.value(&a.Electric.Rate, p+"electric/rate", catalogue.HeaterElement)
		f.value(&a.Control, p+"control", catalogue.HeaterControl)
	case "air conditioner":
		f.value(&a.Power.Rate, p+"power/rate", catalogue.CoolerPower)
		f.value(&a.Keeps, p+"keeps", catalogue.CoolerKeeps)
		f.heatLoss(a, p, doc)
	default:
		f.plain(a, p)
	}
}

// usualHours fills running time and hours of a plain appliance whose owner says neither, by what its name tells: a microwave that nobody
// gave hours to does not run all day.
func (f *filler) usualHours(a *rig.Appliance, p string) {
	draw := &a.Power
	if a.Runs == "propane" {
		draw = &a.Propane
	}
	if a.Kind != "plain" || a.On.State != figure.Absent || a.PerDay.State != figure.Absent || draw.Duty.State != figure.Absent {
		return
	}
	c, known := catalogue.Find(a.Name)
	if !known || c.PerDay.Value <= 0 {
		return
	}
	usual := c.PerDay
	usual.Why = "the usual running time of " + c.Name + "; nothing was said"
	f.value(&a.PerDay, p+"per day", usual)
	if c.On == "day" || c.On == "night" {
		hours(&a.On, c.On)
	}
}

// UsualHours returns the running time in a day that an appliance's name tells of [h], and false where it tells of none.
func UsualHours(name string) (hours float64, known bool) {
	c, found := catalogue.Find(name)
	if !found || c.PerDay.Value <= 0 {
		return 0, false
	}
	return c.PerDay.Value, true
}

// plain asks for the power of an appliance that does nothing but follow the clock.
func (f *filler) plain(a *rig.Appliance, p string) {
	draw, key := &a.Power, "power"
	if a.Runs == "propane" {
		draw, key = &a.Propane, "propane"
	}
	switch {
	case draw.Rate.Known() || a.Runs == "off":
	case a.Standby.Given() && draw.Rate.State == figure.Absent:
		f.fixed(&draw.Rate, p+key+"/rate", quantity.Power, 0, "only a standby draw is given")
	case draw.Rate.State == figure.Unknown:
		t, _ := catalogue.ForUnknown(a.Name, a.Runs)
		f.value(&draw.Rate, p+key+"/rate", t)
	case taken(a, draw):
		t, _ := catalogue.ForUnknown(a.Name, a.Runs)
		t.Why += "; nothing was said"
		f.value(&draw.Rate, p+key+"/rate", t)
	default:
		f.need(draw.Rate, p+key, "what "+a.Name+" takes while it runs", "read its label, or the amps at its fuse with a clamp meter")
	}
	f.fixed(&draw.Duty, p+key+"/duty", quantity.Share, 1, "on for all of its hours")
}

// taken tells whether the name of an appliance tells what it takes, and nothing else is said that it could take.
func taken(a *rig.Appliance, draw *rig.Draw) bool {
	if draw.Rate.State != figure.Absent || draw.Duty.State != figure.Absent || a.Standby.Given() {
		return false
	}
	_, known := catalogue.ForUnknown(a.Name, a.Runs)
	return known
}

// feed returns what an appliance runs on whose owner does not say: 12 V, unless its name tells that it takes nothing but AC and there is an inverter.
func feed(a *rig.Appliance, doc rig.Rig) string {
	c, known := catalogue.Find(a.Name)
	if known && len(doc.Inverters) > 0 && !c.Feeds("dc") && c.Feeds("ac") {
		return "ac"
	}
	return "dc"
}

// heatLoss fills how much heat the rig loses, from its size.
func (f *filler) heatLoss(a *rig.Appliance, p string, doc rig.Rig) {
	length, width := catalogue.Body(doc.Kind)
	if r := doc.Roof; r != nil && r.Length.Given() && r.Width.Given() {
		length, width = r.Length.Quantity.Base, r.Width.Quantity.Base
	}
	f.scaled(&a.HeatLoss, p+"heat loss", catalogue.HeatLossPerArea, catalogue.Envelope(length, width))
}

// CountDefaults returns how many values of a completed document the program filled in.
func CountDefaults(doc *rig.Rig) int {
	n := 0
	rig.Walk(doc, func(_ string, v *rig.Value) {
		if v.State == figure.Default {
			n++
		}
	})
	return n
}

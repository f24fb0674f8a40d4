package starter

import (
	"math"

	"campwright/catalogue"
	"campwright/system"
)

// Sums are what the answers come to, on a mean day of the darkest month of the stay. They are estimates for a first size; the trip
// answers with days, weather and chances.
type Sums struct {
	Month       string  `json:"month"`
	SunKWhM2    float64 `json:"sunKWhM2"` // light on the level, a day
	AirC        float64 `json:"airC"`     // mean air
	UseWh       float64 `json:"useWh"`    // taken from the bank in a day, inverter loss included
	HarvestWh   float64 `json:"harvestWh"`
	ArrayW      float64 `json:"arrayW"`
	BankWh      float64 `json:"bankWh"`      // of a full bank, to the floor
	BatteryDays float64 `json:"batteryDays"` // until the floor, every day as the mean one; mostDays where the array carries all
	Propane     float64 `json:"propaneDays"` // zero where none is used
	Water       float64 `json:"waterDays"`   // until the first of fresh, grey and black
}

// mostDays stands for days without end, so that sums stay numbers.
const mostDays = 9999

// Sizing rules. Common practice, no source.
const (
	darkDays     = 2.0  // days of use that the bank holds without sun, where the stay is as long
	arraySpare   = 1.3  // over the mean day, for dark weeks and for guesses
	moduleW      = 200  // the class of module proposed
	blockAh      = 100  // the block proposed
	largeBlockAh = 300  // and the one for large banks
	blockV       = 12.8 // nominal
	inverterAtV  = 12.0 // bank voltage at which the inverter must still give its rating
)

// sizes are what was chosen.
type sizes struct {
	layout   layout
	blocks   int
	block    catalogue.Part
	inverter string // part of the catalogue; empty for none
	short    bool   // what the stay needs does not fit
}

// choose sizes array and bank for a stay.
func choose(n needs, c carried, dailyWh, sun, airC float64) sizes {
	nights := float64(n.Nights)
	floor := catalogue.LFPFloor.Value
	s := sizes{inverter: n.inverter()}

	usable := dailyWh * math.Min(nights, darkDays)
	blocks := int(math.Ceil(usable / ((1 - floor) * blockAh * blockV)))
	if s.inverter != "" {
		most := part(catalogue.BlockPart, "100 Ah LFP block").Number("discharge limit")
		p := part(catalogue.InverterPart, s.inverter)
		blocks = max(blocks, int(math.Ceil(p.Number("power")/p.Number("efficiency")/inverterAtV/most)))
	}
	s.blocks = min(max(blocks, 1), c.blocks)
	s.short = blocks > c.blocks
	s.block = part(catalogue.BlockPart, "100 Ah LFP block")
	ah := float64(s.blocks * blockAh)
	if s.blocks > 4 {
		s.block = part(catalogue.BlockPart, "300 Ah LFP block")
		s.blocks = int(math.Ceil(ah / largeBlockAh))
		ah = float64(s.blocks * largeBlockAh)
	}

	fromArray := math.Max(0, dailyWh-(1-floor)*ah*blockV/nights)
	modules := fromArray * arraySpare / (sun * arrayFactor(airC) * moduleW)
	s.layout = layouts[0]
	for _, l := range layouts {
		if l.modules > c.modules {
			break
		}
		if s.layout = l; float64(l.modules) >= modules {
			break
		}
	}
	s.short = s.short || float64(s.layout.modules) < modules
	return s
}

// inverter returns the inverter that the largest of the wishes on AC needs, with a quarter to spare; empty where none is on AC.
func (n needs) inverter() string {
	most := 0.0
	for _, w := range n.aboard() {
		if w.circuit == "ac" {
			most = math.Max(most, w.appliance.Power.Rate.Value)
		}
	}
	if most == 0 {
		return ""
	}
	for _, name := range inverters {
		if part(catalogue.InverterPart, name).Number("power") >= 1.25*most {
			return name
		}
	}
	return inverters[len(inverters)-1]
}

// sumsOf sums a finished rig.
func sumsOf(sys *system.System, n needs) Sums {
	month, sun, airC := n.camp.darkest(months(n.from, n.Nights))
	d := MeanDay(sys, sun, airC)
	s := Sums{Month: month.String(), SunKWhM2: sun, AirC: airC, UseWh: d.UseWh, HarvestWh: d.HarvestWh, BankWh: d.BankWh}
	for i := range sys.Arrays {
		s.ArrayW += sys.Arrays[i].RatedW
	}
	s.BatteryDays = mostDays
	if d.Battery > 0 {
		s.BatteryDays = math.Min(mostDays, 1/d.Battery)
	}
	if d.HeatWh > 0 && d.Propane > 0 {
		s.Propane = math.Min(mostDays, 1/d.Propane)
	}
	s.Water = mostDays
	if most := math.Max(d.Fresh, math.Max(d.Grey, d.Black)); most > 0 {
		s.Water = math.Min(mostDays, 1/most)
	}
	return s
}

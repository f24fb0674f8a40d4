package starter

import (
	"math"

	"campwright/catalogue"
	"campwright/rig"
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

// arrayFactor is the share of label power times sun hours that reaches the bank over a day from modules flat on a roof, by mean air [°C]:
// 0.78 in frost down to 0.67 in great heat. Common practice, no source: 0.77 to 0.78 cold, 0.72 to 0.76 mild, 0.66 to 0.70 hot.
func arrayFactor(airC float64) float64 {
	return math.Min(0.78, math.Max(0.66, 0.785-0.0035*airC))
}

// Sizing rules. Common practice, no source.
const (
	darkDays     = 2.0  // days of use that the bank holds without sun, where the stay is as long
	arraySpare   = 1.3  // over the mean day, for dark weeks and for guesses
	moduleW      = 200  // the class of module proposed
	blockAh      = 100  // the block proposed
	largeBlockAh = 300  // and the one for large banks
	blockV       = 12.8 // nominal
	inverterAtV  = 12.0 // bank voltage at which the inverter must still give its rating
	swing        = 6.0  // of the air over a day, up and down [K]
)

// use is what a system takes in a day.
type use struct {
	busWh  float64 // from the bank
	heatWh float64 // of propane
}

// useOf sums what a system's loads take in a day away from hookups, at a mean air temperature [°C] that swings over the day.
func useOf(sys *system.System, meanC float64) use {
	var u use
	ac := make([]float64, len(sys.Inverters))
	busV := sys.Bank.Model.NominalV()
	sum := func(day []float64, by *system.ByAir) float64 {
		total, stepH := 0.0, 24/float64(len(day))
		for i, v := range day {
			share := 1.0
			if by != nil {
				share = by.At(meanC + swing*math.Cos(2*math.Pi*((float64(i)+0.5)*stepH-15)/24))
			}
			total += v * share * stepH
		}
		return total
	}
	for _, l := range sys.Loads {
		wh := sum(l.Day, l.ByAir)
		switch {
		case !l.When.Holds(false):
		case l.Bus == system.AC && l.Inverter >= 0:
			ac[l.Inverter] += wh
		case l.Bus == system.AC:
		case l.Amps:
			u.busWh += wh * busV
		default:
			u.busWh += wh
		}
	}
	for i := range sys.Inverters {
		p := sys.Inverters[i].Unit.Params()
		u.busWh += ac[i] / p.Peak
		if !sys.Inverters[i].Used {
			u.busWh += 24 * p.IdleW
		}
	}
	for i := range sys.Controllers {
		u.busWh += 24 * sys.Controllers[i].Unit.Params().OwnUseW
	}
	for _, b := range sys.Burns {
		if b.When.Holds(false) {
			u.heatWh += sum(b.Day, b.ByAir)
		}
	}
	return u
}

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
func sumsOf(full *rig.Rig, sys *system.System, n needs) Sums {
	month, sun, airC := n.camp.darkest(months(n.from, n.Nights))
	u := useOf(sys, airC)
	s := Sums{Month: month.String(), SunKWhM2: sun, AirC: airC, UseWh: u.busWh}
	for i := range sys.Arrays {
		s.ArrayW += sys.Arrays[i].RatedW
	}
	s.HarvestWh = s.ArrayW * sun * arrayFactor(airC)
	s.BankWh = sys.Bank.CapacityAh * sys.Bank.Model.NominalV() * (sys.Bank.StartSoC - sys.Floor)
	s.BatteryDays = mostDays
	if s.UseWh > s.HarvestWh {
		s.BatteryDays = math.Min(mostDays, s.BankWh/(s.UseWh-s.HarvestWh))
	}
	if u.heatWh > 0 {
		s.Propane = math.Min(mostDays, sys.Propane.StartKg/(u.heatWh*sys.Propane.KgPerWh))
	}
	w := sys.Water
	s.Water = mostDays
	for _, t := range [...][2]float64{{w.FreshL, w.FreshPerDay}, {w.GreyL, w.GreyPerDay}, {w.BlackL, w.BlackPerDay}} {
		if t[0] > 0 && t[1] > 0 {
			s.Water = math.Min(s.Water, t[0]/t[1])
		}
	}
	return s
}

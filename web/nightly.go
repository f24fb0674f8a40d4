package web

import (
	"slices"
	"time"

	"campwright/quantity"
	"campwright/rig"
	"campwright/trip"
)

// bedtimeHour is when a day is taken to end for those aboard, by the clock of the place. Common practice, no source.
const bedtimeHour = 22

// nightCharge is the charge of the typical run at bedtime and at the first light after it, as shares; below zero where there is none.
type nightCharge struct{ bedtime, dawn float64 }

func (n nightCharge) words() (bedtime, dawn string) {
	if n.bedtime >= 0 {
		bedtime = wholePercent(n.bedtime)
	}
	if n.dawn >= 0 {
		dawn = wholePercent(n.dawn)
	}
	return bedtime, dawn
}

// nightCharges reads bedtimes and dawns off a trace, for so many nights counted from its first day. Dawn is when the sun first feeds the
// bank before noon; on a day without any, the sixth hour stands for it.
func nightCharges(t *trip.Trace, nights int) []nightCharge {
	list := make([]nightCharge, nights)
	for i := range list {
		list[i] = nightCharge{-1, -1}
	}
	if t.StepMin < 1 {
		return list
	}
	zone, err := time.LoadLocation(t.Zone)
	if err != nil {
		zone = t.Start.Location()
	}
	step := time.Duration(t.StepMin) * time.Minute
	start := t.Start.In(zone)
	first := time.Date(start.Year(), start.Month(), start.Day(), 0, 0, 0, 0, zone)
	index := func(at time.Time) int {
		i := int(at.Sub(t.Start) / step)
		if at.Before(t.Start) || i >= len(t.SoC) {
			return -1
		}
		return i
	}
	for n := range list {
		day := first.AddDate(0, 0, n)
		if i := index(day.Add(bedtimeHour * time.Hour)); i >= 0 {
			list[n].bedtime = float64(t.SoC[i])
		}
		morning := day.AddDate(0, 0, 1)
		from, noon := index(morning.Add(3*time.Hour)), index(morning.Add(12*time.Hour))
		if from < 0 || noon < 0 {
			continue
		}
		dawn := index(morning.Add(6 * time.Hour))
		if len(t.SolarW) == len(t.SoC) {
			if lit := slices.IndexFunc(t.SolarW[from:noon], func(w float32) bool { return w > 0 }); lit >= 0 {
				dawn = from + lit
			}
		}
		list[n].dawn = float64(t.SoC[dawn])
	}
	return list
}

// typicalNight tells the middle of all bedtimes and of all dawns.
func typicalNight(nights []nightCharge) []BasisRow {
	var rows []BasisRow
	for _, x := range []struct {
		name string
		of   func(nightCharge) float64
	}{{"at bedtime, 22:00", func(n nightCharge) float64 { return n.bedtime }}, {"at first light", func(n nightCharge) float64 { return n.dawn }}} {
		var list []float64
		for _, n := range nights {
			if v := x.of(n); v >= 0 {
				list = append(list, v)
			}
		}
		if len(list) == 0 {
			continue
		}
		slices.Sort(list)
		rows = append(rows, BasisRow{x.name, alike(wholePercent(list[len(list)/2]))})
	}
	return rows
}

// bankVolts is the bank's nominal voltage [V]; zero where none is known.
func bankVolts(full *rig.Rig) float64 {
	if full.Bank == nil {
		return 0
	}
	volts := full.Bank.Block.Voltage.Quantity.Base
	if n := full.Bank.InSeries.Quantity.Base; n > 1 {
		volts *= n
	}
	return volts
}

// ampHours is an energy counted in amp-hours at a voltage; empty where there is none.
func ampHours(wh, volts float64) string {
	if !(volts > 0) {
		return ""
	}
	return quantity.Digits(wh/volts, 2, 1) + " Ah"
}

func voltsText(volts float64) string {
	if !(volts > 0) {
		return ""
	}
	return quantity.In(quantity.Quantity{Base: volts, Kind: quantity.Voltage}, "V")
}

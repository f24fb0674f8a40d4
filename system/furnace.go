package system

import (
	"campwright/catalogue"
	"campwright/figure"
	"campwright/load"
	"campwright/rig"
)

// furnace adds a furnace as its thermostat keeps it by day, and once more for the hours in which it is set back. The heat of walls and furniture that a
// set-back gives and takes again in the morning is left out: over a day the two are alike.
func (a *assembler) furnace(r *rig.Appliance) error {
	burn, err := a.day(r, a.of(r.Propane.Rate))
	if err != nil {
		return err
	}
	blow, err := a.day(r, a.rate(r.Blower.Rate, DC))
	if err != nil {
		return err
	}
	night := a.setBack(r)
	if err := a.heats(r, a.of(r.Keeps), outside(burn, night), outside(blow, night)); err != nil {
		return err
	}
	if night != nil {
		if err := a.heats(r, a.of(r.KeepsNight), inside(burn, night), inside(blow, night)); err != nil {
			return err
		}
	}
	return a.steady(r, "control", DC, r.Control, false)
}

// Hours of a set-back whose owner does not say them [min]. Common practice, no source.
const (
	setBackFrom  = 22 * 60
	setBackUntil = 6 * 60
)

// setBack returns the share of each step of the day in which a furnace is set back, nil for one that never is.
func (a *assembler) setBack(r *rig.Appliance) []float64 {
	if !r.KeepsNight.Known() {
		return nil
	}
	spans := []rig.Span{{From: setBackFrom, Until: setBackUntil}}
	if r.Night.State >= figure.About {
		spans = spansOf(r.Night)
	}
	p := load.ScheduleParams{When: load.Hours}
	for _, s := range spans {
		p.Spans = append(p.Spans, load.Span{From: float64(s.From), To: float64(s.Until)})
	}
	out := make([]float64, load.Steps(a.stepMin))
	s, err := load.NewSchedule(p)
	if err == nil {
		err = s.AddShares(out, a.stepMin, load.Sun{Down: true}, 1)
	}
	a.fail(err)
	return out
}

// inside and outside are a day's column within some hours and without them; share is nil for no such hours.
func inside(day, share []float64) []float64 {
	out := make([]float64, len(day))
	for i := range out {
		out[i] = day[i] * share[i]
	}
	return out
}

func outside(day, share []float64) []float64 {
	if share == nil {
		return day
	}
	out := make([]float64, len(day))
	for i := range out {
		out[i] = day[i] * (1 - share[i])
	}
	return out
}

// heats adds a furnace that keeps one temperature: its burner and its blower over a day.
func (a *assembler) heats(r *rig.Appliance, keepsC float64, burn, blow []float64) error {
	f, err := load.NewFurnace(load.FurnaceParams{
		KeepsC: keepsC, HeatLossWK: a.of(r.HeatLoss), FreeHeatW: catalogue.FreeHeatPerPerson.Value * a.of(a.doc.People),
		InputW: a.of(r.Propane.Rate), Efficiency: a.of(r.FurnaceEff), PurgeMin: purgeMin, CyclesPerH: cyclesPerH,
	})
	if err != nil {
		return err
	}
	duty := func(airC float64) float64 { d, _ := f.Duty(airC); return d }
	if r.PerDay.Given() { // hours of burning: the schedule holds them already, and no weather changes what was said
		duty = func(float64) float64 { return 1 }
	} else if r.Propane.Duty.Given() { // the owner knows the duty: it is taken as said, whatever the weather
		said := a.of(r.Propane.Duty)
		duty = func(float64) float64 { return said }
	}
	a.sys.Burns = append(a.sys.Burns, Burn{Name: r.Name, Day: burn, ByAir: NewByAir(duty)})
	a.add(Load{Name: r.Name, Part: "blower", Amps: amps(r.Blower.Rate, DC), Day: blow,
		ByAir: NewByAir(func(airC float64) float64 { return f.BlowerShare(duty(airC)) })})
	return nil
}

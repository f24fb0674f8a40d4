package system

import "campwright/convert"

// Use is what one load takes in a day, on the bank's side.
type Use struct {
	Load     string
	Part     string
	Inverter int     // that feeds it; -1 for what hangs on DC
	Wh       float64 // a day
	NightWh  float64 // of it from 20:00 to 07:00
}

// Budget is an ordinary day of the rig away from a hookup, on the bank's side and without weather: each load at the mean of its schedule,
// by the temperature of the air.
type Budget struct {
	AirC    float64
	Uses    []Use
	IdleWh  []float64 // of each inverter, for being on
	OwnWh   float64   // of the charge controllers
	TotalWh float64
	NightWh float64
}

// Night for a budget, in minutes of the day: the hours named night in a rig file.
const (
	nightFrom  = 20 * 60
	nightUntil = 7 * 60
)

// Budget returns an ordinary day at a mean temperature of the air [°C], with the bank at busV [V], lived in or parked. Loads that run only
// while AC comes in are left out. AC loads count with the inverter's loss that goes with them; its idle draw is told apart.
func (s *System) Budget(airC, busV float64, lives bool) Budget {
	b := Budget{AirC: airC, IdleWh: make([]float64, len(s.Inverters))}
	rows := []int{}
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.When.Holds(false) || !lives && !l.Parked || l.Bus == AC && (l.Inverter < 0 || l.Inverter >= len(s.Inverters)) {
			continue
		}
		u := Use{Load: l.Name, Part: l.Part, Inverter: -1}
		if l.Bus == AC {
			u.Inverter = l.Inverter
		}
		b.Uses = append(b.Uses, u)
		rows = append(rows, i)
	}
	for k := range s.Inverters {
		s.inverterDay(&b, k, rows, airC, busV, lives)
	}
	for r, i := range rows {
		l := &s.Loads[i]
		if l.Bus == AC {
			continue
		}
		for step, w := range l.Day {
			w *= l.share(airC)
			if l.Amps {
				w *= busV
			}
			b.Uses[r].add(w, step, len(l.Day))
		}
	}
	for i := range s.Controllers {
		b.OwnWh += 24 * s.Controllers[i].Unit.OwnUseW()
	}
	b.TotalWh = b.OwnWh
	b.NightWh += b.OwnWh * nightShare
	for _, u := range b.Uses {
		b.TotalWh += u.Wh
		b.NightWh += u.NightWh
	}
	for _, wh := range b.IdleWh {
		b.TotalWh += wh
	}
	return b
}

// nightShare is the part of a day that counts as night.
const nightShare = float64(1440-nightFrom+nightUntil) / 1440

// inverterDay books the loads of one inverter and its idle draw.
func (s *System) inverterDay(b *Budget, k int, rows []int, airC, busV float64, lives bool) {
	v := &s.Inverters[k]
	steps := 24
	for r, i := range rows {
		if b.Uses[r].Inverter == k {
			steps = len(s.Loads[i].Day)
			break
		}
	}
	for step := range steps {
		ac := 0.0
		for r, i := range rows {
			if b.Uses[r].Inverter == k && step < len(s.Loads[i].Day) {
				ac += s.Loads[i].Day[step] * s.Loads[i].share(airC)
			}
		}
		minute := (step*1440 + 720) / steps
		on := v.On(minute) && (!v.Used || ac > 0)
		if !lives && v.Used || !on && ac == 0 {
			continue
		}
		idle := v.Unit.Supply(convert.ACDemand{BusV: busV, On: true}).DCW
		whole := v.Unit.Supply(convert.ACDemand{LoadW: ac, BusV: busV, On: true}).DCW
		h := 24 / float64(steps)
		if v.Used { // on for the moments in which something asks, so that its idle draw goes with the load
			idle = 0
		}
		if on {
			b.IdleWh[k] += idle * h
			if minute >= nightFrom || minute < nightUntil {
				b.NightWh += idle * h
			}
		}
		for r, i := range rows {
			if b.Uses[r].Inverter == k && ac > 0 && step < len(s.Loads[i].Day) {
				b.Uses[r].add((whole-idle)*s.Loads[i].Day[step]*s.Loads[i].share(airC)/ac, step, steps)
			}
		}
	}
}

func (u *Use) add(watts float64, step, steps int) {
	h := 24 / float64(steps)
	u.Wh += watts * h
	if minute := (step*1440 + 720) / steps; minute >= nightFrom || minute < nightUntil {
		u.NightWh += watts * h
	}
}

// share returns how much of its schedule a load runs at an air temperature [°C].
func (l *Load) share(airC float64) float64 {
	if l.ByAir == nil {
		return 1
	}
	return l.ByAir.At(airC)
}

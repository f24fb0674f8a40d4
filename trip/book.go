package trip

import (
	"math"

	"campwright/battery"
	"campwright/system"
)

// arrive fills what is filled on arrival at a site and returns the propane then aboard [kg]. Charge taken from elsewhere is booked as what
// the bank began with.
func (out *Run) arrive(b *bus, site int, gas float64) float64 {
	s := &out.Course.Sites[site]
	if s.fills("charge") {
		before := out.System.Bank.Model.Energy(b.state.SoC)
		b.state.SoC = 1
		out.StartWh += out.System.Bank.Model.Energy(1) - before
	}
	if s.fills("propane") {
		return out.filled(gas)
	}
	return gas
}

// filled books that all propane is filled and returns what is then aboard [kg].
func (out *Run) filled(gas float64) float64 {
	out.FilledKg += out.System.Propane.KgFull - gas
	return out.System.Propane.KgFull
}

// bookSun books one step's sun. Arrays that share a controller share what it lost in proportion to what they offered.
func (out *Run) bookSun(r *runner, b *bus, i int) {
	h := b.stepH
	for a := range r.sys.Arrays {
		p := r.offers[a].powerW[i]
		if p <= 0 {
			continue
		}
		k := r.sys.Arrays[a].Controller
		o, l := &b.outs[k], &out.Arrays[a]
		part := h * p / r.inputs[k].MPPW
		l.Potential += (p + r.offers[a].cableW[i]) * h
		l.Cable += r.offers[a].cableW[i] * h
		l.Bus += o.BusW * part
		l.Loss += o.LossW * part
		l.ByVoltage += o.VoltageW * part
		l.ByCurrent += o.CurrentW * part
		l.ByPower += o.PowerW * part
		l.ByBank += o.CurtailedW * part
	}
}

// bookStep books loads, losses and the bank, and holds the two sides of the step's ledger against each other.
func (out *Run) bookStep(r *runner, b *bus, s sharing, i int, air, volts float64) {
	h := b.stepH
	at := int(r.course.Minute[i]) / r.course.StepMin
	dcServed := 0.0
	for k := range r.sys.Loads {
		l := &r.sys.Loads[k]
		if !r.lives && !l.Parked || !l.When.Holds(r.demand.feed != nothing) {
			continue
		}
		w := l.Day[at]
		if w == 0 {
			continue
		}
		if l.ByAir != nil {
			w *= l.ByAir.At(air)
		}
		if l.Amps {
			w *= volts
		}
		share := s.dcShare
		if l.Bus == system.AC {
			switch {
			case r.demand.feed != nothing:
				share = s.acShare
			case l.Inverter < 0 || !r.demand.on[l.Inverter]:
				out.Days[r.course.Day[i]].OffWh += w * h
				continue // nothing feeds it, or its owner switched the inverter off
			default:
				share = b.acShare[l.Inverter]
			}
		} else {
			dcServed += w * share
			out.stalled = out.stalled || l.Part == "blower" && share < stalls
		}
		out.Loads[k].Asked += w * h
		out.Loads[k].Served += w * share * h
	}
	f := s.flow
	out.InverterWh += s.inverterW * h
	out.InverterLossWh += s.lossW * h
	for v, w := range b.idleW {
		out.IdleWh[v] += w * h
	}
	out.OwnWh += s.ownW * h
	out.HeaterWh += s.heaterW * h
	out.BankInWh += math.Max(f.PowerW, 0) * h
	out.BankOutWh += math.Max(-f.PowerW, 0) * h
	out.ResistiveWh += f.ResistiveLossW * h
	out.PolarisationWh += f.PolarisationLossW * h
	out.CoulombicWh += f.CoulombicLossW * h
	out.LeakWh += f.SelfDischargeW * h
	out.UnmetWh += math.Max(0, s.wantedW-s.servedW) * h
	out.VehicleWh += s.vehicleW * h
	out.ChargeWh += s.chargeW * h
	out.ChargeInWh += s.chargeInW * h
	if r.demand.feed == generator {
		out.GeneratorWh += (s.feedW + s.chargeInW) * h
		out.GeneratorFeedWh += s.feedW * h
		out.GeneratorH += h
		out.FuelL += r.sys.Supply.Generator.FuelLph(s.feedW+s.chargeInW) * h
	} else {
		out.ShoreWh += (s.feedW + s.chargeInW) * h
		out.ShoreFeedWh += s.feedW * h
	}
	if s.vehicleW > 0 {
		out.EngineH += h
		out.ShortAh += s.shortA * h
	}
	in := s.solarW + s.vehicleW + s.chargeW + math.Max(-f.PowerW, 0)
	used := dcServed + s.inverterW + s.ownW + s.heaterW + math.Max(f.PowerW, 0)
	if worst := math.Abs(in-used) * h; worst > out.WorstStepWh {
		out.WorstStepWh = worst
	}
	out.SoC[i], out.Volts[i], out.SolarW[i], out.LoadW[i] = float32(b.state.SoC), float32(f.TerminalV), float32(s.solarW), float32(s.servedW)
}

// stalls is the share of a step's power below which a blower counts as standing still.
const stalls = 0.5

// furnacesOf tells which burners heat with a blower.
func furnacesOf(sys *system.System) []bool {
	list := make([]bool, len(sys.Burns))
	for k := range list {
		for i := range sys.Loads {
			list[k] = list[k] || sys.Loads[i].Part == "blower" && sys.Loads[i].Name == sys.Burns[k].Name
		}
	}
	return list
}

// bookGas burns one step's propane and returns what is left [kg]. It burns on when the bank is empty and boards and blowers are out: each
// store is followed as if the others held, so that the soonest end is not hidden by another. A cylinder that cold keeps from boiling fast enough is booked, not
// choked: what the flame then lacks depends on regulator and hose.
func (out *Run) bookGas(r *runner, i int, air, left float64) float64 {
	at := int(r.course.Minute[i]) / r.course.StepMin
	day := &out.Days[r.course.Day[i]]
	total := 0.0
	if r.lives {
		for k := range r.sys.Burns {
			u := &r.sys.Burns[k]
			w := u.Day[at]
			if w == 0 || !u.When.Holds(r.demand.feed != nothing) {
				continue
			}
			if u.ByAir != nil {
				w *= u.ByAir.At(air)
			}
			kg := math.Min(left, w*r.course.StepH*r.sys.Propane.KgPerWh)
			out.stalled = out.stalled || out.furnaces[k] && w > 0 && kg <= 0
			out.Burns[k] += kg
			day.GasKg += kg
			left -= kg
			total += w
		}
	}
	if total > 0 && left <= 0 {
		day.NoGasH += r.course.StepH
	}
	if out.stalled {
		day.NoHeatH += r.course.StepH
		out.stalled = false
	}
	// The last tenth of a vessel runs thin in any weather and is left to the change-over.
	if p := &r.sys.Propane; p.Boils && total > 0 && left > 0 && filling(left, p.Each) > 0.1 && total > p.Vessel.DrawLimitW(filling(left, p.Each), air) {
		day.StarvedH += r.course.StepH
		out.StarvedW = math.Max(out.StarvedW, total)
	}
	out.GasKg[i] = float32(left)
	return left
}

// freeze books a step of a lead-acid bank whose acid is colder than it stays liquid at its charge.
//
// Source: [TM-6140], by battery.FreezingC.
func (d *RunDay) freeze(soc, bankC, hours float64) {
	below := battery.FreezingC(soc) - bankC
	if below <= 0 {
		return
	}
	if d.FrozenH == 0 || below > battery.FreezingC(d.FrozenSoC)-d.FrozenC {
		d.FrozenSoC, d.FrozenC = soc, bankC
	}
	d.FrozenH += hours
}

// filling returns how full the vessel in use is when so much propane [kg] is left in vessels of one size that are emptied one by one.
func filling(left, each float64) float64 {
	if each <= 0 {
		return 0
	}
	share := math.Mod(left, each) / each
	if share == 0 {
		return 1
	}
	return share
}

// bookDay gathers the day's figures.
func (out *Run) bookDay(r *runner, b *bus, s sharing, i int, w Weather) {
	day := &out.Days[r.course.Day[i]]
	if b.state.SoC < day.LowSoC && nightly(r.course.Minute[i]) {
		day.LowSoC, day.LowStep = b.state.SoC, i
	}
	h := b.stepH
	day.SolarWh += (s.solarW + s.vehicleW + s.chargeW) * h
	day.ServedWh += s.servedW * h
	if s.wantedW > s.servedW*(1+1e-9) {
		day.UnmetWh += (s.wantedW - s.servedW) * h
		day.Dark = true
	}
	for k := range b.outs {
		o := &b.outs[k]
		day.ThrownWh += (o.VoltageW + o.CurrentW + o.PowerW + o.CurtailedW) * h
	}
	day.ColdBlock, day.Overload = day.ColdBlock || s.coldBlock, day.Overload || s.overload
	day.Cut, day.LoadsCut, day.Open = day.Cut || b.inverterCut && len(r.sys.Inverters) > 0, day.LoadsCut || b.loadsCut, day.Open || b.open
	if out.System.Bank.Acid {
		day.freeze(b.state.SoC, b.bankC, h)
	}
	day.AirLow, day.AirHigh = math.Min(day.AirLow, w.AirC[i]), math.Max(day.AirHigh, w.AirC[i])
	day.SunWhM2 += w.GHI[i] * h
}

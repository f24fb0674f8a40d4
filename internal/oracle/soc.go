package oracle

import (
	"fmt"
	"math"
	"slices"
)

// Targets for the battery's year: energies 0.001 kWh, states of charge 1e-6, hours and days exact. A trace prints watts with six
// decimals and states of charge with nine.
var (
	socEnergy = Limit{Abs: 1e-3}
	socShare  = Limit{Abs: 1e-6}
	socPower  = Limit{Abs: 1e-3}
)

// emptyWh is how near to an end of the window the reference counts the bank as empty or full, and what it counts as unserved [Wh].
const emptyWh = 1e-6

type socRig struct {
	ID string `json:"id"`
	PV struct {
		Module  string `json:"module"`
		Count   int    `json:"count"`
		Surface string `json:"surface"`
	} `json:"pv"`
	Controller struct {
		Efficiency float64 `json:"efficiency"`
		MaxOutput  float64 `json:"max_output_w"`
	} `json:"controller"`
	Battery struct {
		Chemistry     string  `json:"chemistry"`
		NominalV      float64 `json:"nominal_v"`
		CapacityAh    float64 `json:"capacity_ah"`
		ChargeEff     float64 `json:"charge_efficiency"`
		DischargeEff  float64 `json:"discharge_efficiency"`
		MaxChargeW    float64 `json:"max_charge_w"`
		MaxDischargeW float64 `json:"max_discharge_w"`
		SoCMin        float64 `json:"soc_min"`
		SoCMax        float64 `json:"soc_max"`
		Initial       float64 `json:"initial_soc"`
	} `json:"battery"`
	Inverter struct {
		Efficiency float64 `json:"efficiency"`
		Idle       float64 `json:"idle_w"`
		MaxAC      float64 `json:"max_ac_w"`
	} `json:"inverter"`
	Loads []struct {
		Name        string    `json:"name"`
		Kind        string    `json:"kind"`
		WattsByHour []float64 `json:"watts_by_hour"`
		MonthFactor []float64 `json:"month_factor"`
	} `json:"loads"`
	DailyLoad []Num `json:"daily_load_kwh_by_month"`
}

type socCase struct {
	ID             string  `json:"id"`
	Site           string  `json:"site"`
	Rig            string  `json:"rig"`
	StepH          float64 `json:"step_h"`
	Trace          string  `json:"trace"`
	PV             Num     `json:"pv_dc_kwh"`
	Loss           Num     `json:"controller_loss_kwh"`
	Clipped        Num     `json:"controller_clipped_kwh"`
	Load           Num     `json:"load_kwh"`
	Served         Num     `json:"served_kwh"`
	Unserved       Num     `json:"unserved_kwh"`
	Curtailed      Num     `json:"curtailed_kwh"`
	Direct         Num     `json:"pv_direct_to_load_kwh"`
	Charge         Num     `json:"battery_charge_kwh"`
	Discharge      Num     `json:"battery_discharge_kwh"`
	HoursAtMin     Num     `json:"hours_at_min_soc"`
	HoursUnserved  Num     `json:"hours_with_unserved"`
	DaysFull       Num     `json:"days_reaching_full"`
	DaysTotal      Num     `json:"days_total"`
	MonthlyMinimum []Num   `json:"monthly_min_soc"`
	Final          Num     `json:"final_soc"`
}

func judgeSoC(f *folder, s *sheet) {
	var file struct {
		prose
		Rigs  []socRig  `json:"rigs"`
		Cases []socCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	rigs := map[string]*socRig{}
	for i := range file.Rigs {
		rigs[file.Rigs[i].ID] = &file.Rigs[i]
	}
	for i := range file.Cases {
		c := &file.Cases[i]
		rig := rigs[c.Rig]
		if rig == nil {
			s.fault(c.ID, "rig %q is not among the rigs", c.Rig)
			continue
		}
		t, err := f.csv(c.Trace)
		if err != nil {
			s.fault(c.ID, "%v", err)
			continue
		}
		if err := c.judge(s, rig, t); err != nil {
			s.fault(c.ID, "%v", err)
			continue
		}
		if err := c.judgeInput(f, s, rig, t, file.modulesFile()); err != nil {
			s.fault(c.ID, "%v", err)
		}
	}
}

// socColumns are the columns of a trace, the stamp first.
var socColumns = []string{"interval_start_local", "duration_h", "pv_dc_w", "load_w", "bus_pv_w", "charge_w", "discharge_w", "curtailed_w", "unserved_w", "soc_end"}

// socYear is what a run adds up, in kWh, hours and days.
type socYear struct {
	pv, loss, clipped, load, served, unserved, curtailed, direct, charge, discharge float64
	hoursAtMin, hoursUnserved, daysFull, days                                       float64
	monthMin                                                                        [12]float64
	final                                                                           float64
}

// judge runs the rig over the inputs of the trace, by each way the program has, and compares every step and the year.
func (c *socCase) judge(s *sheet, rig *socRig, t *table) error {
	for _, name := range t.names {
		if !slices.Contains(socColumns, name) {
			return fmt.Errorf("%s: column %q is not known", c.Trace, name)
		}
	}
	for _, name := range socColumns[1:] {
		if t.col(name) == nil {
			return fmt.Errorf("%s: no column %q", c.Trace, name)
		}
	}
	for i, h := range t.col("duration_h") {
		if h != c.StepH {
			return fmt.Errorf("%s: record %d lasts %g h, the case says %g", c.Trace, i+1, h, c.StepH)
		}
	}
	c.judgeLoads(s, rig, t)
	for _, way := range socWays {
		steps, err := way.run(rig, c.StepH, t.col("pv_dc_w"), t.col("load_w"))
		if err != nil {
			return err
		}
		if err := c.compareSteps(s, way.name, steps, t); err != nil {
			return err
		}
		c.compareYear(s, way.name, rig.sum(steps, t, c.StepH))
	}
	return nil
}

// compareSteps holds every step against the trace.
func (c *socCase) compareSteps(s *sheet, way string, steps []socStep, t *table) error {
	for i, stamp := range t.stamps {
		if _, _, ok := splitStamp(stamp); !ok {
			return fmt.Errorf("%s: stamp %q is not YYYY-MM-DDTHH:MM:SS", c.Trace, stamp)
		}
		st := &steps[i]
		for _, q := range []struct {
			column string
			got    float64
			limit  Limit
		}{
			{"bus_pv_w", st.bus, socPower}, {"charge_w", st.charge, socPower}, {"discharge_w", st.discharge, socPower},
			{"curtailed_w", st.curtailed, socPower}, {"unserved_w", st.unserved, socPower}, {"soc_end", st.soc, socShare},
		} {
			s.see("trace "+q.column+way, "", q.got, t.col(q.column)[i], q.limit, c.Trace+" "+stamp)
		}
	}
	return nil
}

// sum adds the steps of a year up.
func (rig *socRig) sum(steps []socStep, t *table, stepH float64) *socYear {
	y := &socYear{}
	for m := range y.monthMin {
		y.monthMin[m] = math.Inf(1)
	}
	b := rig.Battery
	wh := b.NominalV * b.CapacityAh
	pvW, loadW := t.col("pv_dc_w"), t.col("load_w")
	lastDay, full := "", false
	for i, st := range steps {
		day, month, _ := splitStamp(t.stamps[i])
		y.add(st, pvW[i], loadW[i], stepH)
		if day != lastDay {
			y.days++
			lastDay, full = day, false
		}
		energy := st.soc * wh
		if energy <= b.SoCMin*wh+emptyWh {
			y.hoursAtMin += stepH
		}
		if st.unserved*stepH > emptyWh {
			y.hoursUnserved += stepH
		}
		if !full && energy >= b.SoCMax*wh-emptyWh {
			full = true
			y.daysFull++
		}
		y.monthMin[month] = min(y.monthMin[month], st.soc)
		y.final = st.soc
	}
	return y
}

// splitStamp takes the day and the month, from 0, out of an ISO stamp.
func splitStamp(stamp string) (day string, month int, ok bool) {
	if len(stamp) < 16 || stamp[4] != '-' || stamp[7] != '-' {
		return "", 0, false
	}
	if _, err := fmt.Sscanf(stamp[5:7], "%d", &month); err != nil || month < 1 || month > 12 {
		return "", 0, false
	}
	return stamp[:10], month - 1, true
}

// add counts one step.
func (y *socYear) add(st socStep, pvW, loadW, h float64) {
	k := h / 1000
	y.pv += pvW * k
	y.loss += st.loss * k
	y.clipped += st.clipped * k
	y.load += loadW * k
	y.served += (loadW - st.unserved) * k
	y.unserved += st.unserved * k
	y.curtailed += st.curtailed * k
	y.direct += st.direct * k
	y.charge += st.charge * k
	y.discharge += st.discharge * k
}

// compareYear holds the year against the description.
func (c *socCase) compareYear(s *sheet, way string, y *socYear) {
	place := fmt.Sprintf("%s %s %s", c.ID, c.Site, c.Rig)
	for _, q := range []struct {
		field, hint string
		got         float64
		want        Num
		limit       Limit
	}{
		{"pv_dc_kwh", "energy_kwh", y.pv, c.PV, socEnergy},
		{"controller_loss_kwh", "energy_kwh", y.loss, c.Loss, socEnergy},
		{"controller_clipped_kwh", "energy_kwh", y.clipped, c.Clipped, socEnergy},
		{"load_kwh", "energy_kwh", y.load, c.Load, socEnergy},
		{"served_kwh", "energy_kwh", y.served, c.Served, socEnergy},
		{"unserved_kwh", "energy_kwh", y.unserved, c.Unserved, socEnergy},
		{"curtailed_kwh", "energy_kwh", y.curtailed, c.Curtailed, socEnergy},
		{"pv_direct_to_load_kwh", "energy_kwh", y.direct, c.Direct, socEnergy},
		{"battery_charge_kwh", "energy_kwh", y.charge, c.Charge, socEnergy},
		{"battery_discharge_kwh", "energy_kwh", y.discharge, c.Discharge, socEnergy},
		{"hours_at_min_soc", "hours", y.hoursAtMin, c.HoursAtMin, Limit{}},
		{"hours_with_unserved", "hours", y.hoursUnserved, c.HoursUnserved, Limit{}},
		{"days_reaching_full", "days", y.daysFull, c.DaysFull, Limit{}},
		{"days_total", "days", y.days, c.DaysTotal, Limit{}},
		{"final_soc", "soc", y.final, c.Final, socShare},
	} {
		s.seeNum(q.field+way, q.hint, q.got, q.want, q.limit, place)
	}
	if len(c.MonthlyMinimum) != 12 {
		s.fault(place, "monthly_min_soc has %d months", len(c.MonthlyMinimum))
		return
	}
	for m, want := range c.MonthlyMinimum {
		s.seeNum("monthly_min_soc"+way, "soc", y.monthMin[m], want, socShare, fmt.Sprintf("%s month %d", place, m+1))
	}
}

// judgeLoads works the load of each step out from the rig's list and holds it against the trace's input, which is how a mistake in
// reading the list shows.
func (c *socCase) judgeLoads(s *sheet, rig *socRig, t *table) {
	want := t.col("load_w")
	for i, stamp := range t.stamps {
		_, month, ok := splitStamp(stamp)
		var hour int
		if _, err := fmt.Sscanf(stamp[11:13], "%d", &hour); err != nil || !ok || hour > 23 {
			return // told by the run over the steps
		}
		s.see("trace load_w (from the rig's loads)", "", rig.load(hour, month), want[i], Limit{Abs: 1e-5}, c.Trace+" "+stamp)
	}
	for m, daily := range rig.DailyLoad {
		sum := 0.0
		for hour := range 24 {
			sum += rig.load(hour, m) / 1000
		}
		s.seeNum("daily_load_kwh_by_month", "", sum, daily, Limit{Abs: 1e-9}, fmt.Sprintf("%s month %d", rig.ID, m+1))
	}
}

// judgeInput holds the array's power, an input of the balance, against the chain from the weather of the same site, where the folder
// has it. The reference made it so, to a thousandth of a watt.
func (c *socCase) judgeInput(f *folder, s *sheet, rig *socRig, t *table, modulesFile string) error {
	site, azimuth, tilt, ok := f.chainSurface(c.Site, rig.PV.Surface)
	if !ok {
		s.report.Notes = append(s.report.Notes, fmt.Sprintf("%s: %s: the folder's chains have no site %q with surface %q, so the array's power is taken as given", s.file, c.ID, c.Site, rig.PV.Surface))
		return nil
	}
	set, ok := f.moduleSet(s, modulesFile)
	if !ok {
		return nil
	}
	m, ok := set.byID[rig.PV.Module]
	if !ok {
		return fmt.Errorf("module %q is not in %s", rig.PV.Module, modulesFile)
	}
	y, err := f.chainYear(site)
	if err != nil {
		return err
	}
	p, err := y.plane(tilt, azimuth, "perez")
	if err != nil {
		return err
	}
	watts, err := y.power(p, m, nil)
	if err != nil {
		return err
	}
	if len(watts) != len(t.stamps) {
		return fmt.Errorf("%s: %d records, the weather has %d", c.Trace, len(t.stamps), len(watts))
	}
	n := float64(rig.PV.Count)
	for i, want := range t.col("pv_dc_w") {
		s.see("trace pv_dc_w for one module (from the chain)", "", watts[i], want/n, chainPower, c.Trace+" "+t.stamps[i])
	}
	return nil
}

// load returns the load at the DC bus in one hour of a month's days [W].
func (rig *socRig) load(hour, month int) float64 {
	dc, ac := 0.0, 0.0
	for _, l := range rig.Loads {
		if hour >= len(l.WattsByHour) || month >= len(l.MonthFactor) {
			continue
		}
		w := l.WattsByHour[hour] * l.MonthFactor[month]
		if l.Kind == "ac" {
			ac += w
		} else {
			dc += w
		}
	}
	if ac > 0 {
		dc += ac/rig.Inverter.Efficiency + rig.Inverter.Idle
	}
	return dc
}

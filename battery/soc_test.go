package battery_test

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"campwright/battery"
	"campwright/internal/near"
)

// socCase is one year of the independent energy balance: soc.json of the reference, two implementations agreeing.
type socCase struct {
	ID, Rig, Trace string
	ServedKWh      float64   `json:"served_kwh"`
	UnservedKWh    float64   `json:"unserved_kwh"`
	CurtailedKWh   float64   `json:"curtailed_kwh"`
	DirectKWh      float64   `json:"pv_direct_to_load_kwh"`
	ChargeKWh      float64   `json:"battery_charge_kwh"`
	DischargeKWh   float64   `json:"battery_discharge_kwh"`
	HoursAtMin     float64   `json:"hours_at_min_soc"`
	HoursUnserved  float64   `json:"hours_with_unserved"`
	DaysFull       int       `json:"days_reaching_full"`
	MonthlyMin     []float64 `json:"monthly_min_soc"`
	FinalSoC       float64   `json:"final_soc"`
}

type socRig struct {
	ID         string
	Controller struct {
		Efficiency float64
		MaxOutputW float64 `json:"max_output_w"`
	}
	Battery struct {
		NominalV      float64 `json:"nominal_v"`
		CapacityAh    float64 `json:"capacity_ah"`
		ChargeEff     float64 `json:"charge_efficiency"`
		DischargeEff  float64 `json:"discharge_efficiency"`
		MaxChargeW    float64 `json:"max_charge_w"`
		MaxDischargeW float64 `json:"max_discharge_w"`
		SoCMin        float64 `json:"soc_min"`
		SoCMax        float64 `json:"soc_max"`
		InitialSoC    float64 `json:"initial_soc"`
	}
}

// The balance dispatches by the equations of soc.json; the battery in it is the Model, in its ideal setting.
func TestIdeal_IndependentEnergyBalance(t *testing.T) {
	var book struct {
		Rigs  []socRig
		Cases []socCase
	}
	if err := json.Unmarshal(reference(t, "oracle", "soc.json"), &book); err != nil {
		t.Fatal(err)
	}
	rigs := map[string]socRig{}
	for _, r := range book.Rigs {
		rigs[r.ID] = r
	}
	if len(book.Cases) < 7 || len(rigs) < 3 {
		t.Fatalf("%d cases and %d rigs", len(book.Cases), len(rigs))
	}
	for _, c := range book.Cases {
		t.Run(c.ID, func(t *testing.T) { balance(t, c, rigs[c.Rig]) })
	}
}

func balance(t *testing.T, c socCase, r socRig) {
	b := r.Battery
	m, err := battery.NewIdeal(battery.IdealParams{NominalV: b.NominalV, CapacityAh: b.CapacityAh, ChargeEff: b.ChargeEff, DischargeEff: b.DischargeEff,
		MaxChargeW: b.MaxChargeW, MaxDischargeW: b.MaxDischargeW, SoCMin: b.SoCMin, SoCMax: b.SoCMax})
	if err != nil {
		t.Fatal(err)
	}
	capWh := b.NominalV * b.CapacityAh
	s := battery.State{SoC: b.InitialSoC}
	got := socCase{MonthlyMin: make([]float64, 12)}
	for i := range got.MonthlyMin {
		got.MonthlyMin[i] = math.Inf(1)
	}
	full := map[string]bool{}
	worst := near.Worst{What: "state of charge"}
	list := table(t, "oracle", c.Trace)
	for _, row := range list {
		dtH, load := number(t, row, "duration_h"), number(t, row, "load_w")
		bus := math.Min(number(t, row, "pv_dc_w")*r.Controller.Efficiency, r.Controller.MaxOutputW)
		direct := math.Min(bus, load)
		surplus, deficit := bus-direct, load-direct
		maxCharge, maxDischarge := m.Limits(s, 25, dtH)
		charge, discharge := math.Min(surplus, maxCharge), math.Min(deficit, maxDischarge)
		var f battery.Flow
		s, f = m.Step(s, charge-discharge, 25, dtH)
		near.Abs(t, "power taken", f.PowerW, charge-discharge, 1e-9, "a power inside the limits passes whole")
		worst.See(s.SoC, number(t, row, "soc_end"), row["interval_start_local"])
		served, unserved := direct+discharge, deficit-discharge
		got.ServedKWh += served * dtH / 1000
		got.UnservedKWh += unserved * dtH / 1000
		got.CurtailedKWh += (surplus - charge) * dtH / 1000
		got.DirectKWh += direct * dtH / 1000
		got.ChargeKWh += charge * dtH / 1000
		got.DischargeKWh += discharge * dtH / 1000
		e := m.Energy(s.SoC)
		if e <= b.SoCMin*capWh+1e-6 {
			got.HoursAtMin += dtH
		}
		if unserved*dtH > 1e-6 {
			got.HoursUnserved += dtH
		}
		at, err := time.Parse("2006-01-02T15:04:05", row["interval_start_local"])
		if err != nil {
			t.Fatal(err)
		}
		if e >= b.SoCMax*capWh-1e-6 {
			full[at.Format(time.DateOnly)] = true
		}
		month := at.Month() - 1
		got.MonthlyMin[month] = math.Min(got.MonthlyMin[month], s.SoC)
	}
	if worst.Count < 8760 || worst.Off > 1e-6 {
		t.Errorf("state of charge: off by %g at %s over %d steps", worst.Off, worst.Place, worst.Count)
	}
	why := "tolerance of the reference"
	near.Abs(t, "served", got.ServedKWh, c.ServedKWh, 1e-3, why)
	near.Abs(t, "unserved", got.UnservedKWh, c.UnservedKWh, 1e-3, why)
	near.Abs(t, "curtailed", got.CurtailedKWh, c.CurtailedKWh, 1e-3, why)
	near.Abs(t, "direct", got.DirectKWh, c.DirectKWh, 1e-3, why)
	near.Abs(t, "charged", got.ChargeKWh, c.ChargeKWh, 1e-3, why)
	near.Abs(t, "discharged", got.DischargeKWh, c.DischargeKWh, 1e-3, why)
	near.Abs(t, "hours at the floor", got.HoursAtMin, c.HoursAtMin, 0, why)
	near.Abs(t, "hours unserved", got.HoursUnserved, c.HoursUnserved, 0, why)
	if len(full) != c.DaysFull {
		t.Errorf("days reaching full: got %d, want %d", len(full), c.DaysFull)
	}
	for i, low := range got.MonthlyMin {
		near.Abs(t, "lowest of a month", low, c.MonthlyMin[i], 1e-6, why)
	}
	near.Abs(t, "final", s.SoC, c.FinalSoC, 1e-6, why)
}

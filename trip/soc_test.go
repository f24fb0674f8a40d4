package trip

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"campwright/battery"
	"campwright/convert"
	"campwright/internal/near"
	"campwright/system"
)

// socReference is what this test reads of the independent energy balances: general-purpose tools, two implementations agreeing.
type socReference struct {
	Rigs []struct {
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
	Cases []struct {
		ID, Rig, Trace string
		StepH          float64 `json:"step_h"`
		UnservedKWh    float64 `json:"unserved_kwh"`
		CurtailedKWh   float64 `json:"curtailed_kwh"`
		ServedKWh      float64 `json:"served_kwh"`
		ChargeKWh      float64 `json:"battery_charge_kwh"`
		DischargeKWh   float64 `json:"battery_discharge_kwh"`
		ClippedKWh     float64 `json:"controller_clipped_kwh"`
		LossKWh        float64 `json:"controller_loss_kwh"`
		HoursAtMin     float64 `json:"hours_at_min_soc"`
		HoursUnserved  float64 `json:"hours_with_unserved"`
		DaysFull       int     `json:"days_reaching_full"`
		FinalSoC       float64 `json:"final_soc"`
	}
}

// TestBalance_IndependentReference plays the independent balances' own inputs through the bus of a trip, with the bank set to their
// idealisation: no voltage, fixed efficiencies, limits in watts.
func TestBalance_IndependentReference(t *testing.T) {
	folder := os.Getenv("CAMPWRIGHT_REFERENCE")
	if folder == "" {
		t.Skip("REFERENCE ABSENT: the energy balances of the independent reference were not compared")
	}
	folder = filepath.Join(folder, "oracle")
	text, err := os.ReadFile(filepath.Join(folder, "soc.json"))
	if err != nil {
		t.Fatal(err)
	}
	var ref socReference
	if err := json.Unmarshal(text, &ref); err != nil {
		t.Fatal(err)
	}
	if len(ref.Cases) == 0 {
		t.Fatal("the reference holds no case")
	}
	for _, c := range ref.Cases {
		t.Run(c.ID, func(t *testing.T) {
			var sys *system.System
			for _, r := range ref.Rigs {
				if r.ID != c.Rig {
					continue
				}
				bank, err := battery.NewIdeal(battery.IdealParams{
					NominalV: r.Battery.NominalV, CapacityAh: r.Battery.CapacityAh, ChargeEff: r.Battery.ChargeEff, DischargeEff: r.Battery.DischargeEff,
					MaxChargeW: r.Battery.MaxChargeW, MaxDischargeW: r.Battery.MaxDischargeW, SoCMin: r.Battery.SoCMin, SoCMax: r.Battery.SoCMax,
				})
				if err != nil {
					t.Fatal(err)
				}
				unit, err := convert.NewController(convert.ControllerParams{
					Kind: convert.StepBoth, SurvivesV: 2000, OutputA: 2000, PowerW: r.Controller.MaxOutputW, BankV: r.Battery.NominalV,
					Peak: r.Controller.Efficiency, Curve: convert.FlatCurve(),
				})
				if err != nil {
					t.Fatal(err)
				}
				set, err := convert.NewSetpoints(convert.SetpointsParams{AbsorptionV: 900})
				if err != nil {
					t.Fatal(err)
				}
				sys = &system.System{Controllers: []system.Controller{{Unit: unit, Set: set}}, Bank: system.Bank{Model: bank, StartSoC: r.Battery.InitialSoC}}
			}
			if sys == nil {
				t.Fatalf("no rig %q", c.Rig)
			}
			trace := readTrace(t, filepath.Join(folder, c.Trace))
			steps, err := Balance(sys, c.StepH, trace["pv_dc_w"], trace["load_w"])
			if err != nil {
				t.Fatal(err)
			}
			worst := map[string]*near.Worst{}
			see := func(field string, got float64, i int) {
				if worst[field] == nil {
					worst[field] = &near.Worst{What: field}
				}
				worst[field].See(got, trace[field][i], trace.stamp(i))
			}
			var unserved, curtailed, served, charge, discharge, clipped, loss, atMin, hungry float64
			full := map[string]bool{}
			for i, s := range steps {
				see("bus_pv_w", s.BusW, i)
				see("charge_w", s.ChargeW, i)
				see("discharge_w", s.DischargeW, i)
				see("curtailed_w", s.CurtailedW, i)
				see("unserved_w", s.UnservedW, i)
				see("soc_end", s.SoC, i)
				unserved += s.UnservedW * c.StepH
				curtailed += s.CurtailedW * c.StepH
				served += s.ServedW * c.StepH
				charge += s.ChargeW * c.StepH
				discharge += s.DischargeW * c.StepH
				clipped += s.ClippedW * c.StepH
				loss += s.LossW * c.StepH
				for _, r := range ref.Rigs {
					if r.ID == c.Rig && s.SoC*r.Battery.NominalV*r.Battery.CapacityAh <= r.Battery.SoCMin*r.Battery.NominalV*r.Battery.CapacityAh+1e-6 {
						atMin += c.StepH
					}
					if r.ID == c.Rig && (s.SoC-r.Battery.SoCMax)*r.Battery.NominalV*r.Battery.CapacityAh >= -1e-6 {
						full[trace.stamp(i)[:10]] = true
					}
				}
				if s.UnservedW*c.StepH > 1e-6 {
					hungry += c.StepH
				}
			}
			for field, w := range worst {
				tol := 2e-6 // the traces are printed to a millionth of a watt
				if field == "soc_end" {
					tol = 1e-6
				}
				near.Abs(t, field+" at "+w.Place, w.Off, 0, tol, "printed digits of the trace")
			}
			const kwh = "the reference's own tolerance"
			near.Abs(t, "unserved", unserved/1000, c.UnservedKWh, 1e-3, kwh)
			near.Abs(t, "curtailed", curtailed/1000, c.CurtailedKWh, 1e-3, kwh)
			near.Abs(t, "served", served/1000, c.ServedKWh, 1e-3, kwh)
			near.Abs(t, "charge", charge/1000, c.ChargeKWh, 1e-3, kwh)
			near.Abs(t, "discharge", discharge/1000, c.DischargeKWh, 1e-3, kwh)
			near.Abs(t, "clipped", clipped/1000, c.ClippedKWh, 1e-3, kwh)
			near.Abs(t, "controller loss", loss/1000, c.LossKWh, 1e-3, kwh)
			near.Abs(t, "hours at the floor", atMin, c.HoursAtMin, 0, "a count")
			near.Abs(t, "hours unserved", hungry, c.HoursUnserved, 0, "a count")
			near.Abs(t, "days reaching full", float64(len(full)), float64(c.DaysFull), 0, "a count")
			near.Abs(t, "final state of charge", steps[len(steps)-1].SoC, c.FinalSoC, 1e-6, "printed digits")
		})
	}
}

// trace is a table of columns by name; the stamps are kept as seconds under "".
type trace map[string][]float64

func (tr trace) stamp(i int) string {
	return time.Unix(int64(tr[""][i]), 0).UTC().Format("2006-01-02T15:04")
}

func readTrace(t *testing.T, path string) trace {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 8761 {
		t.Fatalf("%s holds %d rows, wanted a year", path, len(rows)-1)
	}
	tr := trace{}
	for col, name := range rows[0] {
		for _, row := range rows[1:] {
			if col == 0 {
				at, err := time.Parse("2006-01-02T15:04:05", row[0])
				if err != nil {
					t.Fatal(err)
				}
				tr[""] = append(tr[""], float64(at.Unix()))
				continue
			}
			v, err := strconv.ParseFloat(row[col], 64)
			if err != nil {
				t.Fatal(err)
			}
			tr[name] = append(tr[name], v)
		}
	}
	return tr
}

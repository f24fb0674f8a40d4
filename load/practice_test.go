package load_test

import (
	"encoding/json"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/load"
)

// The daily energies of the handbook's table of loads: typical power by typical duty, all day.
func TestDailyWh_LoadTable(t *testing.T) {
	all := schedule(t, load.ScheduleParams{When: load.Always})
	seen := 0
	for _, row := range table(t, "trade", "loads.csv") {
		want := number(t, row, "Wh_per_day_typical")
		if want == 0 {
			continue // used while driving only
		}
		a := plain(t, load.PlainParams{RunningW: number(t, row, "W_typical"), Duty: number(t, row, "duty24h_typical"), Schedule: all})
		near.Abs(t, row["load"], a.DailyWh(load.Sun{}), want, 0.0501, "one digit printed")
		seen++
	}
	if seen < 45 {
		t.Fatalf("compared only %d rows", seen)
	}
	near.Abs(t, "160 W at 30 % duty", plain(t, load.PlainParams{RunningW: 160, Duty: 0.3, Schedule: all}).DailyWh(load.Sun{}), 1152, 1e-9, "published example")
}

// Cold boxes: published daily energies at 70 and 100 F, and duties of the table of loads.
func TestCooler_Practice(t *testing.T) {
	// 300 to 400 Wh a day at 70 F rise to 600 to 900 at 100 F: a box set to the middle of the first must land in the second.
	c := cooler(t, load.CoolerParams{InsideC: 4, ReferenceC: 21.11, Duty: 350.0 / 24 / 50, RunningW: 50})
	near.Abs(t, "at 70 F", 24*c.MeanW(21.11), 350, 1e-9, "set")
	near.Within(t, "at 100 F", 24*c.MeanW(37.78), 600, 900, "published range for compressor boxes")
	seen := 0
	for _, row := range table(t, "trade", "loads.csv") {
		var p load.CoolerParams
		switch {
		case strings.HasPrefix(row["load"], "compressor fridge 40-60 L"):
			p = load.ChestCompressor()
		case strings.HasPrefix(row["load"], "compressor fridge 8-10"):
			p = load.UprightCompressor()
		default:
			continue
		}
		for tC, text := range map[float64]string{20: "20 C", 25: "25 C", 32: "32 C", 38: "38 C", 43: "43 C"} {
			if strings.Contains(row["load"], text) {
				duty, keeps := cooler(t, p).Duty(tC)
				near.Within(t, row["load"], duty, number(t, row, "duty24h_low"), number(t, row, "duty24h_high"), "practice, no source")
				if !keeps {
					t.Errorf("%s: does not keep its temperature", row["load"])
				}
				seen++
			}
		}
	}
	if seen != 5 {
		t.Fatalf("compared %d rows", seen)
	}
	electric := cooler(t, load.AbsorptionElectric())
	near.Rel(t, "absorption on AC, mild", 24*electric.MeanW(25), 5460, 1e-9, "table of loads")
	if _, keeps := electric.Duty(33); !keeps {
		t.Error("33 C is too warm for it already")
	}
	if duty, keeps := electric.Duty(36); keeps || duty != 1 {
		t.Errorf("above about 35 C it should run without rest, duty %g", duty)
	}
	// 1.5 to 2 gal a week: 817 to 1,089 BTU/h in the mean.
	near.Within(t, "absorption on propane, mild", cooler(t, load.AbsorptionPropane()).MeanW(25)/0.29307107, 817, 1089, "published claim")
	near.Abs(t, "in air as cold as the box", electric.MeanW(4), 0, 1e-12, "no heat comes in")
	for tC := -10.0; tC < 60; tC++ {
		if electric.MeanW(tC+1) < electric.MeanW(tC) {
			t.Fatalf("hotter than %g C it takes less", tC)
		}
	}
}

func cooler(t testing.TB, p load.CoolerParams) load.Cooler {
	t.Helper()
	c, err := load.NewCooler(p)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func furnace(t testing.TB, p load.FurnaceParams) load.Furnace {
	t.Helper()
	f, err := load.NewFurnace(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The furnace by the balance of heat, and the trade's duties.
func TestFurnace_Balance(t *testing.T) {
	p := load.MediumFurnace(18)
	f := furnace(t, p)
	for _, tC := range []float64{-15, -6, 0, 10} {
		duty, keeps := f.Duty(tC)
		if !keeps {
			t.Fatalf("cannot keep 18 C at %g C", tC)
		}
		near.Rel(t, "heat in is heat out", duty*p.InputW*p.Efficiency+p.FreeHeatW, p.HeatLossWK*(18-tC), 1e-12, "identity")
		near.Abs(t, "inside", f.InsideC(tC), 18, 1e-9, "thermostat held")
		if share := f.BlowerShare(duty); share < duty || share > 1 {
			t.Errorf("blower share %g for duty %g", share, duty)
		}
	}
	cold, _ := f.Duty(-10)
	mild, _ := f.Duty(5)
	near.Within(t, "cold and mild night", cold, 0.25, 0.75, "published range of duty")
	near.Within(t, "mild night", mild, 0.1, 0.75, "published range of duty")
	duty, keeps := f.Duty(-40)
	if keeps || duty != 1 || f.InsideC(-40) >= 18 || f.BlowerShare(1) != 1 {
		t.Errorf("at -40 C: duty %g, keeps %v, inside %g C", duty, keeps, f.InsideC(-40))
	}
	if duty, _ := f.Duty(17.5); duty != 0 || f.ElectricW(17.5) != p.ControlW || f.BlowerShare(0) != 0 {
		t.Errorf("free heat alone keeps it warm, yet duty %g", duty)
	}
	// 4 n d (1-d) burns in an hour: at half duty the most, three of a minute and a half.
	near.Abs(t, "blower at half duty", f.BlowerShare(0.5), 0.5+3*1.5/60, 1e-12, "thermostat rule")
}

// Scenario S3: 30,000 BTU/h at 45 % over 13 h burn 1.92 gal; case M71: 8.5 A at 35 % over 12 h are 35.7 Ah.
func TestFurnace_Scenarios(t *testing.T) {
	near.Printed(t, "S3 propane", 30000*0.45*13/91502, 1.92, 2, "scenario S3")
	night := schedule(t, load.ScheduleParams{When: load.Hours, Spans: []load.Span{{From: 1140, To: 420}}})
	a := plain(t, load.PlainParams{RunningW: 8.5 * 12.8, Duty: 0.35, Schedule: night})
	near.Printed(t, "M71", a.DailyWh(load.Sun{})/12.8, 35.7, 1, "case M71")
	s1 := plain(t, load.PlainParams{RunningW: 8 * 12.8, Duty: 1, Schedule: schedule(t, load.ScheduleParams{When: load.Night, PerDayMin: 240})})
	near.Printed(t, "S1 furnace", s1.DailyWh(load.Sun{Rise: 440, Set: 1060})/1000, 0.41, 2, "scenario S1")
}

func TestWater_Worked(t *testing.T) {
	const litresPerGal = 3.785411784
	var all []struct {
		ID        string
		Expect    struct{ KWh float64 }
		Tolerance float64
	}
	if err := json.Unmarshal(onlyW32(t), &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != 1 {
		t.Fatalf("found %d examples", len(all))
	}
	near.Abs(t, "6 gal by 60 F", load.HeatWaterWh(6*litresPerGal, 60.0/1.8)/1000, all[0].Expect.KWh, all[0].Tolerance, "worked example W32")
	near.Printed(t, "6 gal by 40 K", load.HeatWaterWh(6*litresPerGal, 40)/1000, 1.06, 2, "case M52")
	h, err := load.NewWaterHeater(load.WaterHeaterParams{KeepsC: 55, InletC: 15, InputW: 1440, Efficiency: 1, LossWK: 1})
	if err != nil {
		t.Fatal(err)
	}
	hours, keeps := h.HoursPerDay(60, 20)
	near.Rel(t, "heat for a day", hours*1440, load.HeatWaterWh(60, 40)+24*35, 1e-12, "water and tank")
	if !keeps || h.InputWh(60, 20) != hours*1440 {
		t.Error("a day's water is within its power")
	}
	if hours, keeps := h.HoursPerDay(5000, 20); keeps || hours != 24 {
		t.Errorf("5,000 L a day: %g h", hours)
	}
}

func onlyW32(t *testing.T) []byte {
	var all []map[string]json.RawMessage
	if err := json.Unmarshal(reference(t, "trade", "worked_examples.json"), &all); err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		if string(e["id"]) == `"W32"` {
			out, err := json.Marshal([]any{e})
			if err != nil {
				t.Fatal(err)
			}
			return out
		}
	}
	t.Fatal("no worked example W32")
	return nil
}

func TestAirConditioner_Balance(t *testing.T) {
	p := load.AirConditionerParams{KeepsC: 25, HeatLossWK: 160, FreeHeatW: 600, CoolingW: 13500 * 0.29307107, RunningW: 1500}
	a, err := load.NewAirConditioner(p)
	if err != nil {
		t.Fatal(err)
	}
	duty, keeps := a.Duty(35, 0)
	near.Rel(t, "heat in is heat out at the rating point", duty*p.CoolingW, 160*10+600, 1e-12, "identity")
	if !keeps {
		t.Error("35 C is within its power")
	}
	near.Abs(t, "power at the rating point", a.RunningW(35), 1500, 1e-9, "rating")
	for tC := 20.0; tC < 50; tC++ {
		one, _ := a.Duty(tC, 200)
		two, _ := a.Duty(tC+1, 200)
		if two < one || a.RunningW(tC+1) < a.RunningW(tC) {
			t.Fatalf("hotter than %g C it does less", tC)
		}
	}
	if duty, keeps := a.Duty(50, 2000); keeps || duty != 1 {
		t.Errorf("at 50 C in the sun: duty %g", duty)
	}
	if duty, _ := a.Duty(15, 0); duty != 0 {
		t.Errorf("at 15 C: duty %g", duty)
	}
}

// Cases M24, M52 and M69: AC amperes at the bank.
func TestStart_Cases(t *testing.T) {
	near.Printed(t, "A/C start", load.StartDCA(50*120, 0.9, 12.8), 521, 0, "case M24")
	near.Printed(t, "with soft start", load.StartDCA(24*120, 0.9, 12.8), 250, 0, "case M24, twin")
	near.Printed(t, "water heater", load.StartDCA(1400, 0.9, 12.8), 121.5, 1, "case M52")
	near.Printed(t, "microwave of 12 A", load.StartDCA(12*120, 0.9, 12.8), 125, 0, "case M69")
	all := schedule(t, load.ScheduleParams{When: load.Always})
	two := plain(t, load.PlainParams{RunningW: 1500, Duty: 1, Count: 2, PowerFactor: 0.95, SurgeVA: 6000, Schedule: all})
	near.Rel(t, "apparent", two.RunningVA(), 2*1500/0.95, 1e-12, "power factor")
	near.Rel(t, "second start while the first runs", two.PeakVA(), 6000+1500/0.95, 1e-12, "sum")
	// Case M51: an absorption box of 325 W at 65 %.
	near.Printed(t, "M51", plain(t, load.PlainParams{RunningW: 325, Duty: 0.65, Schedule: all}).DailyWh(load.Sun{})/1000, 5.07, 2, "case M51")
}

package system_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"slices"
	"testing"

	"campwright/climate"
	"campwright/internal/near"
	"campwright/pv"
	"campwright/rig"
	"campwright/system"
)

func decode(t testing.TB, text string) rig.Rig {
	t.Helper()
	doc, faults := rig.Decode(bytes.NewReader([]byte("campwright: 1\nname: test\nkind: van\n" + text)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, _ := system.Complete(doc)
	return full
}

// TestVoltsAt: the string of case M01 of the practice list, one module of it, and no change at the label's own temperature.
func TestVoltsAt(t *testing.T) {
	near.Printed(t, "four modules at -20 C", 4*system.VoltsAt(22.3, -0.0030, -20), 101.2, 1, "the practice list, case M01")
	near.Printed(t, "three modules at -20 C", 3*system.VoltsAt(22.3, -0.0030, -20), 75.9, 1, "the practice list, case M01")
	near.Printed(t, "a working voltage at 70 C", system.VoltsAt(17.6, -0.0040, 70), 14.43, 2, "the practice list, case M03")
	if v := system.VoltsAt(22.3, -0.003, 25); v != 22.3 {
		t.Errorf("%v V at the label's temperature", v)
	}
}

// TestVoltsAtAgainstTheDiode holds the straight line against the fitted single diode, from -40 to 75 C: within 1 %, and on the safe side in the
// cold.
func TestVoltsAtAgainstTheDiode(t *testing.T) {
	f, err := pv.Fit(pv.Datasheet{VocV: 24.3, IscA: 10.4, VmpV: 20.4, ImpA: 9.8, Beta: -0.0029, Alpha: 0.0005, Cells: 36})
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for c := -40.0; c <= 75; c += 5 {
		line, diode := system.VoltsAt(24.3, -0.0029, c), f.Module.At(1000, c).Voc()
		near.Rel(t, "open-circuit voltage", line, diode, 0.01, "a straight line against the diode's curve")
		if c < 0 && line < diode*(1-1e-4) {
			t.Errorf("at %v C the line gives %v V, the diode %v V", c, line, diode)
		}
		tried++
	}
	if tried != 24 {
		t.Fatal("range not walked")
	}
}

// TestCoefficients: millivolts per degree and per cent per degree of a sheet are the same thing, ends included.
func TestCoefficients(t *testing.T) {
	doc := decode(t, `modules:
  a: {voc: 23.3 V, isc: 9.6 A, vmp: 19.4 V, imp: 9.02 A, voc per C: -65 mV/C, isc per C: 4 mA/C}
  b: {voc: 23.3 V, isc: 9.6 A, vmp: 19.4 V, imp: 9.02 A, voc per C: about -65 mV/C}
  c: {voc: 23.3 V, isc: 9.6 A, vmp: 19.4 V, imp: 9.02 A, voc per C: -0.29 %/C}
`)
	near.Rel(t, "of Voc", system.VocPerK(&doc.Modules[0]).Quantity.Base, -0.065/23.3, 1e-12, "by hand")
	near.Rel(t, "of Isc", system.IscPerK(&doc.Modules[0]).Quantity.Base, 0.004/9.6, 1e-12, "by hand")
	b := system.VocPerK(&doc.Modules[1])
	near.Rel(t, "low end", b.Low, -1.2*0.065/23.3, 1e-9, "an estimate of a coefficient is good to a fifth")
	near.Rel(t, "high end", b.High, -0.8*0.065/23.3, 1e-9, "an estimate of a coefficient is good to a fifth")
	near.Rel(t, "in per cent", system.VocPerK(&doc.Modules[2]).Quantity.Base, -0.0029, 1e-12, "as written")
}

// TestSites: stops in their order with months, drives and extremes, home last; what the file says goes before the climatology.
func TestSites(t *testing.T) {
	doc := decode(t, `trip:
  - {place: 50 N 119 W, from: 2027-09-28, nights: 4, drive: 2 h}
  - {drive: 3 h}
  - {place: unknown, record low: -24 C, nights: 35, elevation: 790 m, engine idles: 15 min, drive: 1 h}
home: {place: 49 N 123 W, hookup: 15 A}
`)
	low := -30.0
	find := func(p rig.Place, elevation *float64) (system.Spot, error) {
		if !p.HasSpot {
			return system.Spot{}, errors.New("no place")
		}
		c := climate.Climate{Latitude: p.Latitude, Elevation: 300, AnnualLow: -20, RecordLow: low, RecordHigh: 41}
		for m := range c.Temperature {
			c.Temperature[m] = float64(m)
		}
		return system.Spot{Name: "there", Climate: c}, nil
	}
	sites := system.Sites(&doc, find)
	if len(sites) != 3 {
		t.Fatalf("%d sites", len(sites))
	}
	first, second, home := sites[0], sites[1], sites[2]
	if first.Path != "trip/1" || second.Path != "trip/3" || home.Path != "home" || !home.Home || home.Lived || !home.Plugged() || first.Plugged() {
		t.Errorf("%+v", sites)
	}
	if !slices.Equal(first.Months, []int{8, 9}) || !slices.Equal(second.Months, []int{9, 10}) || len(home.Months) != 12 {
		t.Errorf("months %v, %v, %v", first.Months, second.Months, home.Months)
	}
	if first.DriveH != 2 || second.DriveH != 4 || second.IdleH != 0.25 {
		t.Errorf("drives %v, %v, idles %v", first.DriveH, second.DriveH, second.IdleH)
	}
	if first.RecordLowC != -30 || first.AnnualLowC != -20 || first.ColdC != 8-12 || first.HotC != 9+14 || first.ElevationM != 300 {
		t.Errorf("%+v", first)
	}
	if second.RecordLowC != -24 || second.AnnualLowC != -18 || second.ColdC != -18 || !math.IsNaN(second.HotC) || second.ElevationM != 790 || second.HasClimate() {
		t.Errorf("a stop that only the file knows: %+v", second)
	}
	// A record low of the file above the climatology's middling year lifts that too.
	doc.Trip[0].RecordLow = doc.Trip[2].RecordLow
	doc.Trip[0].RecordLow.Quantity.Base = -10
	if s := system.Sites(&doc, find)[0]; s.RecordLowC != -10 || s.AnnualLowC != -10 || s.ColdC != -4 {
		t.Errorf("%+v", s)
	}
}

// TestFindClimate: a position and a town are found without a network; nothing is found for no place and for the open sea.
func TestFindClimate(t *testing.T) {
	doc := decode(t, "home: {place: 39.1 N 108.6 W}\n")
	s, err := system.FindClimate(doc.Home.Place, nil)
	if err != nil || s.Climate.RecordLow > -15 || s.Climate.RecordLow < -45 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err := system.FindClimate(rig.Place{Name: "Quartzsite", State: doc.Home.Place.State}, nil); err != nil || math.Abs(s.Climate.Latitude-33.66) > 0.1 {
		t.Errorf("%+v, %v", s, err)
	}
	for _, p := range []rig.Place{{}, {Name: "Nowhere At All", State: doc.Home.Place.State}, {Latitude: 0, Longitude: -30, HasSpot: true, State: doc.Home.Place.State}} {
		if s, err := system.FindClimate(p, nil); err == nil {
			t.Errorf("%+v is at %+v", p, s)
		}
	}
}

// TestLinkOhm: 45 ft of 10 AWG there and back at 75 C, from the handbook's ohms per thousand feet, and the ends of a length that is a guess.
func TestLinkOhm(t *testing.T) {
	doc := decode(t, "charge line:\n  - run: {gauge: 10 AWG, length: about 45 ft}\n  - resistance: 5 mohm\n  - fuse: 60 A\n")
	ohm, low, high := system.LinkOhm(&doc.ChargeLine[0], 75)
	near.Rel(t, "nominal", ohm, 2*45*1.24/1000, 1e-9, "[NEC] chapter 9 table 8, 1.24 ohm per 1000 ft")
	near.Rel(t, "low end", low, 0.85*ohm, 1e-9, "an estimate of a length is good to 15 %")
	near.Rel(t, "high end", high, 1.15*ohm, 1e-9, "an estimate of a length is good to 15 %")
	if ohm, low, high = system.LinkOhm(&doc.ChargeLine[1], 75); ohm != 0.005 || low != 0.005 || high != 0.005 {
		t.Errorf("measured: %v, %v, %v", ohm, low, high)
	}
	if ohm, _, _ = system.LinkOhm(&doc.ChargeLine[2], 75); !(ohm > 0 && ohm < 0.005) {
		t.Errorf("a fuse of %v ohm", ohm)
	}
	if ohm, _, _ = system.RunOhm(nil, 75); ohm != 0 {
		t.Errorf("no run of %v ohm", ohm)
	}
}

// TestBankKg: as given for its blocks, else by energy and chemistry.
func TestBankKg(t *testing.T) {
	doc := decode(t, "bank: {chemistry: LFP, blocks: 2, in series: 2, block: {capacity: 100 Ah, weight: 12 kg}}\n")
	if kg, given := system.BankKg(doc.Bank); kg != 48 || !given {
		t.Errorf("%v kg, given %v", kg, given)
	}
	doc = decode(t, "bank: {chemistry: LFP, blocks: 2, block: {capacity: 100 Ah}}\n")
	kg, given := system.BankKg(doc.Bank)
	near.Within(t, "an LFP bank of 2.56 kWh", kg, 2.56*7.1, 2.56*10.5, "7.1 to 10.5 kg/kWh, handbook of masses")
	if given {
		t.Error("a weight that was not given")
	}
}

// TestBudget: a steady load takes its watts all day, eleven hours of it at night; an AC load costs what the inverter takes for it; parked, only
// what stays on is left.
func TestBudget(t *testing.T) {
	doc := decode(t, `bank: {chemistry: LFP, block: {capacity: 100 Ah}}
inverters:
  box: {power: 1000 W, idle: 20 W, efficiency: 90 %, on: always}
appliances:
  - {name: steady, runs on: dc, power: 10 W, on: always}
  - {name: amps, runs on: dc, power: 2 A, per day: 3 h}
  - {name: kettle, runs on: ac, power: 900 W, per day: 30 min, on: 12:00-13:00}
`)
	s, err := system.Assemble(&doc, system.Draw{}, 60)
	if err != nil {
		t.Fatal(err)
	}
	b := s.Budget(15, 12.8, true)
	wh := map[string]system.Use{}
	sum := b.OwnWh
	for _, u := range b.Uses {
		wh[u.Load] = u
		sum += u.Wh
	}
	for _, idle := range b.IdleWh {
		sum += idle
	}
	near.Abs(t, "the whole is its parts", b.TotalWh, sum, 1e-9, "sum")
	near.Abs(t, "steady", wh["steady"].Wh, 240, 1e-9, "10 W for a day")
	near.Abs(t, "steady at night", wh["steady"].NightWh, 110, 1e-9, "20:00 to 07:00")
	near.Abs(t, "amps", wh["amps"].Wh, 2*12.8*3, 1e-9, "2 A at 12.8 V for 3 h")
	near.Abs(t, "idle", b.IdleWh[0], 480, 1e-9, "20 W for a day")
	near.Within(t, "kettle with the idle draw of its hour", wh["kettle"].Wh+20, 450/0.91, 450/0.88, "450 Wh through an inverter of 90 % at its peak, which counts its idle draw")
	parked := s.Budget(15, 12.8, false)
	if len(parked.Uses) != 1 || parked.Uses[0].Load != "steady" || parked.TotalWh >= b.TotalWh {
		t.Errorf("parked: %+v", parked)
	}
}

// TestBudgetOfDemoRigs: every demo rig has a budget that is finite and whose night is part of its day.
func TestBudgetOfDemoRigs(t *testing.T) {
	list, err := os.ReadDir("../examples")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, e := range list {
		text, err := os.ReadFile("../examples/" + e.Name())
		if err != nil || !bytes.HasPrefix(text, []byte("campwright: 1")) {
			continue
		}
		doc, faults := rig.Decode(bytes.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		full, gaps := system.Complete(doc)
		if len(gaps) > 0 {
			t.Fatal(gaps)
		}
		s, err := system.Assemble(&full, system.Draw{}, 60)
		if err != nil {
			t.Fatal(err)
		}
		for _, air := range []float64{-20, 0, 15, 40} {
			b := s.Budget(air, s.Bank.Model.NominalV(), true)
			if !(b.TotalWh > 100 && b.TotalWh < 50000) || !(b.NightWh > 0 && b.NightWh < b.TotalWh) {
				t.Errorf("%s at %v C: %+v", e.Name(), air, b)
			}
			seen++
		}
	}
	if seen < 12 {
		t.Fatalf("only %d budgets", seen)
	}
}

// A stop whose place nobody named is called by its number, one given by its position by that.
func TestSites_Unnamed(t *testing.T) {
	doc := decode(t, "trip: [{place: unknown, record low: -24 C, nights: 5, from: 2027-01-05}, {place: 33.5 N 114.2 W, nights: 2}]\n")
	nowhere := func(rig.Place, *float64) (system.Spot, error) { return system.Spot{}, errors.New("no map here") }
	list := system.Sites(&doc, nowhere)
	if len(list) != 2 || list[0].Name != "stop 1" || list[1].Name != "33.5 N 114.2 W" {
		t.Errorf("called %+v", list)
	}
}

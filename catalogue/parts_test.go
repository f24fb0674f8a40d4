package catalogue_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/catalogue"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
)

var partKinds = []string{catalogue.ModulePart, catalogue.BlockPart, catalogue.ControllerPart, catalogue.InverterPart, catalogue.ChargerPart,
	catalogue.DCDCPart, catalogue.GeneratorPart, catalogue.AlternatorPart}

// places writes a part into a rig file of its own: %s is where its lines go.
var places = map[string]string{
	catalogue.ModulePart: "modules:\n  x:\n%s", catalogue.BlockPart: "bank:\n  chemistry: LFP\n  block:\n%s", catalogue.ControllerPart: "controllers:\n  x:\n%s",
	catalogue.InverterPart: "inverters:\n  x:\n%s", catalogue.ChargerPart: "shore:\n  chargers:\n    x:\n%s", catalogue.DCDCPart: "charge line:\n  - dc-dc:\n%s",
	catalogue.GeneratorPart: "generators:\n  x:\n%s", catalogue.AlternatorPart: "vehicle:\n  alternators:\n    -\n%s",
}

// Every part can be written into a rig as it stands, with its typical value and with its ends.
func TestParts_FitTheDocument(t *testing.T) {
	known, seen, counted := sources(t), map[string]bool{}, 0
	for _, kind := range partKinds {
		list := catalogue.Parts(kind)
		if len(list) < 3 {
			t.Errorf("only %d parts of kind %s", len(list), kind)
		}
		for _, p := range list {
			if seen[kind+p.Name] || len(p.Called) == 0 {
				t.Errorf("%s %q: twice, or without other names", kind, p.Name)
			}
			seen[kind+p.Name] = true
			var lines strings.Builder
			for _, v := range p.Values {
				counted++
				n := v.Typical
				if v.Key == "chemistry" {
					continue // of the bank, not of its block
				}
				if !(n.Low <= n.Value && n.Value <= n.High) {
					t.Errorf("%s: %s %g, %g, %g is out of order", p.Name, v.Key, n.Low, n.Value, n.High)
				}
				if n.Kind != quantity.None && n.Source != practice && !known[n.Source] {
					t.Errorf("%s: %s comes from %q, which has no entry in the list of sources", p.Name, v.Key, n.Source)
				}
				text := v.Text
				if n.High > n.Low {
					q := func(base float64) string { return quantity.Quantity{Base: base, Kind: n.Kind}.String() }
					text = fmt.Sprintf("about %s (%s to %s)", v.Text, q(n.Low), q(n.High))
				}
				fmt.Fprintf(&lines, "        %s: %s\n", v.Key, text)
			}
			text := "campwright: 1\nname: one\nkind: van\n" + fmt.Sprintf(places[kind], lines.String())
			if _, faults := rig.Decode(strings.NewReader(text)); faults.Err() != nil {
				t.Errorf("%s:\n%v\n%s", p.Name, faults.Err(), text)
			}
		}
	}
	if counted < 200 {
		t.Fatalf("looked at %d values", counted)
	}
}

// Modules: rated power is voltage by current, and the anonymous modules of the handbook are met.
func TestParts_Modules(t *testing.T) {
	for _, p := range catalogue.Parts(catalogue.ModulePart) {
		near.Rel(t, p.Name, p.Number("vmp")*p.Number("imp"), p.Number("power"), 0.005, "label's rounding of voltage and current")
	}
	var handbook map[string]struct {
		Voc, Isc, Vmp, Imp float64
		ClassW             float64 `json:"class_W"`
		Beta               float64 `json:"beta_voc_pct_K"`
		Fuse               float64 `json:"max_series_fuse_A"`
		Mass               float64 `json:"mass_kg"`
	}
	if err := json.Unmarshal(reference(t, "pv_generic_modules.json"), &handbook); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for key, m := range handbook {
		p, ok := catalogue.FindPart(catalogue.ModulePart, fmt.Sprintf("%.0f W module", m.ClassW))
		if !ok {
			t.Errorf("no module for %s", key)
			continue
		}
		seen++
		const same = "generic module of the handbook"
		near.Abs(t, key+" Voc", p.Number("voc"), m.Voc, 1e-9, same)
		near.Abs(t, key+" Isc", p.Number("isc"), m.Isc, 1e-9, same)
		near.Abs(t, key+" Vmp", p.Number("vmp"), m.Vmp, 1e-9, same)
		near.Abs(t, key+" Imp", p.Number("imp"), m.Imp, 1e-9, same)
		near.Abs(t, key+" fuse", p.Number("fuse"), m.Fuse, 1e-9, same)
		near.Abs(t, key+" Voc per C", 100*p.Number("voc per C"), m.Beta, 1e-9, same)
		near.Rel(t, key+" weight", p.Number("weight"), m.Mass, 0.02, "pounds rounded")
	}
	if seen != 3 {
		t.Fatalf("compared %d modules", seen)
	}
}

// Batteries, inverters, alternators and generators lie within the handbook's ranges.
func TestParts_HandbookRanges(t *testing.T) {
	var s struct {
		Alternator struct {
			Idle [3]float64 `json:"fraction_of_rated_at_1800_alt_rpm_hot"`
			Hot  [3]float64 `json:"hot_factor_at_90C"`
		} `json:"alternator"`
		Inverter struct {
			Idle [3]float64 `json:"idle_W_per_kW"`
			Peak [3]float64 `json:"eff_peak"`
		} `json:"inverter"`
		Charger struct {
			Eff [3]float64 `json:"eff"`
			PF  [3]float64 `json:"power_factor"`
		} `json:"charger_converter"`
		DCDC struct {
			Eff [3]float64 `json:"eff"`
		} `json:"dcdc"`
	}
	if err := json.Unmarshal(reference(t, "sources.json"), &s); err != nil {
		t.Fatal(err)
	}
	seen := 0
	within := func(what string, got float64, r [3]float64) {
		t.Helper()
		seen++
		near.Within(t, what, got, r[0]-1e-9, r[2]+1e-9, "range of the handbook")
	}
	for _, p := range catalogue.Parts(catalogue.AlternatorPart) {
		within(p.Name+" hot idle", math.Round(100*p.Number("hot idle")/p.Number("rated"))/100, s.Alternator.Idle)
		within(p.Name+" hot cruise", p.Number("hot cruise")/p.Number("rated"), s.Alternator.Hot)
	}
	for _, p := range catalogue.Parts(catalogue.InverterPart) {
		within(p.Name+" idle", p.Number("idle")/(p.Number("power")/1000), s.Inverter.Idle)
		within(p.Name+" peak efficiency", p.Number("efficiency"), s.Inverter.Peak)
	}
	for _, p := range catalogue.Parts(catalogue.ChargerPart) {
		within(p.Name+" efficiency", p.Number("efficiency"), s.Charger.Eff)
		within(p.Name+" power factor", p.Number("power factor"), s.Charger.PF)
	}
	for _, p := range catalogue.Parts(catalogue.DCDCPart) {
		within(p.Name+" efficiency", p.Number("efficiency"), s.DCDC.Eff)
	}
	if seen < 20 {
		t.Fatalf("compared %d figures", seen)
	}
	// The light end of lead-acid is that of a practitioner's 220 Ah block of 6 V, 62 lb; the handbook's begins at 24 kg/kWh.
	kgPerKWh := map[string][2]float64{"LFP": {7.1, 10.5}, "flooded": {62 * 0.4536 / 1.32, 33}, "AGM": {24, 33}}
	for _, p := range catalogue.Parts(catalogue.BlockPart) {
		chemistry, _ := p.Get("chemistry")
		r := kgPerKWh[chemistry.Text]
		near.Within(t, p.Name+" kg/kWh", p.Number("weight")/(p.Number("voltage")*p.Number("capacity")/1000), r[0], r[1], "mass table of the handbook")
	}
}

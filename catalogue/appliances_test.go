package catalogue_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"campwright/catalogue"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
)

const practice = "common practice, no source"

// numbers returns the numbers of an appliance that apply to it, by what they are.
func numbers(a catalogue.Appliance) map[string]catalogue.Typical {
	all := map[string]catalogue.Typical{
		"power": a.Power.Rate, "duty": a.Power.Duty, "propane": a.Propane.Rate, "propane duty": a.Propane.Duty, "control": a.Control,
		"per day": a.PerDay, "standby": a.Standby, "surge": a.Surge, "power factor": a.PowerFactor, "count": a.Count,
	}
	for key, t := range all {
		if t.Kind == quantity.None {
			delete(all, key)
		}
	}
	return all
}

// Every entry is complete: named once, with words people use, with numbers in order and a source for each.
func TestAppliances_Complete(t *testing.T) {
	known, seen, called, counted := sources(t), map[string]bool{}, map[string]string{}, 0
	kind, _ := rig.FieldOf("appliances/x/kind")
	for _, a := range catalogue.Appliances() {
		if seen[a.Name] {
			t.Errorf("two entries named %q", a.Name)
		}
		seen[a.Name] = true
		if len(a.Called) < 3 && a.Group != "standing" && len(a.Called) < 1 {
			t.Errorf("%s: only %d words to find it by", a.Name, len(a.Called))
		}
		for _, c := range append([]string{a.Name}, a.Called...) {
			if other := called[c]; other != "" {
				t.Errorf("%q is said of %s and of %s", c, other, a.Name)
			}
			called[c] = a.Name
		}
		if !slices.Contains(kind.Words, a.Kind) {
			t.Errorf("%s: the rig file knows no kind %q", a.Name, a.Kind)
		}
		if len(a.Runs) == 0 {
			t.Errorf("%s: nothing feeds it", a.Name)
		}
		for _, circuit := range a.Runs {
			if _, ok := a.Drawn(circuit); !ok {
				t.Errorf("%s: it runs on %s and takes nothing from it", a.Name, circuit)
			}
		}
		for what, n := range numbers(a) {
			counted++
			if !(n.Low <= n.Value && n.Value <= n.High) || n.Low < 0 {
				t.Errorf("%s: %s %g, %g, %g is out of order", a.Name, what, n.Low, n.Value, n.High)
			}
			if n.Source != practice && !known[n.Source] {
				t.Errorf("%s: %s comes from %q, which has no entry in the list of sources", a.Name, what, n.Source)
			}
		}
		if a.Surge.Kind != quantity.None && a.Surge.Value < a.Power.Rate.Value {
			t.Errorf("%s: it starts on %g W and runs on %g W", a.Name, a.Surge.Value, a.Power.Rate.Value)
		}
		for _, other := range a.Instead {
			b, ok := catalogue.Find(other)
			if !ok || b.Name != other {
				t.Errorf("%s: instead of it %q, which is not in the catalogue", a.Name, other)
			}
		}
	}
	if len(seen) < 50 || counted < 250 {
		t.Fatalf("looked at %d appliances with %d numbers", len(seen), counted)
	}
}

// The numbers the program already takes for parts of a rig name sources that have entries.
func TestTypical_Sources(t *testing.T) {
	known := sources(t)
	for _, x := range []catalogue.Typical{catalogue.VocPerC, catalogue.IscPerC, catalogue.PowerPerC, catalogue.LFPColdCharge, catalogue.FurnaceInput,
		catalogue.FridgeControl, catalogue.AbsorptionElement} {
		if x.Source != practice && !known[x.Source] {
			t.Errorf("%q has no entry in the list of sources", x.Source)
		}
	}
}

// Every entry can be written into a rig as it stands: kinds of unit, ranges and hours are those of the document.
func TestAppliances_FitTheDocument(t *testing.T) {
	read := 0
	for _, a := range catalogue.Appliances() {
		for _, circuit := range a.Runs {
			text := entry(a, circuit)
			doc, faults := rig.Decode(strings.NewReader(text))
			if err := faults.Err(); err != nil {
				t.Errorf("%s on %s:\n%v\n%s", a.Name, circuit, err, text)
				continue
			}
			read++
			if a.PerDay.Kind != quantity.None && len(doc.Appliances[0].On.Spans) > 0 {
				if got := float64(doc.Appliances[0].On.Minutes()) / 60; got < a.PerDay.Value {
					t.Errorf("%s: runs %g h a day within %g h", a.Name, a.PerDay.Value, got)
				}
			}
		}
		if a.On != "" && a.On != "always" && a.PerDay.Kind == quantity.None {
			t.Errorf("%s: has hours and no running time", a.Name)
		}
	}
	if read < 60 {
		t.Fatalf("read only %d", read)
	}
}

// entry writes an appliance as a rig file of its own.
func entry(a catalogue.Appliance, circuit string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "campwright: 1\nname: one\nkind: van\nappliances:\n  - name: %q\n    kind: %s\n    runs on: %s\n", a.Name, a.Kind, circuit)
	ends := func(t catalogue.Typical) string {
		q := func(base float64) string { return quantity.Quantity{Base: base, Kind: t.Kind}.String() }
		if t.High > t.Low {
			return fmt.Sprintf("about %s (%s to %s)", q(t.Value), q(t.Low), q(t.High))
		}
		return q(t.Value)
	}
	draw := func(key string, d catalogue.Drawn) {
		if d.Rate.Kind == quantity.None {
			return
		}
		text := ends(d.Rate)
		if d.Duty.Kind != quantity.None {
			text += " at " + ends(d.Duty)
		}
		fmt.Fprintf(&b, "    %s: %s\n", key, text)
	}
	power := map[string]string{"furnace": "blower", "absorption refrigerator": "electric", "water heater": "electric"}[a.Kind]
	if power == "" {
		power = "power"
	}
	draw(power, a.Power)
	draw("propane", a.Propane)
	for key, n := range map[string]catalogue.Typical{"control": a.Control, "per day": a.PerDay, "standby": a.Standby, "surge": a.Surge, "power factor": a.PowerFactor, "count": a.Count} {
		if n.Kind != quantity.None {
			fmt.Fprintf(&b, "    %s: %s\n", key, ends(n))
		}
	}
	if a.On != "" {
		fmt.Fprintf(&b, "    on: %s\n", a.On)
	}
	return b.String()
}

// handbookRows says which appliance stands for a row of the handbook's table of loads, on which circuit, and what of it.
var handbookRows = map[string]struct{ name, circuit, part string }{
	"absorption fridge 6-8 cu ft, AC element":            {"absorption refrigerator", "ac", ""},
	"absorption fridge on propane: 12 V control board":   {"absorption refrigerator", "", "control"},
	"compressor fridge 8-10 cu ft upright, 25 C ambient": {"compressor refrigerator", "dc", ""},
	"residential fridge 16-18 cu ft":                     {"household refrigerator", "ac", ""},
	"furnace blower 16-20 kBTU/h":                        {"small furnace", "dc", ""},
	"furnace blower 30-40 kBTU/h":                        {"furnace", "dc", ""},
	"roof A/C 13.5 kBTU/h":                               {"air conditioner", "ac", ""},
	"roof A/C 15 kBTU/h":                                 {"large air conditioner", "ac", ""},
	"water heater 6 gal electric element":                {"water heater", "ac", ""},
	"microwave 900 W output":                             {"microwave", "ac", ""},
	"convection microwave":                               {"convection microwave", "ac", ""},
	"induction hob single":                               {"induction hob", "ac", ""},
	"coffee maker drip":                                  {"coffee maker", "ac", ""},
	"hair dryer":                                         {"hair dryer", "ac", ""},
	"toaster":                                            {"toaster", "ac", ""},
	"electric kettle":                                    {"electric kettle", "ac", ""},
	"space heater":                                       {"space heater", "ac", ""},
	"TV 32 in LED":                                       {"television", "ac", ""},
	"TV 12 V 24 in":                                      {"12 V television", "dc", ""},
	"laptop":                                             {"laptop", "ac", ""},
	"phone/tablet charging (each)":                       {"phone charging", "dc", ""},
	"LED ceiling light (each)":                           {"lights", "dc", ""},
	"incandescent 1141 lamp (each)":                      {"incandescent lights", "dc", ""},
	"roof vent fan low/high":                             {"roof fan", "dc", ""},
	"ceiling/desk fan 12 V":                              {"fan", "dc", ""},
	"water pump demand":                                  {"water pump", "dc", ""},
	"CPAP without humidifier":                            {"breathing machine", "dc", ""},
	"CPAP with heated humidifier and hose":               {"breathing machine with humidifier", "dc", ""},
	"satellite-internet terminal, full size":             {"satellite internet terminal", "ac", ""},
	"satellite-internet terminal, compact":               {"compact satellite internet terminal", "dc", ""},
	"cellular router":                                    {"cellular router", "dc", ""},
	"LP gas detector":                                    {"propane detector", "dc", ""},
	"CO/smoke detector (12 V)":                           {"carbon monoxide and smoke detector", "dc", ""},
	"radio memory":                                       {"radio memory", "dc", ""},
	"tank/leveling/slide controllers standby":            {"control boards", "dc", ""},
	"converter fan and standby":                          {"converter standby", "ac", ""},
	"absorption fridge door/climate heater":              {"refrigerator door heater", "dc", ""},
	"electric jack/leveling (each motor)":                {"leveling jack", "dc", ""},
	"slide-out motor":                                    {"slide-out motor", "dc", ""},
	"microwave clock standby":                            {"microwave", "", "standby"},
	"TV standby":                                         {"television", "", "standby"},
	"DVD/media player standby":                           {"media player", "", "standby"},
	"clock radio":                                        {"clock radio", "ac", ""},
}

// notAppliances are rows of the handbook's table that stand elsewhere in the program, and why.
var notAppliances = map[string]string{
	"absorption fridge 3-way, 12 V element":              "runs on the drive only; told in the entry",
	"compressor fridge 40-60 L chest, 20 C ambient":      "checked as ends of the box at 25 C, below",
	"compressor fridge 40-60 L chest, 32 C ambient":      "checked as ends of the box at 25 C, below",
	"compressor fridge 40-60 L chest, 43 C ambient":      "follows temperature in the model of cold boxes",
	"compressor fridge 8-10 cu ft upright, 38 C ambient": "follows temperature in the model of cold boxes",
	"water heater gas: 12 V control + valve":             "checked below: its board follows the burner",
	"inverter idle on":                                   "a part, not an appliance",
	"MPPT controller night draw":                         "a part, not an appliance",
	"electric brakes 2 axles (tow vehicle)":              "fed by the tow vehicle",
}

// TestAppliances_HandbookLoads: the daily energy of each row of the handbook's table of loads.
func TestAppliances_HandbookLoads(t *testing.T) {
	seen := 0
	for _, row := range table(t, "loads.csv") {
		name := row["load"]
		h, ok := handbookRows[name]
		if !ok {
			if notAppliances[name] == "" {
				t.Errorf("row %q stands for no appliance", name)
			}
			continue
		}
		seen++
		a := find(t, h.name)
		_, got, _ := a.DailyWh(h.circuit)
		watts := a.Power.Rate
		switch h.part {
		case "standby":
			got, watts = a.Standby.Value*24, a.Standby
			if a.Name == "television" {
				got = a.Standby.Value * (24 - a.PerDay.Value)
			}
		case "control":
			got, watts = a.Control.Value*24, a.Control
		}
		near.Rel(t, name+": Wh a day", got, number(t, row, "Wh_per_day_typical"), 0.07, "whole minutes of a day, and the handbook's own rounding")
		if !(watts.Low <= number(t, row, "W_typical") && number(t, row, "W_typical") <= watts.High) {
			t.Errorf("%s: typical %s W outside %g to %g W", name, row["W_typical"], watts.Low, watts.High)
		}
	}
	if seen != len(handbookRows) {
		t.Fatalf("compared %d of %d rows", seen, len(handbookRows))
	}
	_, chest, _ := find(t, "compressor cool box").DailyWh("dc")
	near.Within(t, "cool box at 25 C", chest, 302.4, 453.6, "its rows at 20 C and at 32 C")
	heater := find(t, "water heater")
	near.Rel(t, "board of a water heater", heater.Control.Value*heater.Propane.Duty.Value*24, 11.5, 0.02, "row of the table of loads, one digit printed")
}

// TestAppliances_HandbookPropane: what burns takes the heat of the handbook's table.
func TestAppliances_HandbookPropane(t *testing.T) {
	rows := map[string]string{
		"furnace small trailer": "small furnace", "furnace medium": "furnace", "furnace large": "large furnace", "water heater tank 6 gal": "water heater",
		"water heater 10 gal": "large water heater", "on-demand water heater": "on-demand water heater", "absorption fridge 3-6 cu ft": "small absorption refrigerator",
		"absorption fridge 8 cu ft": "absorption refrigerator", "absorption fridge 12-18 cu ft": "large absorption refrigerator", "cooktop burner small": "cooktop burner",
		"oven": "oven", "catalytic/radiant heater": "catalytic heater", "outdoor grill": "outdoor grill",
	}
	const wattsPerBTUh = 0.29307107
	seen := 0
	for _, row := range table(t, "propane_appliances.csv") {
		name, ok := rows[row["appliance"]]
		if !ok {
			continue
		}
		seen++
		got := find(t, name).Propane.Rate
		near.Rel(t, name+" low", got.Low, number(t, row, "btu_h_low")*wattsPerBTUh, 1e-6, "same row")
		near.Rel(t, name+" typical", got.Value, number(t, row, "btu_h_typ")*wattsPerBTUh, 1e-6, "same row")
		if high := number(t, row, "btu_h_high") * wattsPerBTUh; got.High < high*(1-1e-6) {
			t.Errorf("%s: high end %g W below the handbook's %g W", name, got.High, high)
		}
	}
	if seen != len(rows) {
		t.Fatalf("compared %d of %d rows", seen, len(rows))
	}
}

func find(t testing.TB, name string) catalogue.Appliance {
	t.Helper()
	a, ok := catalogue.Find(name)
	if !ok || a.Name != name {
		t.Fatalf("%q finds %q", name, a.Name)
	}
	return a
}

package system_test

import (
	"testing"

	"campwright/internal/near"
	"campwright/system"
)

// furnaceWh returns the propane that a furnace burns on a day of one air temperature [Wh] and the electricity its blower takes, for a thermostat at 18 °C.
func furnaceWh(t *testing.T, setBack string, airC float64) (gas, blower float64) {
	t.Helper()
	doc := decode(t, "people: 1\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"+
		"appliances: [{name: furnace, kind: furnace, runs on: propane, propane: 9 kW, blower: 90 W, control: 0 W, keeps: 18 C, heat loss: 110 W/K, efficiency: 75 %"+setBack+"}]\n")
	sys, err := system.Assemble(&doc, system.Draw{}, 5)
	if err != nil {
		t.Fatal(err)
	}
	for k := range sys.Burns {
		for _, w := range sys.Burns[k].Day {
			gas += w * sys.Burns[k].ByAir.At(airC) * 5 / 60
		}
	}
	for k := range sys.Loads {
		if l := &sys.Loads[k]; l.Part == "blower" {
			for _, w := range l.Day {
				blower += w * l.ByAir.At(airC) * 5 / 60
			}
		}
	}
	return gas, blower
}

// A set-back saves the degree-hours it takes off, by the balance of heat: 110 W/K by 5 K by 8 hours, over the furnace's efficiency; by default there is none.
// Against a published figure: set back for eight hours a thermostat saves as much as 1 % for each degree Fahrenheit [DOE-THERMOSTAT], which the balance
// gives in air 33 °F below the room, as in the winters it is said for.
func TestFurnace_SetBack(t *testing.T) {
	for _, airC := range []float64{-10, 0, 5} {
		all, blows := furnaceWh(t, "", airC)
		less, blowsLess := furnaceWh(t, ", keeps at night: 13 C, night: 22:00-06:00", airC)
		near.Rel(t, "heat saved", all-less, 110*5*8/0.75, 1e-9, "degree-hours")
		if blowsLess >= blows {
			t.Errorf("at %g C the blower runs for %g Wh, set back for %g", airC, blows, blowsLess)
		}
		same, _ := furnaceWh(t, ", keeps at night: 18 C", airC)
		near.Rel(t, "set back by nothing", same, all, 1e-12, "identity")
		usual, _ := furnaceWh(t, ", keeps at night: 13 C", airC)
		near.Rel(t, "the usual hours", usual, less, 1e-12, "22:00 to 06:00, common practice, no source")
		late, _ := furnaceWh(t, ", keeps at night: 13 C, night: 23:00-05:00", airC)
		near.Rel(t, "six hours", all-late, 110*5*6/0.75, 1e-9, "degree-hours")
	}
	const room, below = 18, 33 / 1.8
	all, _ := furnaceWh(t, "", room-below)
	less, _ := furnaceWh(t, ", keeps at night: 12.444 C, night: 22:00-06:00", room-below)
	near.Within(t, "saved for 10 °F", (all-less)/all, 0.08, 0.12, "as much as 1 % for each degree Fahrenheit")
}

// TestFurnace_HoursSaid: an owner who says for how many hours a furnace burns is taken at his word, whatever the weather: 4 h at 25,000 BTU/h are 100,000 BTU,
// 4.6 lb of propane at 21,591 BTU/lb (from memory).
func TestFurnace_HoursSaid(t *testing.T) {
	for _, airC := range []float64{-10, 5, 15} {
		gas, blower := furnaceWh(t, ", per day: 4 h", airC)
		near.Rel(t, "propane burned in 4 h", gas, 4*9000, 1e-9, "power times hours")
		if blower < 4*90 || blower > 4*90*1.5 {
			t.Errorf("the blower takes %g Wh in 4 h of burning, with what it runs on", blower)
		}
	}
}

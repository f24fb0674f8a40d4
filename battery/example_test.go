package battery_test

import (
	"fmt"

	"campwright/battery"
)

// A 200 Ah LFP bank carries a furnace night, then takes the morning's sun.
func Example() {
	p := battery.Typical(battery.LFP, 12.8, 100)
	p.Parallel = 2
	bank, err := battery.New(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := battery.State{SoC: 0.8}
	for range 12 * 12 { // twelve hours of five minutes
		s, _ = bank.Step(s, -60, 10, 1.0/12)
	}
	fmt.Printf("at dawn %.0f %%, %.2f V under 60 W\n", 100*s.SoC, bank.VoltageAt(s, -60, 10))
	for range 4 * 12 {
		s, _ = bank.Step(s, 300, 10, 1.0/12)
	}
	fmt.Printf("at noon %.0f %%\n", 100*s.SoC)
	// Output:
	// at dawn 52 %, 13.03 V under 60 W
	// at noon 97 %
}

// A cold bay: charging is blocked below freezing, and the flow says so.
func ExampleModel_Step_cold() {
	bank, err := battery.New(battery.Typical(battery.LFP, 12.8, 280))
	if err != nil {
		fmt.Println(err)
		return
	}
	_, f := bank.Step(battery.State{SoC: 0.5}, 400, -2, 1.0/12)
	fmt.Printf("%.0f W taken: %v\n", f.PowerW, f.Limit)
	// Output:
	// 0 W taken: cell temperature
}

// 210 Ah of flooded battery at 60 A: not 3.5 hours.
func ExamplePeukert() {
	h := battery.Peukert(210, 20, 1.2, 60)
	fmt.Printf("%.2f h, %.0f Ah\n", h, 60*h)
	// Output:
	// 2.47 h, 148 Ah
}

// Warming 24 kg of cells from -4 to 5 C costs little; holding them there through the night costs more.
func ExampleThermal_WarmWh() {
	bank, err := battery.NewThermal(battery.ThermalParams{MassKg: 24, KJPerKgK: 1, LossWK: 1, HeaterW: 40})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("warm %.0f Wh, hold %.0f W at -6 C outside\n", bank.WarmWh(-4, 5), bank.HoldW(5, -6))
	// Output:
	// warm 60 Wh, hold 11 W at -6 C outside
}

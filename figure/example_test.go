package figure_test

import (
	"fmt"

	"campwright/figure"
	"campwright/quantity"
)

func ExampleText() {
	stay := figure.Between("stay", 96, 72, 120, quantity.Duration)
	fan := figure.Figure{Name: "fan", Value: 14, Kind: quantity.Power, State: figure.Measured}
	fmt.Println(figure.Line(stay, quantity.US))
	fmt.Println(figure.Line(fan, quantity.US))
	// Output:
	// stay: 3 to 5 days
	// fan: 14 W measured
}

func ExampleExplain() {
	f := figure.Exact("voltage lost", 0.744, quantity.Voltage)
	f.Working = &figure.Working{
		Formula: "2 × I × L × r",
		Terms: []figure.Term{
			{Symbol: "I", Figure: figure.Exact("current", 20, quantity.Current)},
			{Symbol: "L", Figure: figure.Exact("length one way", 15*0.3048, quantity.Length)},
			{Symbol: "r", Figure: figure.Exact("resistance of a metre", 0.744/(40*15*0.3048), quantity.Resistance)},
		},
	}
	for _, line := range figure.Explain(f, quantity.US) {
		fmt.Println(line)
	}
	// Output:
	// voltage lost = 2 × I × L × r
	// = 2 × 20 × 4.572 × 0.00406824
	// = 0.744 V
	// with I = 20 A, current
	// with L = 15 ft, length one way
	// with r = 4.07 mΩ, resistance of a metre
}

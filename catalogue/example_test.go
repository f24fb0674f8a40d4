package catalogue_test

import (
	"fmt"

	"campwright/catalogue"
)

func ExampleFind() {
	a, _ := catalogue.Find("our old microwave oven")
	low, typical, high := a.DailyWh("ac")
	fmt.Printf("%s: %.0f W, %.0f Wh a day (%.0f to %.0f), or %s\n", a.Name, a.Power.Rate.Value, typical, low, high, a.Instead[0])
	// Output: microwave: 1450 W, 314 Wh a day (90 to 800), or cooktop burner
}

func ExampleForUnknown() {
	t, known := catalogue.ForUnknown("radio memory and control boards", "dc")
	fmt.Printf("%v: %.2f W, %.1f to %.1f W\n", known, t.Value, t.Low, t.High)
	t, known = catalogue.ForUnknown("box behind the wardrobe", "dc")
	fmt.Printf("%v: %.0f W, %.0f to %.0f W\n", known, t.Value, t.Low, t.High)
	// Output:
	// true: 2.25 W, 0.6 to 6.6 W
	// false: 10 W, 1 to 40 W
}

func ExampleParts() {
	for _, p := range catalogue.Parts(catalogue.BlockPart) {
		c, _ := p.Get("capacity")
		fmt.Println(p.Name+":", c.Text)
	}
	// Output:
	// 100 Ah LFP block: 100 Ah
	// 230 Ah LFP block: 230 Ah
	// 300 Ah LFP block: 300 Ah
	// 6 V flooded block: 220 Ah
	// 12 V flooded block: 95 Ah
	// 100 Ah AGM block: 100 Ah
}

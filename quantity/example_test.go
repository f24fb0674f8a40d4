package quantity_test

import (
	"fmt"

	"campwright/quantity"
)

func ExampleParse() {
	q, err := quantity.Parse("1,400 BTU/h", quantity.Power)
	fmt.Printf("%.1f W, %v\n", q.Base, err)
	_, err = quantity.Parse("12 A", quantity.Voltage)
	fmt.Println(err)
	_, err = quantity.Parse("22,3 V", quantity.Voltage)
	fmt.Println(err)
	// Output:
	// 410.3 W, <nil>
	// "12 A": expected a voltage such as 12.8 V, found 12 A, which is a current
	// "22,3 V": decimal comma; write 22.3 V: a decimal point, and a comma only between thousands
}

func ExampleFormat() {
	for _, text := range []string{"6 AWG", "35 mm2", "64 F", "20 lb", "5 ft 6 in"} {
		q, err := quantity.Parse(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(quantity.Format(q, quantity.US), "|", quantity.Format(q, quantity.Metric))
	}
	// Output:
	// 6 AWG | 13.3 mm²
	// about 2 AWG | 35 mm²
	// 64 °F | 17.8 °C
	// 20 lb | 9.07 kg
	// 5 ft 6 in | 1.68 m
}

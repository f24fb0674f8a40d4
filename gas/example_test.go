package gas_test

import (
	"fmt"

	"campwright/gas"
)

// Two 30 lb cylinders and 1.42 gal a day: the errand that sets the rhythm of a winter stay.
func ExampleDays() {
	const kgPerLb, litresPerGal = 0.45359237, 3.785411784
	s, err := gas.NewStore(gas.StoreParams{Count: 2, Kg: 30 * kgPerLb, UsableShare: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f days\n", gas.Days(s.KgFull(), 1.42*litresPerGal*gas.WhPerL))
	// Output:
	// 9.95 days
}

// A furnace on a 30 lb cylinder on a cold night: how full must it be?
func ExampleCylinder_FillingFor() {
	const wPerBTUh = 0.29307107
	for _, c := range gas.Cylinders() {
		if c.Pounds == 30 {
			filling, can := c.FillingFor(42000*wPerBTUh, -6.7)
			fmt.Printf("%.0f %% (to 30 %%), possible: %v\n", 100*filling, can)
		}
	}
	// Output:
	// 45 % (to 30 %), possible: true
}

package design_test

import (
	"fmt"
	"strings"

	"campwright/design"
	"campwright/rig"
)

// A small rig without any wiring: what is proposed between bank and inverter, and the limit that forced it.
func ExamplePropose() {
	doc, _ := rig.Decode(strings.NewReader(`campwright: 1
name: Wren
kind: van
bank: {chemistry: LFP, block: {capacity: 200 Ah, resistance: 2 mohm, charge limit: 100 A, discharge limit: 200 A}, inverter off at: 11.8 V}
inverters: {small: {power: 1000 W, efficiency: 90 %}}
`))
	p, err := design.Propose(doc)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range p.Choices {
		if c.Part == "main fuse" || c.Part == "inverter small" {
			fmt.Printf("%s: %s\n", c.Part, c.Chosen)
			fmt.Printf("  %s\n", c.Why)
		}
	}
	// Output:
	// main fuse: 125 A class T fuse
	//   97 A for hours ask for 122 A or more; a bolted short could drive 5.9 kA, and this family stops 20 kA at 160 V
	// inverter small: 2 AWG
	//   4 AWG would lose 1.9 % at 97 A, and its part of the allowance is 1.5 %; 1000 W at 11.8 V; the main fuse protects it too; 3 AWG would do and is seldom stocked
}

// What opening one device does.
func ExampleWired_Live() {
	doc, _ := rig.Decode(strings.NewReader(`campwright: 1
name: Wren
kind: van
bank: {chemistry: LFP, block: {capacity: 200 Ah}}
appliances: [{name: lamp, runs on: dc, power: 10 W}, {name: smoke detector, runs on: dc, power: 1 W}]
`))
	w, err := design.Wire(doc)
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := w.Live("main switch")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Sentence)
	// Output:
	// With main switch open, what goes dark is lamp; its end towards bank stays live.
}

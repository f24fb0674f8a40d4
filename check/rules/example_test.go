package rules_test

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"
)

// A rig whose string is over its controller's voltage in an ordinary winter: the whole way from text to verdict, and a cure that was judged.
func ExampleCheck() {
	doc, faults := rig.Decode(strings.NewReader(`
campwright: 1
name: Icicle
kind: travel trailer
modules:
  roof kind: {voc: 22.3 V, isc: 9.9 A, vmp: 18.6 V, imp: 9.4 A, voc per C: -0.30 %/C}
controllers:
  closet: {kind: step-down, survives: 100 V, output: 40 A, input isc: 50 A}
arrays:
  - {name: roof, module: roof kind, controller: closet, in series: 4}
trip:
  - {place: unknown, record low: -26 C, nights: 10}
`))
	if len(faults) > 0 {
		fmt.Println(faults)
		return
	}
	c, report, err := rules.Check(doc)
	if err != nil {
		fmt.Println(err)
		return
	}
	o := report.Outcomes[0]
	fmt.Println(o.Verdict, o.Rule, "at", o.Place+":", o.Title)
	fmt.Println(o.Working.Line())
	for _, cure := range check.Cures(c, o, rules.All()) {
		fmt.Println("cure:", cure.Words)
	}
	// Output:
	// STOP M01 at arrays/roof: string over the controller's voltage in cold
	// 4 × 22.3 V × (1 + (−0.3 %/°C) × (−20 °C − 25)) = 101.2 V, must be ≤ 100 V
	// cure: wire roof as 2 strings of 2 in series
	// cure: wire roof as 4 strings of 1 in series
}

// What a rule of thumb is worth.
func ExampleFind() {
	r, _ := rules.Find("M18")
	fmt.Println(r.Formula)
	x, near := check.Explain("absorbtion", rules.All())
	fmt.Println(x.Name == "", near[0])
	// Output:
	// sum of strings × Isc ≤ Imax
	// true absorption
}

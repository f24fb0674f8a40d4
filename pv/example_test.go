package pv_test

import (
	"fmt"

	"campwright/pv"
)

// A module from its sheet, on a warm day.
func ExampleFit() {
	f, err := pv.Fit(pv.Datasheet{PowerW: 200, VocV: 24.3, IscA: 10.4, VmpV: 20.4, ImpA: 9.8, Alpha: 0.0005, Beta: -0.0029})
	if err != nil {
		fmt.Println(err)
		return
	}
	hot := f.Module.At(850, 55).MaxPower()
	fmt.Println(f.Why)
	fmt.Printf("850 W/m² at 55 °C: %.1f W at %.1f V\n", hot.P, hot.V)
	fmt.Printf("0 °C, open circuit: %.1f V\n", f.Module.At(1000, 0).Voc())
	// Output:
	// 36 cells in series inferred: 24.3 V open circuit is then 0.675 V a cell, and -0.29 %/K lets expect about 0.68 V
	// 850 W/m² at 55 °C: 152.4 W at 18.2 V
	// 0 °C, open circuit: 26.1 V
}

// Figures that contradict each other are told.
func ExampleFit_contradiction() {
	_, err := pv.Fit(pv.Datasheet{PowerW: 100, VocV: 22, IscA: 5.9, VmpV: 18, ImpA: 5.2, Alpha: 0.0005, Beta: -0.003})
	fmt.Println(err)
	// Output:
	// data sheet: power 100 W, but Vmp 18 V times Imp 5.2 A is 93.6 W, more than 3 % off
}

// Two modules in series, a vent shading half of one: where the power is, and what a controller gets that cannot go below 32 V.
func ExampleShade() {
	f, err := pv.Fit(pv.Datasheet{VocV: 22.6, IscA: 11.4, VmpV: 18.6, ImpA: 10.75, Alpha: 0.0005, Beta: -0.0029})
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := pv.NewArray(pv.ArrayParams{Module: f.Module, InSeries: 2, Strings: 1, Substrings: 2, DropV: 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	var s pv.Shade
	if err := s.Set(a, [][][]float64{{{900, 900}, {900, 150}}}, 50); err != nil {
		fmt.Println(err)
		return
	}
	for k, p := range s.Maxima() {
		fmt.Printf("%.0f W at %.1f V, stuck there loses %.0f %%\n", p.P, p.V, 100*s.Stuck(k))
	}
	fmt.Printf("tied to a battery at 13.4 V: %.0f W\n", s.At(13.4).P)
	fmt.Printf("from 32 V up: %.0f W\n", s.Window(32, 100).P)
	// Output:
	// 242 W at 24.9 V, stuck there loses 0 %
	// 65 W at 38.2 V, stuck there loses 73 %
	// tied to a battery at 13.4 V: 138 W
	// from 32 V up: 65 W
}

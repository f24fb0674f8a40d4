package circuit_test

import (
	"errors"
	"fmt"

	"campwright/circuit"
	"campwright/conductor"
)

// Two blocks of 3 mΩ with unlike leads do not share a load of 200 A.
func ExampleSolve() {
	solution, err := circuit.Solve(circuit.Network{Reference: "minus", Elements: []circuit.Element{
		{Name: "block 1", Kind: circuit.EMF, A: "cell 1", B: "minus", Volts: 13.3},
		{Name: "inside 1", Kind: circuit.Resistor, A: "cell 1", B: "post 1", Ohms: 0.003},
		{Name: "lead 1", Kind: circuit.Resistor, A: "post 1", B: "bus", Ohms: 0.0004},
		{Name: "block 2", Kind: circuit.EMF, A: "cell 2", B: "minus", Volts: 13.3},
		{Name: "inside 2", Kind: circuit.Resistor, A: "cell 2", B: "post 2", Ohms: 0.003},
		{Name: "lead 2", Kind: circuit.Resistor, A: "post 2", B: "bus", Ohms: 0.0024},
		{Name: "inverter", Kind: circuit.CurrentLoad, A: "bus", B: "minus", Amps: 200},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, name := range []string{"block 1", "block 2"} {
		block, _ := solution.Element(name)
		fmt.Printf("%s gives %.1f A\n", name, block.Amps)
	}
	fmt.Printf("currents balance to 1e-9: %v\n", solution.Proof.Imbalance <= 1e-9)
	// Output:
	// block 1 gives 122.7 A
	// block 2 gives 77.3 A
	// currents balance to 1e-9: true
}

// A charge line that cannot feed its unit has no operating point; the error says how far it gets.
func ExampleInfeasibleError() {
	gauge, _ := conductor.OfAWG(10)
	const length = 45 * 0.3048
	_, err := circuit.Solve(circuit.Network{Reference: "minus", Elements: []circuit.Element{
		{Name: "vehicle", Kind: circuit.EMF, A: "plus", B: "minus", Volts: 13.8},
		circuit.Cable("out", "plus", "unit plus", gauge, length, 75),
		circuit.Cable("back", "unit minus", "minus", gauge, length, 75),
		{Name: "dc-dc", Kind: circuit.PowerLoad, A: "unit plus", B: "unit minus", Watts: 655},
	}})
	var none *circuit.InfeasibleError
	if errors.As(err, &none) {
		fmt.Println(err)
	}
	// Output:
	// no operating point: constant-power loads can be met only up to 0.6513 of what they ask: "dc-dc" asks 655 W, its line gives at most 426.6 W
}

// One study answers the fault at every fuse.
func ExampleStudy() {
	solver, err := circuit.New(circuit.Network{Reference: "minus", Elements: []circuit.Element{
		{Name: "bank", Kind: circuit.EMF, A: "cells", B: "minus", Volts: 13.6},
		{Name: "inside", Kind: circuit.Resistor, A: "cells", B: "post", Ohms: 0.001},
		{Name: "main", Kind: circuit.Resistor, A: "post", B: "bus", Ohms: 0.0005},
		{Name: "branch", Kind: circuit.Resistor, A: "bus", B: "pump", Ohms: 0.06},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	study, err := solver.Study()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, fault := range study.ToReference() {
		if fault.Unlimited {
			continue
		}
		fmt.Printf("%s: %.0f A\n", fault.Node, fault.Amps)
	}
	// Output:
	// post: 13600 A
	// bus: 9067 A
	// pump: 221 A
}

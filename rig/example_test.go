package rig_test

import (
	"fmt"
	"strings"

	"campwright/rig"
)

func ExampleDecode() {
	_, faults := rig.Decode(strings.NewReader(`campwright: 1
name: Lark
kind: van
modules:
  slim: {power: 175 W, voc: 23,3 V}
arrays:
  - {name: roof, modul: slim, controller: seat}
`))
	for _, f := range faults {
		fmt.Println(f.Error())
	}
	// Output:
	// line 5, column 29: modules/slim/voc: "23,3 V": a comma inside brackets begins the next entry; write a decimal point, and no comma between thousands
	// line 7, column 18: arrays/roof/modul: "modul": unknown key; did you mean "module"?
	// line 7, column 43: arrays/roof/controller: "seat": no such name under controllers; write it under controllers
}

func ExampleApply() {
	text := []byte("campwright: 1\nname: Lark # our third\nkind: van\n")
	text, err := rig.Apply(text, []rig.Edit{{Path: "name", Old: "Lark", New: "Larkspur"}, {Path: "roof/length", New: "11 ft 6 in"}})
	fmt.Print(string(text), err)
	// Output:
	// campwright: 1
	// name: Larkspur # our third
	// kind: van
	// roof: {length: 11 ft 6 in}
	// <nil>
}

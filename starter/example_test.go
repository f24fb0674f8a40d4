package starter_test

import (
	"fmt"
	"strings"

	"campwright/rig"
	"campwright/starter"
)

func ExampleBuild() {
	today, _ := rig.ParseDate("2026-11-20")
	s, err := starter.Build(starter.Answers{
		Kind: "van", People: 1, Place: "Moab, UT", When: "May", Nights: 5, Refrigerator: "electric", Heat: "diesel",
		Wishes: []string{"laptop", "phone"}, Today: today,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	first, _, _ := strings.Cut(string(s.Text), "\n")
	fmt.Println(first)
	fmt.Println(s.Rig.Arrays[0].Name, s.Rig.Bank.Blocks.Text(), s.Rig.Trip[0].From.Text())
	// Output:
	// campwright: 1
	// roof 3 2027-05-01
}

func ExampleAnswers_Set() {
	var a starter.Answers
	fmt.Println(a.Set("wishes", "2 laptops, microwvae"))
	// Output: wishes: "microwvae" is not in the catalogue; did you mean microwave?
}

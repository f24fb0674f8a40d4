// Package m28 is the room of rule M28.
package m28

import "campwright/check"

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M28", Title: "linked blocks share badly", Holds: "linked blocks share alike", Worst: check.Fail,
	What: "The current of each block of a bank whose blocks are linked one to the next, in the solved network: against its limit, and against the mean of " +
		"all by a tenth.",
	Why: "Links add up: taken from one end, the first block gives three times as much as the last, ages first and trips.",
	Except: "Blocks with leads of their own to bus bars are rule M27. Where they share alike and all are over their limit, that is rules M23 and M25. Taken off diagonally, the ends give more and the middle less, within a tenth for short thick " +
		"links.",
	Formula:   "Iblock ≤ Ilim; |Iblock − Imean| / Imean ≤ 10 %",
	Source:    "Kirchhoff's laws; tolerance: " + check.Practice,
	Sure:      "exact for the ohms stated; lugs add what nobody measured",
	Questions: []string{"From which block is plus taken, and from which minus?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome { return c.Sharing(true) }

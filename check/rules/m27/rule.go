// Package m27 is the room of rule M27.
package m27

import "campwright/check"

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M27", Title: "blocks share badly by their leads", Holds: "blocks share alike", Worst: check.Fail,
	What: "The current of each block in the solved network, with the real ohms of its own leads: against its limit, and against the mean of all by a " +
		"tenth.",
	Why: "Current divides by resistance. A block on short leads works hard, ages first and trips, and then the others trip too.",
	Except: "Blocks linked one to the next are rule M28. Where they share alike and all are over their limit, that is rules M23 and M25. Blocks are taken alike inside; a block with a worse cell shows only in a reading. Threads argue for 2 to 10 % as the " +
		"tolerance; ten is taken.",
	Formula:   "Iblock ≤ Ilim; |Iblock − Imean| / Imean ≤ 10 %",
	Source:    "Kirchhoff's laws; tolerance: " + check.Practice,
	Sure:      "exact for the ohms stated; lugs add what nobody measured",
	Questions: []string{"How long is each lead of each block, and of which size?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome { return c.Sharing(false) }

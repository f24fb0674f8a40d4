package battery_test

import "campwright/internal/outside"

// What the tests of this package are checked against.
var (
	reference = outside.Reference
	table     = outside.Table
	number    = outside.Number
	measured  = outside.Measured
)

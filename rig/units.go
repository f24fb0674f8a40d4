package rig

import (
	"strings"

	"campwright/quantity"
)

// Units returns the system of units that the owner of a document thinks in: the one in which most of its figures are written, that of the rule book's country
// where they are even.
func (r *Rig) Units() quantity.System {
	us, metric := 0, 0
	Walk(r, func(_ string, v *Value) {
		if !v.Given() {
			return
		}
		switch v.Quantity.System() {
		case quantity.US:
			us++
		case quantity.Metric:
			metric++
		}
	})
	if us > metric || us == metric && strings.HasPrefix(r.Book, "us-") {
		return quantity.US
	}
	return quantity.Metric
}

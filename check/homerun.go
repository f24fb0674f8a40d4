package check

import (
	"campwright/rig"
)

// HomeRun returns the cable of an array to its controller: as written with the array, and where nothing is said there as written in the wiring.
func (c Case) HomeRun(a *rig.Array) *rig.Run {
	if a.Run == nil || c.Doc.Wiring == nil {
		return a.Run
	}
	run := *a.Run
	for i := range c.Doc.Wiring.Runs {
		w := &c.Doc.Wiring.Runs[i]
		if !c.Behind(w.From, a.Name) || w.To != "controller "+a.Controller+" pv" {
			continue
		}
		if w.Gauge.Given() && !run.Gauge.Given() {
			run.Gauge = w.Gauge
		}
		if w.Length.Given() && !run.Length.Given() {
			run.Length = w.Length
		}
	}
	return &run
}

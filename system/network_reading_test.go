package system

import (
	"strings"
	"testing"

	"campwright/internal/near"
)

// TestReadingHoldsItsJoints: a run that loses 0.9 V at 60 A has 15 mΩ in all. A lug in it that loses 540 mV at 60 A is 9 mΩ of those, not 9 mΩ more.
func TestReadingHoldsItsJoints(t *testing.T) {
	const rig = `campwright: 1
name: read with a meter
kind: van
bank: {chemistry: LFP, block: {capacity: 200 Ah, resistance: 2 mohm, charge limit: 100 A, discharge limit: 150 A}}
inverters: {first: {power: 500 W, efficiency: 90 %}}
wiring:
  runs:
    - {name: feed, from: bank, to: inverter first, gauge: unknown, length: unknown, reading: {start: 12.6 V, end: 11.7 V, current: 60 A}JOINT}
`
	for _, joint := range []string{"", ", joint at end: {drop: 540 mV, current: 60 A}"} {
		n := network(t, strings.Replace(rig, "JOINT", joint, 1), Nominal)
		s := solved(t, n, StateInverter)
		run := s.Runs[0]
		near.Rel(t, "loop"+joint, run.DropV/run.Amps, 0.9/60, 1e-3, "0.9 V at 60 A by hand")
	}
}

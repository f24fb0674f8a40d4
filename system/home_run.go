package system

import (
	"slices"

	"campwright/circuit"
	"campwright/figure"
	"campwright/rig"
)

// writtenHome returns the run of the wiring that leads an array, or the combiner in which it joins, to its controller, and how many arrays
// come down it; nil where the wiring has none. Of two runs of one conductor each it is the first.
func writtenHome(doc *rig.Rig, a *rig.Array) (run *rig.Wire, joined int) {
	from, joined := "array "+a.Name, 1
	if doc.Wiring == nil {
		return nil, joined
	}
	for i := range doc.Wiring.Combiners {
		if c := &doc.Wiring.Combiners[i]; slices.Contains(c.Arrays, a.Name) {
			from, joined = "combiner "+c.Name, len(c.Arrays)
		}
	}
	for i := range doc.Wiring.Runs {
		w := &doc.Wiring.Runs[i]
		ends := [2]string{w.From, w.To}
		for k, text := range ends {
			t, err := doc.Terminal(text)
			if err != nil {
				ends[k] = ""
				continue
			}
			ends[k] = unsigned(t)
		}
		pv := "controller " + a.Controller + " pv"
		if ends == [2]string{from, pv} || ends == [2]string{pv, from} {
			return w, joined
		}
	}
	return nil, joined
}

// fromWiring gives the cable of an array what the wiring says of it, where nothing is said with the array.
func fromWiring(doc *rig.Rig, a *rig.Array) {
	w, _ := writtenHome(doc, a)
	if w == nil {
		return
	}
	for _, v := range [...]struct{ own, written *rig.Value }{{&a.Run.Gauge, &w.Gauge}, {&a.Run.Length, &w.Length}, {&a.Run.Ambient, &w.Ambient}} {
		if v.own.State == figure.Absent && v.written.State != figure.Absent {
			*v.own = *v.written
			v.own.Why = "as the wiring has it"
		}
	}
}

// homeRun is how the current of an array reaches its controller beyond the size and length of its cable.
type homeRun struct {
	joined  float64      // arrays that share it
	reading circuit.Line // what a meter says of it, when there is a reading
	read    bool
	ohms    rig.Value // measured of one conductor
}

// homeRunOf prepares the home run of an array. A reading that tells nothing is left to the network, which reports it.
func homeRunOf(doc *rig.Rig, a *rig.Array) homeRun {
	w, joined := writtenHome(doc, a)
	h := homeRun{joined: float64(joined)}
	if w == nil {
		return h
	}
	h.ohms = w.Ohms
	if r := w.Reading; r != nil {
		line, err := meterLine(r)
		h.reading, h.read = line, err == nil
	}
	return h
}

// loopOhm is the resistance there and back that an array meets on its way [Ω]: what a meter says of it before what its cable is worked out
// to have. Arrays that share a run drop on it together, so that each meets it as many times as there are of them; that is exact for equal
// currents.
func (a *assembler) loopOhm(h homeRun, cable float64) float64 {
	switch {
	case h.read:
		cable = h.reading.Ohms
	case h.ohms.Given():
		cable = 2 * a.of(h.ohms)
	}
	return cable * h.joined
}

package system

import (
	"strings"

	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// plausible is the span of what is not known and cannot be guessed, wide enough that nobody would call a part outside it usual. It is for judging
// the rest of a rig while the value is looked up, never for an answer. Common practice, no source.
var plausible = []struct {
	head, tail string
	kind       quantity.Kind
	low, high  float64
}{
	{"modules/", "/voc", quantity.Voltage, 18, 60},
	{"modules/", "/imp", quantity.Current, 2, 14},
	{"modules/", "/vmp", quantity.Voltage, 15, 48},
	{"modules/", "/isc", quantity.Current, 2, 15},
	{"controllers/", "/output", quantity.Current, 10, 100},
	{"controllers/", "/survives", quantity.Voltage, 30, 250},
	{"bank/", "/capacity", quantity.Charge, 50, 400},
	{"inverters/", "/power", quantity.Power, 300, 4000},
	{"shore/chargers/", "/output", quantity.Current, 10, 130},
	{"generators/", "/power", quantity.Power, 700, 7000},
	{"vehicle/", "/rated", quantity.Current, 60, 300},
	{"charge line/", "/output", quantity.Current, 10, 60},
	{"appliances/", "", quantity.Power, 5, 1500},
}

// StandIn fills the gaps of a document, so that what does not hang on them can be judged. share says where in the plausible span of each gap its
// value lies, 0 to 1; the values come out as unknown, with the span. It returns the completed document, or false when a gap has no such span,
// as a bank that is not there.
func StandIn(doc rig.Rig, share float64) (rig.Rig, bool) {
	work, stood := doc.Clone(), map[string]bool{}
	full, gaps := Complete(work)
	for range 4 { // a module's figures are told from each other, so its gaps come in turns
		if len(gaps) == 0 {
			break
		}
		if !stand(&work, gaps, share, stood) {
			return full, false
		}
		full, gaps = Complete(work)
	}
	rig.Walk(&full, func(path string, v *rig.Value) {
		if stood[path] {
			v.State = figure.Unknown
		}
	})
	return full, len(gaps) == 0
}

// stand gives each gap a value inside its span.
func stand(doc *rig.Rig, gaps []Gap, share float64, stood map[string]bool) bool {
	set := 0
	rig.WalkAll(doc, func(path string, v *rig.Value) {
		for _, g := range gaps {
			if path != g.Path && path != g.Path+"/rate" {
				continue
			}
			for _, p := range plausible {
				if strings.HasPrefix(path, p.head) && strings.HasSuffix(g.Path, p.tail) {
					low, high := narrowed(doc, path, p.low, p.high)
					*v = rig.Value{
						Quantity: quantity.Quantity{Base: low + share*(high-low), Kind: p.kind}, State: figure.About,
						Low: low, High: high, Why: "not known; such parts lie in this span", At: rig.At{Path: path},
					}
					stood[path] = true
					set++
					break
				}
			}
		}
	})
	return set > 0
}

// narrowed returns the span of a missing figure within what the rest of its part tells of it.
func narrowed(doc *rig.Rig, path string, low, high float64) (float64, float64) {
	for i := range doc.Modules {
		m := &doc.Modules[i]
		switch p := "modules/" + m.Name; {
		case path == p+"/voc" && m.Vmp.Given():
			return m.Vmp.Quantity.Base / catalogue.VmpOfVoc.High, m.Vmp.Quantity.Base / catalogue.VmpOfVoc.Low
		case path == p+"/imp" && m.Isc.Given():
			return m.Isc.Quantity.Base / catalogue.IscOfImp.High, m.Isc.Quantity.Base / catalogue.IscOfImp.Low
		}
	}
	for i := range doc.Controllers {
		if k := &doc.Controllers[i]; path == "controllers/"+k.Name+"/survives" && k.Tracks.Given() {
			return max(low, k.Tracks.Quantity.Base), max(high, k.Tracks.Quantity.Base)
		}
	}
	return low, high
}

// Relax lets go of the figures at maximum power of every module whose sheet contradicts itself, so that the rest of the rig can be judged: they are
// told again from its open-circuit voltage and short-circuit current, which the rules of safety look at. It returns the completed document, or false when that does not help.
func Relax(doc rig.Rig) (rig.Rig, bool) {
	work := doc.Clone()
	full, _ := Complete(work)
	loose := 0
	for i := range full.Modules {
		if _, err := fit(&full.Modules[i]); err != nil {
			m := &work.Modules[i]
			if !m.Isc.Given() {
				continue
			}
			m.Vmp, m.Power, m.Imp = rig.Value{}, rig.Value{}, m.Isc
			t := catalogue.IscOfImp
			m.Imp.Quantity.Base, m.Imp.State = m.Isc.Quantity.Base/t.Value, figure.About
			m.Imp.Low, m.Imp.High = m.Isc.Quantity.Base/t.High, m.Isc.Quantity.Base/t.Low
			loose++
		}
	}
	full, gaps := Complete(work)
	return full, loose > 0 && len(gaps) == 0
}

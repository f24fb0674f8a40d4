package check

import (
	"fmt"
	"math"
	"strings"

	"campwright/rig"
	"campwright/system"
)

// Setting is how one charger of the bank is set, as the completed document has it: what its owner did not say stands there as a default.
type Setting struct {
	Name       string // in the owner's words: "controller pantry"
	Path       string // "controllers/pantry"
	Kind       string // "sun", "engine" or "shore"
	Absorption rig.Value
	Float      rig.Value
	AbsorbFor  rig.Value // absent where the file has no place for it
	PerC       rig.Value
	Equalizes  string
	LabelW     float64 // of the modules behind it; zero for one that has none
}

// Told tells whether its owner said anything of how it is set.
func (s *Setting) Told() bool {
	return s.Absorption.Given() || s.Float.Given() || s.PerC.Given() || s.Equalizes == "yes" || s.Equalizes == "no"
}

// Settings returns how the chargers of the bank are set: controllers that have an array, the dc-dc unit, and the shore chargers.
func (c Case) Settings() []Setting {
	var list []Setting
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		watts, joined := 0.0, false
		for _, a := range c.ArraysOn(k.Name) {
			joined = true
			if m := c.Module(a.Module); m != nil {
				watts += m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
			}
		}
		if joined {
			list = append(list, Setting{Name: "controller " + k.Name, Path: "controllers/" + k.Name, Kind: "sun", Absorption: k.Absorption, Float: k.Float,
				AbsorbFor: k.AbsorbFor, PerC: c.saidPerC("controllers/"+k.Name, k.PerC), Equalizes: k.Equalizes, LabelW: watts})
		}
	}
	if d, _, path := c.Unit(); d != nil {
		list = append(list, Setting{Name: "dc-dc unit", Path: path, Kind: "engine", Absorption: d.Absorption, Float: d.Float, PerC: d.PerC, Equalizes: d.Equalizes})
	}
	if c.Doc.Shore != nil {
		for i := range c.Doc.Shore.Chargers {
			k := &c.Doc.Shore.Chargers[i]
			list = append(list, Setting{Name: "charger " + k.Name, Path: "shore/chargers/" + k.Name, Kind: "shore", Absorption: k.Absorption, Float: k.Float, PerC: k.PerC, Equalizes: k.Equalizes})
		}
	}
	return list
}

// saidPerC returns a compensation, absent where the program filled it in: it stands for what most leave alone, not for what is set.
func (c Case) saidPerC(path string, full rig.Value) rig.Value {
	if said, ok := c.SaidValue(path + "/compensation"); ok && full.Given() {
		full.At = said.At
		return full
	}
	return rig.Value{}
}

// SetTo returns the edit that sets a value of the document, as its owner wrote it or left it out, to a text.
func (c Case) SetTo(path, text string) rig.Edit {
	said, _ := c.SaidValue(path)
	return Set(path, said, text)
}

// Cells returns how many cells of its chemistry stand in series across the bank.
func (c Case) Cells() float64 {
	if c.Doc.Bank == nil {
		return 4 // as BankV has it: 12.8 V of LFP
	}
	return math.Max(1, system.BankCells(c.Doc.Bank))
}

// Ask makes the one question of a rule about everything it was not told, at the first of the places.
func Ask(title string, places, parts, measures []string) Outcome {
	part := parts[0]
	if len(parts) > 1 {
		part = fmt.Sprintf("%s and %d more", parts[0], len(parts)-1)
	}
	return Outcome{Verdict: Undecided, Place: places[0], Part: part, Title: title, Measure: measures, Detail: "Not told: " + strings.Join(parts, ", ") + "."}
}

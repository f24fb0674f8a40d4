package check

import (
	"fmt"
	"math"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// VocTolerance is how far a module's open-circuit voltage may lie above its label, as a share: sheets promise 3 to 5 %. From memory.
const VocTolerance = 0.03

// ArrayPath returns the path of an array.
func ArrayPath(a *rig.Array) string { return "arrays/" + a.Name }

// ArrayPart names an array in the owner's words.
func ArrayPart(a *rig.Array) string { return "array " + a.Name }

// ColdString is the open-circuit voltage of an array's strings on a cold morning against a ceiling of its controller.
type ColdString struct {
	Array   *rig.Array
	Module  *rig.Module
	AirC    float64 // lowest air, which is the cells' temperature at first light
	Air     string  // what that temperature is and where: "record low at home"
	Ceiling rig.Value
	Limit   string // what the ceiling is: "array voltage that destroys ridge above"
	Spare   float64
}

// Inequality returns the one to judge. The coefficient of a module whose sheet is not at hand lies between the least usual one and the one that
// stands behind the NEC's table for modules without coefficient.
func (s ColdString) Inequality() Inequality {
	beta := system.VocPerK(s.Module)
	k := Known("β", "Voc coefficient of "+s.Module.Name, beta)
	if beta.State == figure.Default || beta.State == figure.Unknown {
		k.Figure.Low = math.Min(k.Figure.Low, tablePerK(s.AirC))
		k.Figure.Source = "no coefficient given: " + beta.Why + "; the worst is that of NEC table 690.7(A)"
	}
	return Inequality{
		Formula: "Vcold = n × Voc × (1 + β × (Tlow − 25)) ≤ Vmax", Name: "open-circuit voltage in the cold", Kind: quantity.Voltage, Spare: s.Spare,
		Inputs: []figure.Term{
			Known("n", "modules in series", s.Array.InSeries), Known("Voc", "Voc of "+s.Module.Name, s.Module.Voc), k,
			Number("Tlow", s.Air, quantity.Temperature, s.AirC, "extremes of the places"), Known("Vmax", s.Limit, s.Ceiling),
		},
		Result: func(in Inputs) float64 {
			return in.Of("n") * system.VoltsAt(in.Of("Voc"), in.Of("β"), in.Of("Tlow"))
		},
		Hints: map[string]string{
			"β":    "read the Voc coefficient on the data sheet of " + s.Module.Name,
			"Voc":  "read Voc on the label of " + s.Module.Name,
			"n":    "count the modules in a string of " + s.Array.Name,
			"Vmax": "read the " + s.Limit + " on its data sheet",
		},
		Source: "[NEC] 690.7(A)",
	}
}

// tablePerK returns the coefficient that stands behind the factor of NEC table 690.7(A) for an air temperature [1/K].
func tablePerK(airC float64) float64 {
	factor, _, err := conductor.ColdVoltageFactor(math.Max(airC, -40))
	if err != nil || airC >= 25 {
		return 0
	}
	return (1 - factor) / (25 - math.Max(airC, -40))
}

// Coldest returns the site whose figure is the lowest, nil when no site has it.
func (c Case) Coldest(figureOf func(*system.Site) float64) *system.Site {
	var best *system.Site
	for i := range c.Sites {
		s := &c.Sites[i]
		if x := figureOf(s); !math.IsNaN(x) && (best == nil || x < figureOf(best)) {
			best = s
		}
	}
	return best
}

// ColdStrings returns the string of every array whose module and controller ceiling are known, at an air temperature.
func (c Case) ColdStrings(airC float64, air string, spare float64) []ColdString {
	var list []ColdString
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		m, k := c.Module(a.Module), c.Controller(a.Controller)
		if m == nil || k == nil || !m.Voc.Stands() || k.Survives.State == figure.Absent {
			continue
		}
		list = append(list, ColdString{Array: a, Module: m, AirC: airC, Air: air, Ceiling: k.Survives, Limit: "array voltage that destroys " + k.Name + " above", Spare: spare})
	}
	return list
}

// At names a site for the end of a sentence: "at home", "at Palo Wash flats".
func At(s *system.Site) string {
	if s.Home {
		return "at home"
	}
	return "at " + s.Name
}

// Shorter returns the ways to wire the same modules of an array with fewer in series, the longest string first, as tries of a cure.
func (c Case) Shorter(a *rig.Array) []Cure {
	var list []Cure
	for k := count(a.InSeries) - 1; k >= 1; k-- {
		list = append(list, c.rewire(a, k)...)
	}
	return list
}

// Longer returns the ways to wire the same modules of an array with more in series, the shortest string first.
func (c Case) Longer(a *rig.Array) []Cure {
	var list []Cure
	for k := count(a.InSeries) + 1; k <= count(a.InSeries)*count(a.Strings); k++ {
		list = append(list, c.rewire(a, k)...)
	}
	return list
}

// rewire returns the cure that puts k of an array's modules in series; none where they do not come out even.
func (c Case) rewire(a *rig.Array, k int) []Cure {
	all, said := count(a.InSeries)*count(a.Strings), c.saidArray(a.Name)
	if said == nil || all%k != 0 {
		return nil
	}
	return []Cure{{
		Words: fmt.Sprintf("wire %s as %s of %d in series", a.Name, plural(all/k, "string", "strings"), k),
		Edits: []rig.Edit{
			Set(ArrayPath(a)+"/in series", said.InSeries, fmt.Sprint(k)), Set(ArrayPath(a)+"/strings", said.Strings, fmt.Sprint(all/k)),
		},
	}}
}

// count returns a number of things.
func count(v rig.Value) int { return int(math.Round(v.Quantity.Base)) }

func (c Case) saidArray(name string) *rig.Array {
	for i := range c.Said.Arrays {
		if c.Said.Arrays[i].Name == name {
			return &c.Said.Arrays[i]
		}
	}
	return nil
}

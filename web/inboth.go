package web

import (
	"regexp"
	"strings"

	"campwright/quantity"
)

// Some packages write their texts in one system of units. Their figures are read back here and written in the reader's; a figure in a unit
// that both sides of the ocean use stays as it is, and so do all other words.

// otherUnits are the units that texts are written in, with what they measure and the system that wants another.
var otherUnits = []struct {
	unit string
	kind quantity.Kind
	not  quantity.System
}{
	{"°C", quantity.Temperature, quantity.US}, {"K", quantity.TempDifference, quantity.US}, {"kg", quantity.Mass, quantity.US}, {"km", quantity.Length, quantity.US}, {"m", quantity.Length, quantity.US},
	{"°F", quantity.Temperature, quantity.Metric}, {"lb", quantity.Mass, quantity.Metric}, {"gal", quantity.Volume, quantity.Metric}, {"ft", quantity.Length, quantity.Metric},
}

// figureInText is a number with one of those units behind it, at the end of a word. The temperature by which terminals are rated is a name
// and no figure: the trade has it in degrees Celsius everywhere.
var figureInText = regexp.MustCompile(`(terminals of )?([−-]?\d[\d,]*(?:\.\d+)?)[ \x{00a0}](°C|°F|kg|km|K|m|lb|gal|ft)($|[^\pL\d/])`)

// inBoth writes a text in each system of units.
func inBoth(text string) Both {
	text = plainWords(text)
	return Both{US: inSystem(text, quantity.US), Metric: inSystem(text, quantity.Metric)}
}

// inBothAll is a list of such texts.
func inBothAll(texts []string) []Both {
	list := make([]Both, len(texts))
	for i, text := range texts {
		list[i] = inBoth(text)
	}
	return list
}

func inSystem(text string, system quantity.System) string {
	return figureInText.ReplaceAllStringFunc(text, func(found string) string {
		m := figureInText.FindStringSubmatch(found)
		if m[1] != "" {
			return found
		}
		for _, w := range otherUnits {
			if w.unit != m[3] || w.not != system {
				continue
			}
			q, err := quantity.Parse(strings.NewReplacer("−", "-", ",", "").Replace(m[2])+" "+w.unit, w.kind)
			if err != nil {
				return found
			}
			return quantity.Format(q, system) + m[4]
		}
		return found
	})
}

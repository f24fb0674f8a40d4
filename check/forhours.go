package check

import (
	"math"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
)

// ForHours returns what is drawn for hours from a post on its busier leg, as a term: appliances that run for hours and chargers at full output, or the shore limit
// where that is less. False where nothing is known to run for hours.
func (c Case) ForHours(symbol string, post convert.Service) (figure.Term, bool) {
	legs := []string{""}
	if post.Legs == 2 {
		legs = []string{"L1", "L2"}
	}
	var worst figure.Term
	for _, leg := range legs {
		sum, inputs, _ := c.LastingAC(post.Volts, leg)
		if sum == "" {
			continue
		}
		sum, inputs = c.Limited(sum, inputs)
		f := Inequality{Formula: "Isum = " + sum + " ≤ 1", Name: "drawn for hours from the " + post.Name + " post", Kind: quantity.Current, Inputs: inputs}.Judge().Working.Terms[0].Figure
		if math.IsNaN(f.Value) || f.Value <= worst.Figure.Value {
			continue
		}
		if f.State = figure.Plain; f.High > f.Low {
			f.State = figure.About
		}
		f.Source = "as rule M54 counts it"
		worst = figure.Term{Symbol: symbol, Figure: f}
	}
	return worst, worst.Figure.Value > 0
}

// Limited puts a sum of currents from shore under the limit that the rig keeps, where one is told.
func (c Case) Limited(sum string, inputs []figure.Term) (string, []figure.Term) {
	if s := c.Doc.Shore; s != nil && s.Limit.Stands() {
		return "min(" + sum + ", Ilimit)", append(inputs, Known("Ilimit", "shore limit that is kept", s.Limit))
	}
	return sum, inputs
}

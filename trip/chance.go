package trip

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// counted returns a chance counted in independent runs, with bounds each of which holds with 95 % certainty.
//
// Source: [CLOPPER-PEARSON], exact for the binomial; with no event in n runs the upper bound is 1 - 0.05^(1/n), about 3/n.
func counted(count, of int) Chance {
	c := Chance{Count: count, Of: of, High: 1}
	if count > 0 {
		c.Low = distuv.Beta{Alpha: float64(count), Beta: float64(of - count + 1)}.Quantile(0.05)
	}
	if count < of {
		c.High = distuv.Beta{Alpha: float64(count + 1), Beta: float64(of - count)}.Quantile(0.95)
	}
	c.Text = c.words()
	return c
}

// words says a chance as people do.
func (c Chance) words() string {
	switch {
	case c.Of == 1 && c.Count == 1:
		return "it happens in this year of weather"
	case c.Of == 1:
		return "it does not happen in this year of weather"
	case c.Count == 0:
		return fmt.Sprintf("0 of %d runs: under %s, 95 %% sure", c.Of, percent(c.High))
	case c.Count == c.Of:
		return fmt.Sprintf("all %d runs: over %s, 95 %% sure", c.Of, percent(c.Low))
	}
	return fmt.Sprintf("%d of %d runs: %s to %s", c.Count, c.Of, percent(c.Low), percent(c.High))
}

// percent writes a share with as many digits as it deserves.
func percent(share float64) string {
	switch p := 100 * share; {
	case p > 0 && p < 0.05:
		return fmt.Sprintf("%.1g %%", p)
	case p >= 99.95 && p < 100:
		return "over 99.9 %"
	case p < 10 && p > 0, p > 99 && p < 100:
		return fmt.Sprintf("%.1f %%", p)
	default:
		return fmt.Sprintf("%.0f %%", p)
	}
}

// quantile returns the value below which a share of the values lies, by straight lines between them. The values need not be sorted and
// may hold +Inf, which stands for never.
func quantile(values []float64, share float64) float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	at := share * float64(len(sorted)-1)
	i := int(math.Floor(at))
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	if math.IsInf(sorted[i+1], 1) {
		if at > float64(i) {
			return sorted[i+1]
		}
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

package battery

import "math"

// Use is what a bank has been through between two looks at it.
type Use struct {
	Years      float64 // since new
	FullCycles float64 // charge drawn in all, over the rated capacity: 500 discharges of 80 % are 400
	RateC      float64 // usual current over capacity [1/h], such as 0.2; held to 0.5..10 by the law for LFP
	MeanC      float64 // mean temperature of the cells [C]
}

// Aged is the share of the capacity of a new bank that is left: a likely value and a range.
type Aged struct{ Low, Likely, High float64 }

// Wang et al.'s constants by rate, from memory; the exponents of the law are in WangLoss.
var (
	wangRate = []float64{0.5, 2, 6, 10}
	wangB    = []float64{31630, 21681, 12934, 15512}
)

const gasConstant = 8.314 // J/molK, as the law was fitted with

// WangLoss returns the capacity that an LFP | graphite cell of 2 Ah loses by cycling [share].
//
//	ah     charge drawn in all [Ah] from the 2 Ah cell, zero or positive
//	rateC  current over capacity [1/h], held to 0.5..10; between the four rates tested the constant is straight in its logarithm
//	tC     temperature of the cell [C], held to 0..60; tested from 15 to 60
//
// Ageing by time alone is not in it. It is held to 1. The fit is good to some 5 points of capacity.
//
// Source: [WANG2011] eq. (5), from memory.
func WangLoss(ah, rateC, tC float64) float64 {
	if !(ah > 0) || math.IsNaN(rateC) || math.IsNaN(tC) {
		return 0
	}
	rateC = min(max(rateC, wangRate[0]), wangRate[len(wangRate)-1])
	i := 1
	for i < len(wangRate)-1 && rateC > wangRate[i] {
		i++
	}
	part := (rateC - wangRate[i-1]) / (wangRate[i] - wangRate[i-1])
	b := wangB[i-1] * math.Pow(wangB[i]/wangB[i-1], part)
	kelvin := min(max(tC, 0), 60) + 273.15
	return min(1, b/100*math.Exp((-31700+370.3*rateC)/(gasConstant*kelvin))*math.Pow(ah, 0.55))
}

// wear is how fast a chemistry ages: full cycles to 80 % of capacity, and loss after one year on the shelf at 25 C. Low, likely, high
// are those of the capacity left.
type wear struct {
	cycles [3]float64
	shelf  [3]float64
	root   bool // loss on the shelf grows with the root of time rather than with time
}

// The lead-acid cycles are handbook cycles at 20, 50 and 80 % depth, from memory with low confidence, times their depth: the product hardly
// depends on depth. LFP cycles are those of data sheets at 80 % depth, times 0.8, for the low end alone; the rest is [WANG2011]. Ageing on
// the shelf, and its doubling for 10 K, are common practice, no source.
func (c Chemistry) wear() wear {
	switch c {
	case LFP:
		return wear{cycles: [3]float64{2000, 0, 0}, shelf: [3]float64{0.06, 0.03, 0.015}, root: true}
	case Flooded:
		return wear{cycles: [3]float64{240, 450, 660}, shelf: [3]float64{0.05, 0.033, 0.02}}
	}
	return wear{cycles: [3]float64{200, 330, 500}, shelf: [3]float64{0.05, 0.033, 0.02}}
}

// Age returns what share of a new bank's capacity is left after use, in 0..1. Cycling and time on the shelf add. The range is wide on
// purpose: a measured capacity always says more. Negative or missing use counts as none.
//
// Source: [WANG2011] for cycling of LFP; see wear for the rest.
func Age(c Chemistry, u Use) Aged {
	w := c.wear()
	years, cycles := max(0, u.Years), max(0, u.FullCycles)
	if math.IsNaN(years) || math.IsNaN(cycles) {
		years, cycles = 0, 0
	}
	time := years
	if w.root {
		time = math.Sqrt(years)
	}
	time *= math.Pow(2, (clampC(u.MeanC)-25)/10)
	left := func(i int) float64 {
		loss := w.shelf[i] * time
		if w.cycles[i] > 0 {
			loss += 0.2 * cycles / w.cycles[i]
		} else {
			loss += WangLoss(2*cycles, u.RateC, clampC(u.MeanC))
		}
		return clamp01(1 - loss)
	}
	a := Aged{Low: left(0), Likely: left(1), High: left(2)}
	// Hot and little used, the published law falls below the data sheets' straight line.
	a.Low = min(a.Low, a.Likely)
	return a
}

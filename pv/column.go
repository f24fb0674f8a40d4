package pv

import (
	"fmt"
	"math"
)

// PowerColumn fills dst with the greatest power of the module at each step [W]: each step is solved, none is looked up.
//
//	effective  irradiance that reaches the cells, mean over the step [W/m²]; zero or less gives zero
//	cellC      cell temperature of the step [°C], clamped as in At
//
// All three must be equally long and every value finite, or it returns an error that names the step; dst is then filled up to that step.
// It does not allocate. Accuracy: as MaxPower.
func (m Module) PowerColumn(dst, effective, cellC []float64) error {
	if len(effective) != len(dst) || len(cellC) != len(dst) {
		return fmt.Errorf("power: columns of %d, %d and %d steps, wanted equal", len(dst), len(effective), len(cellC))
	}
	for k := range dst {
		g, t := effective[k], cellC[k]
		if d := g - g + t - t; d != 0 { // NaN for what is not finite
			return fmt.Errorf("power: step %d: irradiance %g W/m² at %g °C, wanted finite values", k, g, t)
		}
		dst[k] = 0
		if g > 0 {
			dst[k] = m.At(g, t).MaxPower().P
		}
	}
	return nil
}

// finite tells whether v is neither infinite nor not a number.
func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

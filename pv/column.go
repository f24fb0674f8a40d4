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
	// In blocks, each in three passes, so that the processor can overlap the steps of a pass: they do not depend on each other.
	var block [columnBlock]circuit
	var x [columnBlock]float64
	for start := 0; start < len(dst); start += columnBlock {
		end := min(start+columnBlock, len(dst))
		n, err := m.circuits(&block, effective[start:end], cellC[start:end])
		for k := range block[:n] {
			if block[k].il > 0 {
				x[k] = block[k].near(roughLog(block[k].il) - roughLog(block[k].i0) - 3)
			}
		}
		for k := range block[:n] {
			power := 0.0
			if block[k].il > 0 {
				power = block[k].climb(x[k]).P
			}
			dst[start+k] = power
		}
		if err != nil {
			return fmt.Errorf("power: step %d: %w", start+n, err)
		}
	}
	return nil
}

// columnBlock is how many steps PowerColumn takes at once.
const columnBlock = 64

// circuits fills in the state of each step, as At does, and returns how many it did before one that is not finite, with an error for that.
func (m *Module) circuits(block *[columnBlock]circuit, effective, cellC []float64) (int, error) {
	p := &m.p
	gsh, inv := 1/(p.Rsh*refIrradiance), refKelvin/p.A
	for k, light := range effective {
		t := cellC[k]
		if d := light - light + t - t; d != 0 { // not a number, for what is not finite
			return k, fmt.Errorf("irradiance %g W/m² at %g °C, wanted finite values", light, t)
		}
		if !(light > 0) {
			block[k].il = 0
			continue
		}
		light = min(light, brightest)
		t = max(coldest, min(t, hottest)) + zeroC
		back := 1 / t
		q := t * (1 / refKelvin)
		block[k] = circuit{
			il:  light * (1 / refIrradiance) * (p.IL + m.alpha*(t-refKelvin)),
			i0:  p.I0 * q * q * q * math.Exp(m.ct*(1/refKelvin-back)),
			rs:  p.Rs,
			gsh: light * gsh,
			a:   p.A * q,
			inv: back * inv,
		}
	}
	return len(effective), nil
}

// finite tells whether v is neither infinite nor not a number.
func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

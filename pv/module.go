package pv

import (
	"fmt"
	"math"
)

// Standard test conditions and constants of the temperature model.
const (
	refIrradiance = 1000.0         // W/m², [IEC-60904-3]
	refKelvin     = 298.15         // K, 25 °C
	boltzmann     = 8.617333262e-5 // eV/K, [CODATA-2018]
	siliconEg     = 1.121          // eV at 25 °C, [DESOTO-2006]
	siliconEgPerK = -0.0002677     // 1/K, relative, [DESOTO-2006]

	zeroC            = 273.15        // K
	refCell          = 25.0          // °C
	coldest, hottest = -100.0, 200.0 // °C, cell temperatures are clamped to this
	brightest        = 1e5           // W/m², and irradiance to this
)

// ModuleParams are the reference parameters of a module at 1000 W/m² and 25 °C cell temperature.
type ModuleParams struct {
	IL            float64 // photocurrent [A], above zero
	I0            float64 // saturation current [A], above zero
	Rs            float64 // series resistance [Ω], zero or more
	Rsh           float64 // shunt resistance [Ω], above zero; +Inf means none
	A             float64 // modified ideality factor n·Ns·k·T/q [V], above zero
	AlphaAPerK    float64 // rise of the short-circuit current with temperature [A/K], smaller in size than IL/200
	AdjustPercent float64 // reduction of AlphaAPerK in per cent, the sixth parameter of [DOBOS-2012]; 0 is De Soto's model
	EgEV          float64 // band gap at 25 °C [eV]; 0 stands for 1.121, crystalline silicon
	EgPerK        float64 // relative change of the band gap [1/K]; used only where EgEV is given, else -0.0002677
	Cells         int     // cells in series; only told on, 0 if not known
}

// Module is one module, valid once made by NewModule or Fit. Its methods are pure and safe from any goroutine.
type Module struct {
	p     ModuleParams
	alpha float64 // A/K, adjusted
	ct    float64 // K, the exponent of I0 is ct·(1/T0 - 1/T), see At
}

// NewModule returns the module with these parameters, or an error naming the first one out of range.
func NewModule(p ModuleParams) (Module, error) {
	if err := (Curve{IL: p.IL, I0: p.I0, Rs: p.Rs, Rsh: p.Rsh, A: p.A}).Check(); err != nil {
		return Module{}, fmt.Errorf("module: %w", err)
	}
	if p.EgEV == 0 {
		p.EgEV, p.EgPerK = siliconEg, siliconEgPerK
	}
	switch {
	case p.IL == 0:
		return Module{}, fmt.Errorf("module: photocurrent 0 A, wanted above zero")
	case !(math.Abs(p.AlphaAPerK) < p.IL/200):
		return Module{}, fmt.Errorf("module: current coefficient %.6g A/K, wanted below %.6g in size", p.AlphaAPerK, p.IL/200)
	case !(math.Abs(p.AdjustPercent) <= 100):
		return Module{}, fmt.Errorf("module: adjustment %.6g %%, wanted -100 to 100", p.AdjustPercent)
	case !(p.EgEV > 0 && p.EgEV <= 10):
		return Module{}, fmt.Errorf("module: band gap %.6g eV, wanted above 0, at most 10", p.EgEV)
	case !(math.Abs(p.EgPerK) <= 0.003):
		return Module{}, fmt.Errorf("module: change of the band gap %.6g 1/K, wanted at most 0.003 in size", p.EgPerK)
	case p.Cells < 0:
		return Module{}, fmt.Errorf("module: %d cells, wanted zero or more", p.Cells)
	}
	return Module{
		p:     p,
		alpha: p.AlphaAPerK * (1 - p.AdjustPercent/100),
		ct:    p.EgEV * (1 - p.EgPerK*refKelvin) / boltzmann,
	}, nil
}

// Params returns the reference parameters.
func (m Module) Params() ModuleParams { return m.p }

// Rated returns the point of greatest power at standard test conditions.
func (m Module) Rated() Point { return m.At(refIrradiance, refCell).MaxPower() }

// At returns the curve of the module.
//
//	effective  irradiance that reaches the cells [W/m²], clamped to 0 to 100,000
//	cellC      cell temperature [°C], clamped to -100 to 200
//
// In the dark there is no photocurrent and no shunt, as the model's limit for vanishing light. If an argument is not a number the result is
// the dark curve at 25 °C. Accuracy of the model: see the package comment.
//
// Source: [DESOTO-2006], translation of the five parameters; the adjustment is [DOBOS-2012].
func (m Module) At(effective, cellC float64) Curve {
	if effective != effective || cellC != cellC {
		effective, cellC = 0, 25
	}
	effective = min(effective, brightest)
	cellC = max(coldest, min(cellC, hottest))
	t := cellC + zeroC
	q := t * (1 / refKelvin)
	// The saturation current with the band gap Eg = Eg0·(1 + d·(T - T0)), put in: the terms constant in T cancel, and
	// Eg0/(k·T0) - Eg/(k·T) = Eg0·(1 - d·T0)/k · (1/T0 - 1/T).
	i0 := m.p.I0 * q * q * q * math.Exp(m.ct*(1/refKelvin-1/t))
	c := Curve{I0: i0, Rs: m.p.Rs, Rsh: math.Inf(1), A: m.p.A * q}
	if s := effective * (1 / refIrradiance); s > 0 {
		c.IL = s * (m.p.IL + m.alpha*(cellC-refCell))
		c.Rsh = m.p.Rsh / s
	}
	return c
}

package pv

import (
	"fmt"
	"math"
)

// CellTemperature is a model of how warm the cells get: Faiman, Ross, SAPM or HeatLoss.
type CellTemperature interface {
	// Cell returns the cell temperature [°C].
	//
	//	plane  irradiance in the plane, before any loss by slanting light [W/m²]; below zero counts as zero
	//	airC   air temperature [°C]
	//	wind   wind speed as the model wants it, about at module height [m/s]; below zero counts as zero
	Cell(plane, airC, wind float64) float64
}

// Faiman is the heat balance of a module with air on both sides: Tc = Ta + G/(U0 + U1·v). Accuracy against modules in the field: about 2 K
// over 15 minutes for raised modules.
//
// Source: [FAIMAN-2008].
type Faiman struct {
	U0 float64 // heat loss in still air [W/m²K], above zero
	U1 float64 // rise of it with wind [W/m²K per m/s], zero or more
}

// Cell returns the cell temperature [°C].
func (m Faiman) Cell(plane, airC, wind float64) float64 {
	return airC + max(plane, 0)/(m.U0+m.U1*max(wind, 0))
}

// Ross says that the cells are warmer than the air in proportion to irradiance, with wind left out: Tc = Ta + K·G.
//
// Source: [ROSS-1976]; coefficients by mounting in [SKOPLAKI-2008].
type Ross struct {
	K float64 // K·m²/W, zero or more
}

// Cell returns the cell temperature [°C]; wind is not used.
func (m Ross) Cell(plane, airC, _ float64) float64 { return airC + m.K*max(plane, 0) }

// NOCT returns the model of Ross for a nominal operating cell temperature in °C, as sheets print it: 800 W/m², 20 °C air, 1 m/s, open rack.
// It is right for a raised module only: 42 to 48 °C is usual.
//
// Source: [ROSS-1976].
func NOCT(cellC float64) Ross { return Ross{K: (cellC - 20) / 800} }

// SAPM is the model of Sandia: Tm = G·exp(A + B·v) + Ta for the back, Tc = Tm + DeltaT·G/1000 for the cell.
//
// Source: [KING-2004], thermal model.
type SAPM struct {
	A      float64 // -
	B      float64 // s/m, zero or less
	DeltaT float64 // K, cell above back at 1000 W/m²
}

// Cell returns the cell temperature [°C].
func (m SAPM) Cell(plane, airC, wind float64) float64 {
	plane = max(plane, 0)
	return airC + plane*(math.Exp(m.A+m.B*max(wind, 0))+m.DeltaT/refIrradiance)
}

// HeatLoss is the heat balance with the electrical output taken off: Tc = Ta + absorptance·G·(1 - efficiency)/(Uc + Uv·v).
//
// Source: [FAIMAN-2008], with the linear loss term written out; the usual 29 and 15 W/m²K for free-standing and insulated are common
// practice, no source.
type HeatLoss struct {
	Uc          float64 // heat loss in still air [W/m²K], above zero
	Uv          float64 // rise of it with wind [W/m²K per m/s], zero or more
	Efficiency  float64 // of the module, 0 to 1
	Absorptance float64 // of the module, 0 to 1, usually 0.9
}

// Cell returns the cell temperature [°C].
func (m HeatLoss) Cell(plane, airC, wind float64) float64 {
	return airC + max(plane, 0)*m.Absorptance*(1-m.Efficiency)/(m.Uc+m.Uv*max(wind, 0))
}

// CellColumn fills dst with the cell temperature of each step [°C]. All slices must be equally long, or it returns an error. Values must be
// finite; what is not shows up as not finite in dst, where PowerColumn refuses it.
func CellColumn(dst, plane, airC, wind []float64, model CellTemperature) error {
	if len(plane) != len(dst) || len(airC) != len(dst) || len(wind) != len(dst) {
		return fmt.Errorf("cell temperature: columns of %d, %d, %d and %d steps, wanted equal", len(dst), len(plane), len(airC), len(wind))
	}
	if f, ok := model.(Faiman); ok { // the usual one, without a call for each step
		for i := range dst {
			dst[i] = f.Cell(plane[i], airC[i], wind[i])
		}
		return nil
	}
	for i := range dst {
		dst[i] = model.Cell(plane[i], airC[i], wind[i])
	}
	return nil
}

package sun

import "math"

// Solar constants in use [W/m²]. They differ by 0.4 %: a published example comes out only with its own.
const (
	SolarConstantASTM     = 1366.1 // [ASTM-E490]
	SolarConstantGueymard = 1361.1 // [GUEYMARD-2018], the present best value
	SolarConstantWRC      = 1367.0 // [WRC], the one of [DUFFIE-BECKMAN]
)

// Method says how the changing distance of the sun is found.
type Method uint8

// The methods.
const (
	Spencer  Method = iota // Fourier series of the day of the year, [SPENCER]
	Distance               // inverse square of the distance computed by [SPA]
)

// Extra is the choice of the sun's light above the air: a solar constant [W/m², 1300 to 1400] and a method.
type Extra struct {
	Constant float64
	Method   Method
}

func (x Extra) check() error {
	if x.Method > Distance {
		return firstOutside(limit{"extraterrestrial method", float64(x.Method), 0, float64(Distance), ""})
	}
	return firstOutside(limit{"solar constant", x.Constant, 1300, 1400, "W/m²"})
}

// SpencerNormal returns the sun's light above the air on a surface facing the sun [W/m²], for a solar constant [W/m²] and a day of
// the year, 1 to 366. Days outside run on around the year. Accuracy 0.1 % against [DistanceNormal]. Source: [SPENCER].
func SpencerNormal(constant float64, dayOfYear int) float64 {
	sin, cos := math.Sincos(dayAngle(dayOfYear))
	sin2, cos2 := 2*sin*cos, cos*cos-sin*sin
	return constant * (1.00011 + 0.034221*cos + 0.00128*sin + 0.000719*cos2 + 0.000077*sin2)
}

// DistanceNormal returns the sun's light above the air on a surface facing the sun [W/m²], for a solar constant [W/m²] and the sun's
// distance [au], as [At] gives it. Exact.
func DistanceNormal(constant, distance float64) float64 {
	return constant / (distance * distance)
}

// dayAngle is the place of a day in the year as an angle [rad], [SPENCER].
func dayAngle(dayOfYear int) float64 {
	return 2 * math.Pi / 365 * float64(dayOfYear-1)
}

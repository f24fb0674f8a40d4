package climate

import (
	"fmt"
	"math"

	"campwright/sun"
)

// SkyParams describe one civil day at one place to [NewSky].
type SkyParams struct {
	Sun         *sun.Geometry // the sun along steps of equal length that hold the day
	First       int           // first step of the day
	Count       int           // number of steps in the day; they should fill 23 to 25 hours
	StepMinutes float64       // 1 to 60
	Elevation   float64       // [m], -500 to 9000
}

// Sky is the sun's part of one civil day at one place: what all members share. It refers to the geometry, which must not change while it
// is in use. Make one with [NewSky], or refill one with [Sky.Set].
type Sky struct {
	up, extra []float64 // of the day's steps, in the geometry's memory
	above     []float64 // light above the air on the horizontal [W/m²]
	invUp     []float64 // one over the cosine of the zenith
	top       []float64 // clearness of the clearest sky
	beam      []float64 // beam of the clearest sky [W/m²]
	warm      []float64 // way from one end of temperature to the next, 0 to 1
	dawn      int       // first step of daylight
	dusk      int       // one past the last
	rise      int       // first step after the day's low
	peak      int       // first step after the day's high
	total     float64   // sum of above
	stepHours float64
	steady    float64 // standard deviation of a step's noise over that of an hour's
	store     []float64
}

// clearestTurbidity is Linke's turbidity of the clearest air; no beam is brighter than through it.
const clearestTurbidity = 2

// hourOfHigh is the solar time of the day's highest temperature after noon [h]: common practice, no source; 22 public weather files have
// it between 12 and 15 h.
const hourOfHigh = 3

// NewSky returns the sky of a day, or an error for parameters outside their ranges.
func NewSky(p SkyParams) (*Sky, error) {
	s := new(Sky)
	if err := s.Set(p); err != nil {
		return nil, err
	}
	return s, nil
}

// Set fills s anew, as [NewSky] does, in the memory it already has where that is enough. On error s is unchanged.
func (s *Sky) Set(p SkyParams) error {
	if p.Sun == nil {
		return fmt.Errorf("climate: sky without a sun")
	}
	if p.Count < 1 || p.First < 0 || p.First > p.Sun.Len()-p.Count {
		return fmt.Errorf("climate: steps %d to %d outside the %d of the sun", p.First, p.First+p.Count-1, p.Sun.Len())
	}
	if !(p.StepMinutes >= 1 && p.StepMinutes <= 60) {
		return fmt.Errorf("climate: step %v min outside 1 to 60", p.StepMinutes)
	}
	clear, err := sun.NewClearSky(sun.ClearSkyParams{Turbidity: clearestTurbidity, Elevation: p.Elevation})
	if err != nil {
		return fmt.Errorf("climate: %w", err)
	}
	n := p.Count
	if cap(s.store) < 5*n {
		s.store = make([]float64, 5*n)
	}
	m := s.store[:5*n]
	s.above, s.invUp, s.top, s.beam, s.warm = m[:n:n], m[n:2*n:2*n], m[2*n:3*n:3*n], m[3*n:4*n:4*n], m[4*n:]
	s.up, s.extra = p.Sun.Up[p.First:p.First+n:p.First+n], p.Sun.Extra[p.First:p.First+n:p.First+n]
	s.stepHours = p.StepMinutes / 60
	s.total, s.dawn, s.dusk = 0, n, 0
	for i, up := range s.up {
		s.above[i], s.invUp[i], s.top[i], s.beam[i] = 0, 0, 0, 0
		if up <= 0 {
			continue
		}
		s.dawn, s.dusk = min(s.dawn, i), i+1
		s.above[i] = s.extra[i] * up
		s.invUp[i] = 1 / max(up, 1e-3)
		s.total += s.above[i]
		ghi, dni, _ := clear.At(up, p.Sun.AirMass[p.First+i], s.extra[i])
		s.top[i], s.beam[i] = max(ghi/s.above[i], 0.1), dni
	}
	s.dawn = min(s.dawn, s.dusk)
	s.setWarmth()
	s.setNoise()
	return nil
}

// setWarmth fills in the way of the temperature: from yesterday's high to the low at sunrise, up to the high three hours after the
// highest sun, down to tomorrow's low, each along half a wave. Where the sun does not rise or set the low is twelve hours from the
// highest sun.
func (s *Sky) setWarmth() {
	n := len(s.up)
	noon := 0
	for i, up := range s.up {
		if up > s.up[noon] {
			noon = i
		}
	}
	steps := func(hours float64) float64 { return hours / s.stepHours }
	day := steps(24)
	peak := float64(noon) + steps(hourOfHigh)
	rise := float64(s.dawn)
	if s.dawn >= s.dusk || s.dawn == 0 || rise > float64(noon) || rise < float64(noon)-steps(11.5) {
		rise = float64(noon) - steps(11.5)
	}
	s.rise = min(max(int(math.Ceil(rise)), 0), n)
	s.peak = min(max(int(math.Ceil(peak)), s.rise), n)
	wave := func(x float64) float64 { return 0.5 - 0.5*math.Cos(math.Pi*min(max(x, 0), 1)) }
	for i := range s.warm {
		x := float64(i)
		switch {
		case i < s.rise:
			s.warm[i] = wave((x - (peak - day)) / (rise - (peak - day)))
		case i < s.peak:
			s.warm[i] = wave((x - rise) / (peak - rise))
		default:
			s.warm[i] = wave((x - peak) / (rise + day - peak))
		}
	}
}

// setNoise finds how much more a short step scatters than the hour it is part of, for the hourly correlation of a middling day. The mean
// of n values of a series of variance one with correlation r from one to the next has the variance (n + 2 sum (n-k) r^k)/n².
func (s *Sky) setNoise() {
	n := max(int(math.Round(1/s.stepHours)), 1)
	r := math.Pow(0.38, s.stepHours)
	sum := float64(n)
	for k := 1; k < n; k++ {
		sum += 2 * float64(n-k) * math.Pow(r, float64(k))
	}
	s.steady = float64(n) / math.Sqrt(sum)
}

// Above returns the day's light above the air on the horizontal [Wh/m²].
func (s *Sky) Above() float64 { return s.total * s.stepHours }

// Len returns the number of steps of the day.
func (s *Sky) Len() int { return len(s.up) }

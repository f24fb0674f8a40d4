package sun

import (
	"fmt"
	"math"
	"time"
)

// Steps is a series of instants: Start, Start+Step, and so on, Count of them, 1 to 10 million; Step above zero, at most 366 days. For
// weather that is a mean over an interval, give the middle of each interval. The zone of Start tells the civil day where a model
// counts days of the year; its offset at Start is used throughout.
type Steps struct {
	Start time.Time
	Step  time.Duration
	Count int
}

func (s Steps) check() error {
	if s.Count < 1 || s.Count > 10_000_000 {
		return fmt.Errorf("sun: count of steps %d outside 1 to 10000000", s.Count)
	}
	if s.Step <= 0 || s.Step > 366*24*time.Hour {
		return fmt.Errorf("sun: step %v outside 0 to 366 days", s.Step)
	}
	if err := checkTime(s.Start); err != nil {
		return err
	}
	const year = 31556952.0
	if y := float64(s.Start.UTC().Year()) + s.Step.Seconds()*float64(s.Count)/year; y > 6000 {
		return fmt.Errorf("sun: end of the series in year %.0f outside -2000 to 6000", y)
	}
	return nil
}

// At returns the instant of step i.
func (s Steps) At(i int) time.Time {
	return s.Start.Add(time.Duration(i) * s.Step)
}

// Geometry is the sun along a series of instants, one value for each step in every column. The columns are there to be read; make a
// Geometry with [Track] or [GeometryOf] only.
type Geometry struct {
	// The unit vector to the sun as seen through the air. Up is the cosine of the apparent zenith angle, negative at night.
	East, North, Up []float64
	Extra           []float64 // the sun's light above the air, facing it [W/m²], at night too
	AirMass         []float64 // relative air mass, 0 while the sun is below the horizon

	zenith []float64 // apparent zenith angle [rad] while the sun is up
	store  []float64 // the memory of all columns
}

// Len returns the number of steps.
func (g *Geometry) Len() int { return len(g.Up) }

// Zenith returns the apparent zenith angle at step i [deg], 0 to 180.
func (g *Geometry) Zenith(i int) float64 {
	return math.Atan2(math.Hypot(g.East[i], g.North[i]), g.Up[i]) * degree
}

// Azimuth returns the sun's azimuth at step i [deg], 0 to 360, clockwise from north; it is 0 where the sun is overhead.
func (g *Geometry) Azimuth(i int) float64 {
	return wrap360(math.Atan2(g.East[i], g.North[i]) * degree)
}

// resize makes room for n steps, in the memory already there if it is enough.
func (g *Geometry) resize(n int) {
	const columns = 6
	if cap(g.store) < columns*n {
		g.store = make([]float64, columns*n)
	}
	s := g.store[:columns*n]
	g.East, g.North, g.Up = s[:n:n], s[n:2*n:2*n], s[2*n:3*n:3*n]
	g.Extra, g.AirMass, g.zenith = s[3*n:4*n:4*n], s[4*n:5*n:5*n], s[5*n:6*n:6*n]
}

// Track returns the sun along a series of instants seen by one observer, with the light above the air as chosen.
//
// It agrees with [At] within 0.0001 degrees, the light above the air and the air mass within 1e-6 of themselves. Each instant's answer
// is the same in every series that holds it. It returns an error for an observer, series or choice outside the ranges of their fields.
//
// Source: [SPA], drawn as a cubic between full computations three days apart; the turning of the Earth, parallax and refraction are
// applied at each step. Air mass [KASTEN-YOUNG].
func Track(o Observer, s Steps, x Extra) (*Geometry, error) {
	g := new(Geometry)
	if err := g.Track(o, s, x); err != nil {
		return nil, err
	}
	return g, nil
}

// The refraction [rad] of air at 1010 hPa and 10 °C by airless elevation [deg], and the low sun's term of the air mass by apparent
// zenith angle [deg]. The tables are within 1e-6 of their functions, of a degree and of the value.
var (
	bendingTable = newTable(func(e float64) float64 {
		return radian * 1.02 / (60 * math.Tan((e+10.3/(e+5.11))*radian))
	}, -0.875, 90.125, 728)
	lowSunTable = newTable(lowSun, 0, 90, 720)
)

var sinLowestRefracted = math.Sin(lowestRefracted * radian)

// Track fills g anew, as [Track] does, in the memory it already has where that is enough. On error g is unchanged.
func (g *Geometry) Track(o Observer, s Steps, x Extra) error {
	if err := o.check(); err != nil {
		return err
	}
	if err := s.check(); err != nil {
		return err
	}
	if err := x.check(); err != nil {
		return err
	}
	g.resize(s.Count)
	if x.Method == Spencer {
		g.spencer(s, x.Constant)
	}
	g.follow(o, s, x)
	return nil
}

// follow fills in the sun, and the light above the air where it goes by distance, one span between nodes after the other.
func (g *Geometry) follow(o Observer, s Steps, x Extra) {
	f := newFrame(o.Place)
	e := ephemeris{deltaT: o.DeltaT}
	air := refractivity(o)
	stepDays := s.Step.Seconds() / 86400
	start := days2000(s.Start)
	sinStep, cosStep := math.Sincos(2 * math.Pi * fraction(stepDays))
	for from := 0; from < s.Count; {
		day := start + float64(from)*stepDays
		index := nodeBefore(day)
		c := e.segment(index)
		u := day/nodeDays - float64(index)
		sin, cos := math.Sincos(2 * math.Pi * fraction(day+f.longitude))
		// The steps of this span, one at least; rounding at its end may move a step across, which harms nothing.
		to := min(from+1+int((1-u)*nodeDays/stepDays), s.Count)
		du := stepDays / nodeDays
		for i := from; i < to; i++ {
			invR := horner(&c[3], u)
			g.East[i], g.North[i], g.Up[i] = f.look(horner(&c[0], u), horner(&c[1], u), horner(&c[2], u), invR, sin, cos)
			if x.Method == Distance {
				g.Extra[i] = x.Constant * invR * invR
			}
			sin, cos = sin*cosStep+cos*sinStep, cos*cosStep-sin*sinStep
			u += du
		}
		g.refract(air, from, to)
		from = to
	}
}

// spencer fills in the light above the air by the civil day.
func (g *Geometry) spencer(s Steps, constant float64) {
	_, offset := s.Start.Zone()
	local := s.Start.UTC().Add(time.Duration(offset) * time.Second)
	for i := 0; i < s.Count; {
		here := local.Add(time.Duration(i) * s.Step)
		midnight := time.Date(here.Year(), here.Month(), here.Day()+1, 0, 0, 0, 0, time.UTC)
		end := min(i+int((midnight.Sub(here)+s.Step-1)/s.Step), s.Count)
		value := SpencerNormal(constant, here.YearDay())
		for ; i < end; i++ {
			g.Extra[i] = value
		}
	}
}

// refract lifts the airless sun of some steps by refraction and fills in zenith angle and air mass while it is up.
func (g *Geometry) refract(air float64, from, to int) {
	up := g.Up[from:to]
	n := len(up)
	east, north, airMass, zenith := g.East[from:to][:n], g.North[from:to][:n], g.AirMass[from:to][:n], g.zenith[from:to][:n]
	for i, u := range up {
		if u < sinLowestRefracted {
			airMass[i], zenith[i] = 0, 0
			continue
		}
		z := math.Acos(min(u, 1))
		bend := air * bendingTable.at(90-z*degree)
		// Turn the vector by the small angle bend towards the zenith; three terms of sine and cosine are exact to 1e-12.
		sin, cos := bend*(1-bend*bend/6), 1-bend*bend*(0.5-bend*bend/24)
		if h := math.Sqrt(east[i]*east[i] + north[i]*north[i]); h > 0 {
			scale := cos - sin*u/h
			east[i] *= scale
			north[i] *= scale
			u = u*cos + h*sin
			up[i] = u
		}
		z -= bend
		if u < 0 {
			airMass[i], zenith[i] = 0, 0
			continue
		}
		airMass[i] = 1 / (u + lowSunTable.at(z*degree))
		zenith[i] = z
	}
}

// Sun is one position for [GeometryOf]: apparent zenith angle [deg, 0 to 180], azimuth [deg, -360 to 360] and the light above the air
// facing the sun [W/m², 1200 to 1500].
type Sun struct {
	Zenith, Azimuth, Extra float64
}

// GeometryOf returns a geometry of given positions, such as those of a file or of [At]. A sun outside the ranges is an error.
// Air mass [KASTEN-YOUNG].
func GeometryOf(suns []Sun) (*Geometry, error) {
	g := new(Geometry)
	g.resize(len(suns))
	for i, s := range suns {
		if err := firstOutside(
			limit{"zenith", s.Zenith, 0, 180, "deg"},
			limit{"azimuth", s.Azimuth, -360, 360, "deg"},
			limit{"light above the air", s.Extra, 1200, 1500, "W/m²"},
		); err != nil {
			return nil, fmt.Errorf("step %d: %w", i, err)
		}
		sin, cos := math.Sincos(s.Zenith * radian)
		sinAzimuth, cosAzimuth := math.Sincos(s.Azimuth * radian)
		g.East[i], g.North[i], g.Up[i] = sin*sinAzimuth, sin*cosAzimuth, cos
		g.Extra[i] = s.Extra
		if s.Zenith <= 90 {
			g.AirMass[i], g.zenith[i] = AirMass(s.Zenith), s.Zenith*radian
		}
	}
	return g, nil
}

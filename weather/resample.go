package weather

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// Columns is a run of whole days of weather at a fixed step in local standard time. All slices have one value for each step; the
// k-th stands for the step that starts k steps after Start. Irradiances are means over the step; temperature and wind are the values
// at its middle.
type Columns struct {
	Start   time.Time // begin of the first step, midnight in the local standard zone
	StepMin int       // minutes
	Days    int
	GHI     []float64 // [W/m²]
	DNI     []float64 // [W/m²]
	DHI     []float64 // [W/m²]
	AirC    []float64 // [°C]
	WindMS  []float64 // [m/s]

	leapDay bool // the days are a year with 29 February
	year    bool // the days are a whole year from 1 January
}

// Steps returns the number of steps.
func (c Columns) Steps() int { return len(c.GHI) }

// Columns lays the year out at a step of 1 to 60 minutes that divides the day, in the winter clock of the place (LocalOffsetH).
//
// The light of each record is kept to the last bit of energy inside the record's interval, which is the step around its SunTime, and
// is spread within it as the light above the air falls: global and diffuse in proportion to the cosine of the sun's zenith, direct
// evenly over the time that the sun is up, so that global = direct·cos z + diffuse holds at every step where it held for the record.
// Light that the geometry cannot place (a record of the dark with light in it, or a sunrise that would need a beam above the sun's
// own) is spread evenly. Clouds within a record are not invented. Temperature and wind run straight between the middles of records.
// The year's end joins its beginning.
//
// Accuracy: at the step of the file and its clock, the records themselves. Ours; tested by the identity of energies.
func (y Year) Columns(stepMin int) (Columns, error) { return y.ColumnsAt(stepMin, y.LocalOffsetH) }

// ColumnsAt is Columns for a clock a given number of hours from UTC [h, east positive, -14 to 14].
func (y Year) ColumnsAt(stepMin int, utcOffsetH float64) (Columns, error) {
	if len(y.Records) == 0 {
		return Columns{}, errors.New("weather: a year without records")
	}
	if stepMin < 1 || stepMin > 60 || 24*60%stepMin != 0 {
		return Columns{}, fmt.Errorf("weather: step %d min is not one of 1 to 60 that divides a day", stepMin)
	}
	if !(utcOffsetH >= -14 && utcOffsetH <= 14) {
		return Columns{}, fmt.Errorf("weather: clock %v h from UTC outside -14 to 14", utcOffsetH)
	}
	days := len(y.Records) * int(y.Step.Minutes()) / (24 * 60)
	zone := time.FixedZone(fmt.Sprintf("UTC%+g", utcOffsetH), int(math.Round(utcOffsetH*3600)))
	n := days * 24 * 60 / stepMin
	c := Columns{
		Start:   time.Date(y.Records[0].Start.Year(), 1, 1, 0, 0, 0, 0, zone),
		StepMin: stepMin, Days: days, leapDay: y.LeapDay, year: true,
		GHI: make([]float64, n), DNI: make([]float64, n), DHI: make([]float64, n), AirC: make([]float64, n), WindMS: make([]float64, n),
	}
	clock := y.middles(c.Start)
	for i := range y.Records {
		if err := c.spread(&y.Records[i], y, clock[i]); err != nil {
			return Columns{}, err
		}
	}
	c.straight(c.AirC, y, clock, func(r *Record) float64 { return r.AirC })
	c.straight(c.WindMS, y, clock, func(r *Record) float64 { return r.WindMS })
	return c, nil
}

// middles returns the minutes from a start to the middle of each record's interval, counted in steps so that a year that leaves out
// 29 February runs on without a gap.
func (y Year) middles(start time.Time) []float64 {
	out := make([]float64, len(y.Records))
	first := y.Records[0].SunTime.Sub(start).Minutes()
	step := y.Step.Minutes()
	for i := range out {
		out[i] = first + float64(i)*step
	}
	return out
}

// spread puts the light of one record, whose interval is centred some minutes after the start, into the steps it touches.
func (c *Columns) spread(r *Record, y Year, middle float64) error {
	if r.GHI == 0 && r.DNI == 0 && r.DHI == 0 {
		return nil
	}
	p, err := pathAt(y.Site, r.SunTime)
	if err != nil {
		return err
	}
	half := y.Step.Minutes() / 2
	s := newShape(p, half)
	step, n := float64(c.StepMin), c.Steps()
	first := int(math.Floor((middle - half) / step))
	before := -half
	for k := first; before < half; k++ {
		end := min(float64(k+1)*step-middle, half)
		if end <= before {
			continue
		}
		at := ((k % n) + n) % n
		part := (end - before) / step
		light, up := s.parts(before, end)
		c.GHI[at] += part * s.level(r.GHI, light)
		c.DHI[at] += part * s.level(r.DHI, light)
		c.DNI[at] += part * s.beam(r.DNI, up)
		before = end
	}
	return nil
}

// shape is how the light of one interval is spread within it.
type shape struct {
	p         path
	half      float64 // minutes from the middle to either end
	light, up float64 // over the whole interval [rad]
	peak      float64 // greatest cosine of the zenith met
}

func newShape(p path, half float64) shape {
	s := shape{p: p, half: half, light: p.light(half) - p.light(-half), up: p.up(half) - p.up(-half)}
	s.peak = max(p.cosZenith(-half), p.cosZenith(half))
	const turn = 2 * math.Pi
	if math.Floor((p.h+half*radPerMin)/turn) > math.Floor((p.h-half*radPerMin)/turn) {
		s.peak = p.a + p.b // noon lies within
	}
	// Differences of large sums leave dust of either sign in the dark.
	if s.peak <= 0 || s.light < dust || s.up < dust {
		s.light, s.up = 0, 0
	}
	return s
}

// dust is far below the light of a second of sunrise [rad].
const dust = 1e-9

// aboveAir is the irradiance that nothing on the ground exceeds for long [W/m²]: the solar constant at the nearest distance.
const aboveAir = 1415

// whole is the length of the interval as a turn of the hour angle [rad].
func (s shape) whole() float64 { return 2 * s.half * radPerMin }

// parts returns, for a part of the interval, the mean light on level ground and the mean of the sun's being up, each over its mean
// over the whole interval; 1 where the interval has none.
func (s shape) parts(from, to float64) (light, up float64) {
	share := (to - from) / (2 * s.half)
	light, up = 1, 1
	if s.light > 0 {
		light = (s.p.light(to) - s.p.light(from)) / s.light / share
	}
	if s.up > 0 {
		up = (s.p.up(to) - s.p.up(from)) / s.up / share
	}
	return light, up
}

// level returns the mean over a part of the interval of a light on level ground whose mean over the whole interval is given.
func (s shape) level(mean, part float64) float64 {
	if mean == 0 || s.light <= 0 {
		return mean
	}
	a := shaped(mean, mean*s.peak*s.whole()/s.light, aboveAir*s.peak)
	return mean * (a*part + 1 - a)
}

// beam is level for the direct light.
func (s shape) beam(mean, part float64) float64 {
	if mean == 0 || s.up <= 0 {
		return mean
	}
	a := shaped(mean, mean*s.whole()/s.up, aboveAir)
	return mean * (a*part + 1 - a)
}

// shaped returns the share of the light to be shaped so that its top stays at or below a limit; the rest is spread evenly.
func shaped(mean, top, limit float64) float64 {
	if top <= limit {
		return 1
	}
	if mean >= limit {
		return 0
	}
	return (limit - mean) / (top - mean)
}

// straight fills a column with values at the middle of each step, on straight lines between the middles of records.
func (c *Columns) straight(out []float64, y Year, middles []float64, value func(*Record) float64) {
	n := len(y.Records)
	step := y.Step.Minutes()
	for k := range out {
		at := (float64(k)+0.5)*float64(c.StepMin) - middles[0]
		i := int(math.Floor(at / step))
		f := at/step - float64(i)
		left, right := value(&y.Records[((i%n)+n)%n]), value(&y.Records[(((i+1)%n)+n)%n])
		if f == 0 {
			out[k] = left
			continue
		}
		out[k] = left + (right-left)*f
	}
}

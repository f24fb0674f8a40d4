package climate

import (
	"fmt"
	"math"
)

// Params are what a [Generator] is made of.
type Params struct {
	Climate Climate // as [At] gives it; its monthly means may be replaced by better ones

	Seed uint64 // the same seed gives the same weather on every platform

	// Doubt is how much of the climate's own uncertainty the members show, 0 to 2: with 1 their means differ from each other as LightSpread,
	// MonthSpread and TemperatureSpread say, with 0 all have the climate's mean.
	Doubt float64
}

// Generator makes up the days of one place. It is safe for use by many goroutines.
type Generator struct {
	p          Params
	cell       uint64
	days       *days
	persisting chain       // of clearness
	lasting    chain       // of temperature
	spread     [12]float64 // of the day's mean temperature [K]
	swing      [12]float64 // mean daily range of temperature [K]
	follows    [12]float64 // correlation of the day's temperature with its clearness
}

// Persistence of the weather from one day to the next, in normal scores.
const (
	// clearnessPersistence: [GRAHAM] give 0.29 for clearness itself, measured years 0.28 raw and about 0.33 corrected; 0.40 carries the
	// longer dark spells of measured years, see the counts in the tests.
	clearnessPersistence = 0.40

	temperaturePersistence = 0.75 // ours, fitted to 1,751 public weather files
)

// monthSpread is the standard deviation of a month's mean clearness from year to year, beyond what its days bring, as a share. Measured
// years show 2.7 %; 4 % with the persistence above gives the right count of dark spells and of dark months.
const monthSpread = 0.04

// placeCell is the size of a cell of shared weather [deg]: places in one cell live through the same days, places in different cells
// through independent ones.
const placeCell = 3

// New returns the generator of a climate, or an error for a climate outside the ranges of [At] or a doubt outside 0 to 2.
func New(p Params) (*Generator, error) {
	c := &p.Climate
	if !(p.Doubt >= 0 && p.Doubt <= 2) {
		return nil, fmt.Errorf("climate: doubt %v outside 0 to 2", p.Doubt)
	}
	if err := checkPlace(c.Latitude, c.Longitude, &c.Elevation); err != nil {
		return nil, err
	}
	for m := range 12 {
		if !(c.Clearness[m] >= leastClearness && c.Clearness[m] <= greatestClearness) {
			return nil, fmt.Errorf("climate: clearness %v of month %d outside %v to %v", c.Clearness[m], m+1, leastClearness, greatestClearness)
		}
		if !(c.Temperature[m] >= -80 && c.Temperature[m] <= 60) {
			return nil, fmt.Errorf("climate: temperature %v °C of month %d outside -80 to 60", c.Temperature[m], m+1)
		}
	}
	for _, s := range []float64{c.LightSpread, c.MonthSpread, c.TemperatureSpread / 20} {
		if !(s >= 0 && s <= 0.5) {
			return nil, fmt.Errorf("climate: spreads %v, %v and %v K outside 0 to 0.5, 0.5 and 10 K", c.LightSpread, c.MonthSpread, c.TemperatureSpread)
		}
	}
	g := &Generator{p: p, days: newDays(), persisting: newChain(clearnessPersistence), lasting: newChain(temperaturePersistence)}
	row := math.Floor((c.Latitude + 90) / placeCell)
	column := math.Floor((c.Longitude + 180) / placeCell)
	g.cell = uint64(row)*1000 + uint64(column)
	g.fillSwing()
	return g, nil
}

// fillSwing fills in how temperature moves within a month and a day. Ours, each fitted to the monthly values of 1,751 public weather files:
// the spread within 1.2 K, the daily range within 2.1 K (United States). The correlation runs as a cosine from the coldest to the warmest
// month.
func (g *Generator) fillSwing() {
	c := &g.p.Climate
	mean, coldest, warmest := c.year()
	a := warmest - coldest
	for m := range 12 {
		x := 0.0
		if a > 1 {
			x = (c.Temperature[m] - mean) / a
		}
		g.spread[m] = max(0.88+0.133*a-0.114*x*a, 0.5)
		k := c.Clearness[m]
		g.swing[m] = max(4.1-5.3*k+25.2*k*k+0.108*a+1.21*c.Elevation/1000, 2)
		g.follows[m] = min(max(0.08+0.40*x, -0.12), 0.28)
	}
}

// Day is one made-up day.
type Day struct {
	Number int // the date, see [DayNumber]

	Clearness float64 // light on the horizontal over that above the air, 0.05 to 0.81

	Low, High float64 // of the air, near sunrise and in the afternoon [°C]

	HighBefore, LowAfter float64 // of the day before and the day after [°C]

	noise uint64
}

// Mean returns the day's mean temperature [°C].
func (d Day) Mean() float64 { return (d.Low + d.High) / 2 }

const (
	most = 64 // longest chain
	run  = 32 // days made at a time
)

// Days fills dst with consecutive days of a member, from the date first on. A member is one possible course of the weather; the days of a
// member at a date are the same in every call, and members, and places in different cells, are independent of each other. It allocates
// nothing and takes some 0.4 microseconds a day.
func (g *Generator) Days(member int, first int, dst []Day) {
	for len(dst) > 0 {
		n := min(len(dst), run)
		g.run(uint64(member), first, dst[:n])
		dst = dst[n:]
		first += n
	}
}

// run makes up to 32 days.
func (g *Generator) run(member uint64, first int, dst []Day) {
	var light, warmth, width [most + run + 2]float64
	n := len(dst) + 2 // one day before and one after, for the temperature of the nights
	back := max(len(g.persisting.weights), len(g.lasting.weights))
	base := key(g.p.Seed, member, g.cell)
	forLight, forWarmth, forWidth := key(base, forClearness), key(base, forTemperature), key(base, forRange)
	for i := range back + n {
		day := uint64(int64(first - 1 - back + i))
		light[i] = normal(mix(forLight + day*golden))
		warmth[i] = normal(mix(forWarmth + day*golden))
		width[i] = normal(mix(forWidth + day*golden))
	}
	var year, month int
	var lows, highs [run + 2]float64
	var factor, shift float64
	year = math.MinInt
	for i := range n {
		y, m, share := civil(first - 1 + i)
		if y != year || m != month {
			year, month = y, m
			factor, shift = g.factor(base, y, m), g.shift(base)
		}
		score := g.persisting.at(light[:], back+i)
		c := &g.p.Climate
		rho := g.follows[m]
		anomaly := g.spread[m] * (rho*score + math.Sqrt(1-rho*rho)*g.lasting.at(warmth[:], back+i))
		mean := through(&c.Temperature, m, share) + shift + anomaly
		half := g.swing[m] * max(1+rangeSpread*(0.5*score+math.Sqrt(0.75)*width[back+i]), 0.2) / 2
		// Normal tails run past what a place has ever seen: hold them to its records, give or take the kelvin by which records are broken.
		highs[i] = min(mean+half, c.RecordHigh+1)
		lows[i] = min(max(mean-half, c.RecordLow-1), highs[i])
		if i == 0 || i == n-1 {
			continue
		}
		d := &dst[i-1]
		d.Number = first - 1 + i
		d.Clearness = g.days.at(min(max(through(&c.Clearness, m, share)*factor, leastClearness), greatestClearness), score)
		d.noise = key(base, forHours, uint64(int64(d.Number)))
	}
	for i := range dst {
		dst[i].Low, dst[i].High = lows[i+1], highs[i+1]
		dst[i].HighBefore, dst[i].LowAfter = highs[i], lows[i+2]
	}
}

// rangeSpread is the standard deviation of a day's range of temperature, as a share of the mean range: 0.32 in the mean over 22 public
// weather files, 0.17 to 0.52; doc/climate.md. Half of it goes with the clearness, a correlation of 0.5 measured on the same files.
const rangeSpread = 0.32

// factor is what multiplies the mean clearness of a month of one year in one member.
func (g *Generator) factor(base uint64, year, month int) float64 {
	c := &g.p.Climate
	f := 1 + monthSpread*held(key(base, forMonth, uint64(int64(year)), uint64(month)))
	if g.p.Doubt > 0 {
		f *= 1 + g.p.Doubt*c.LightSpread*held(key(base, forLevel))
		f *= 1 + g.p.Doubt*c.MonthSpread*held(key(base, forMonthLevel, uint64(month)))
	}
	return max(f, 0.5)
}

// shift is what a member's temperature is off by, all year [K].
func (g *Generator) shift(base uint64) float64 {
	if g.p.Doubt == 0 {
		return 0
	}
	return g.p.Doubt * g.p.Climate.TemperatureSpread * held(key(base, forTemperatureLevel))
}

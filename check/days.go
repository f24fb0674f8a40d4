package check

import (
	"math"

	"campwright/climate"
	"campwright/quantity"
	"campwright/sun"
	"campwright/system"
)

// Day is an ordinary day of one month at one site.
type Day struct {
	Site   *system.Site
	Month  int // January is 0
	Budget system.Budget
	SunWh  float64 // light on the arrays' planes, weighted by their power [Wh/m² a day]; NaN where no climate is known
}

// Days returns an ordinary day for every month of every site: what the rig uses at the month's mean temperature, and the light on its arrays.
// It is empty where the system cannot be made.
func (c Case) Days() []Day {
	if c.Sys == nil {
		return nil
	}
	var list []Day
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.HasClimate() {
			continue
		}
		for _, m := range s.Months {
			list = append(list, Day{Site: s, Month: m, Budget: c.Sys.Budget(s.Climate.Temperature[m], c.BankV(), s.Lived), SunWh: c.sunWh(s, m)})
		}
	}
	return list
}

// DayOf returns an ordinary day of a site in its coldest month; false where none is known.
func (c Case) DayOf(s *system.Site) (Day, bool) {
	best, found := Day{}, false
	for _, d := range c.Days() {
		if d.Site == s && (!found || d.Budget.AirC < best.Budget.AirC) {
			best, found = d, true
		}
	}
	return best, found
}

// Darkest returns the day of a site with the least light; false where none is known.
func (c Case) Darkest(s *system.Site) (Day, bool) {
	best, found := Day{}, false
	for _, d := range c.Days() {
		if d.Site == s && !math.IsNaN(d.SunWh) && (!found || d.SunWh < best.SunWh) {
			best, found = d, true
		}
	}
	return best, found
}

// plainDayC is the mean air of a day where no site tells one [°C].
const plainDayC = 15

// AnyDay returns the budget by which shares of a day are judged: that of the first stop without a hookup, else of any site that is lived in,
// else a day of 15 °C; false where the system cannot be made.
func (c Case) AnyDay() (budget system.Budget, where string, ok bool) {
	if c.Sys == nil {
		return system.Budget{}, "", false
	}
	for _, plugged := range []bool{false, true} {
		for i := range c.Sites {
			if s := &c.Sites[i]; s.Lived && s.HasClimate() && s.Plugged() == plugged {
				if d, ok := c.DayOf(s); ok {
					return d.Budget, "a day " + At(s), true
				}
			}
		}
	}
	return c.Sys.Budget(plainDayC, c.BankV(), true), "a day of " + c.Say(plainDayC, quantity.Temperature), true
}

// Months by name, for people.
var Months = [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// albedo of the ground around [1]; common practice, no source.
const albedo = 0.2

// sunWh returns the month's mean light on the planes of the arrays, weighted by their power, through the trees of the site [Wh/m² a day].
func (c Case) sunWh(s *system.Site, month int) float64 {
	flat := 1000 * s.Climate.Horizontal[month]
	sum, watts := 0.0, 0.0
	for i := range c.Sys.Arrays {
		a := &c.Sys.Arrays[i]
		light := flat
		if a.Tilt > 0 && math.IsNaN(a.Faces) {
			if t, err := (sun.MonthlyTilt{Latitude: s.Climate.Latitude, DayOfYear: sun.MeanDays[month], Tilt: a.Tilt, Albedo: albedo, Global: flat, Constant: sun.SolarConstantGueymard}).Tilted(); err == nil {
				light = t.Total
			}
		}
		sum, watts = sum+light*a.RatedW, watts+a.RatedW
	}
	if watts == 0 {
		return flat * throughTrees(s.Sky)
	}
	return sum / watts * throughTrees(s.Sky)
}

// throughTrees returns the share of the light that the trees of a site let through, half of it taken as beam; none under a roof.
func throughTrees(sky string) float64 {
	if sky == "roofed" {
		return 0
	}
	shade, err := climate.ShadeNamed(sky)
	if err != nil {
		return 1
	}
	beam, diffuse := shade.At(0)
	return (beam + diffuse) / 2
}

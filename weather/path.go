package weather

import (
	"fmt"
	"math"
	"time"

	"campwright/sun"
)

// path is the sun's way over the sky during one record: the cosine of its zenith is a + b·cos(h), with the hour angle h running
// 15 degrees an hour. The declination is held at its value for the record's instant; it moves 0.017 degrees in an hour at most.
type path struct {
	a, b float64 // sin(latitude)·sin(declination) and cos(latitude)·cos(declination)
	h    float64 // hour angle at the instant for the sun [rad], 0 at solar noon
	rise float64 // half the day's arc [rad]: the sun is up while |h| < rise; 0 in polar night, π when it stays up
	au   float64 // distance of the sun [au]
}

// radPerMin is the turn of the hour angle in a minute.
const radPerMin = 2 * math.Pi / (24 * 60)

// pathAt returns the sun's way around an instant. Parallax (0.0024 degrees) and refraction are left out: it shapes the light within an
// interval and does not judge it. [SPA] gives declination and equation of time; the rest is spherical trigonometry.
func pathAt(s Site, at time.Time) (path, error) {
	pos, err := sun.At(at, sun.Place{Latitude: s.Latitude, Longitude: s.Longitude, Elevation: max(s.ElevationM, -450)}.Observer())
	if err != nil {
		return path{}, fmt.Errorf("weather: %w", err)
	}
	sinLat, cosLat := math.Sincos(s.Latitude * math.Pi / 180)
	sinDec, cosDec := math.Sincos(pos.Declination * math.Pi / 180)
	u := at.UTC()
	minutes := float64(u.Hour()*60+u.Minute()) + float64(u.Second())/60 + float64(u.Nanosecond())/6e10
	p := path{a: sinLat * sinDec, b: max(cosLat*cosDec, 1e-12), au: pos.Distance}
	p.h = math.Remainder((minutes+4*s.Longitude+pos.EquationOfTime-12*60)*radPerMin, 2*math.Pi)
	p.rise = math.Acos(min(max(-p.a/p.b, -1), 1))
	return p, nil
}

// cosZenith returns the cosine of the sun's zenith some minutes after the record's instant; negative below the horizon.
func (p path) cosZenith(minutes float64) float64 {
	return p.a + p.b*math.Cos(p.h+minutes*radPerMin)
}

// light returns the integral of the positive cosine of the zenith from the last midnight before the record's instant to some minutes
// after that instant [rad]; the differences of two such values count.
func (p path) light(minutes float64) float64 {
	turns, h := p.fold(minutes)
	whole := 2 * (p.a*p.rise + p.b*math.Sin(p.rise))
	h = min(max(h, -p.rise), p.rise)
	return turns*whole + p.a*(h+p.rise) + p.b*(math.Sin(h)+math.Sin(p.rise))
}

// up is as light, for the time the sun is above the horizon [rad].
func (p path) up(minutes float64) float64 {
	turns, h := p.fold(minutes)
	return turns*2*p.rise + min(max(h, -p.rise), p.rise) + p.rise
}

// fold splits the hour angle some minutes after the record's instant into whole turns and the rest between -π and π.
func (p path) fold(minutes float64) (turns, h float64) {
	h = p.h + minutes*radPerMin
	turns = math.Floor((h + math.Pi) / (2 * math.Pi))
	return turns, h - turns*2*math.Pi
}

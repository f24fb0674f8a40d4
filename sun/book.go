package sun

import "math"

// These are the hand formulas of the solar engineer, for a whole day or month and in solar time. They are within a degree of
// [At], mostly; monthly methods and published examples are built on them.

// DeclinationCooper returns the sun's declination [deg] on a day of the year, 1 to 366. Accuracy 1.2 degrees, worst near the
// equinoxes. Source: [COOPER]; [DUFFIE-BECKMAN] eq. 1.6.1a.
func DeclinationCooper(dayOfYear int) float64 {
	return 23.45 * math.Sin(2*math.Pi*float64(284+dayOfYear)/365)
}

// DeclinationSpencer returns the sun's declination [deg] on a day of the year, 1 to 366. Accuracy 0.3 degrees over the leap year's
// cycle. Source: [SPENCER].
func DeclinationSpencer(dayOfYear int) float64 {
	b := dayAngle(dayOfYear)
	return degree * (0.006918 - 0.399912*math.Cos(b) + 0.070257*math.Sin(b) - 0.006758*math.Cos(2*b) + 0.000907*math.Sin(2*b) -
		0.002697*math.Cos(3*b) + 0.00148*math.Sin(3*b))
}

// EquationOfTimeSpencer returns apparent minus mean solar time [min] on a day of the year, 1 to 366. Accuracy 0.7 min.
// Source: [SPENCER]. [DUFFIE-BECKMAN] eq. 1.5.3 prints it with two digits changed, 0.03 min apart.
func EquationOfTimeSpencer(dayOfYear int) float64 {
	b := dayAngle(dayOfYear)
	return 1440 / (2 * math.Pi) * (0.0000075 + 0.001868*math.Cos(b) - 0.032077*math.Sin(b) - 0.014615*math.Cos(2*b) - 0.040849*math.Sin(2*b))
}

// Hour is a latitude [deg], the sun's declination [deg] and an hour angle [deg, negative before noon, 15 to the hour].
type Hour struct {
	Latitude, Declination, HourAngle float64
}

// Sun returns the airless zenith angle [deg], 0 to 180, and azimuth [deg], 0 to 360. Exact for the angles given.
// Source: [DUFFIE-BECKMAN] eq. 1.6.5 and 1.6.6.
func (h Hour) Sun() (zenith, azimuth float64) {
	sinLat, cosLat := math.Sincos(h.Latitude * radian)
	sinDec, cosDec := math.Sincos(h.Declination * radian)
	sinHour, cosHour := math.Sincos(h.HourAngle * radian)
	east := -cosDec * sinHour
	north := sinDec*cosLat - cosDec*sinLat*cosHour
	up := sinLat*sinDec + cosLat*cosDec*cosHour
	return math.Atan2(math.Hypot(east, north), up) * degree, wrap360(math.Atan2(east, north) * degree)
}

// BeamRatio returns the beam on a plane over the beam on the horizontal at this hour, zero with the sun behind the plane or down.
// Source: [DUFFIE-BECKMAN] eq. 1.8.1.
func (h Hour) BeamRatio(p Plane) float64 {
	zenith, azimuth := h.Sun()
	flat := math.Cos(zenith * radian)
	if flat <= 0 {
		return 0
	}
	return max(p.CosIncidence(zenith, azimuth), 0) / flat
}

// ProfileAngle returns the sun's elevation as seen in the vertical plane that faces an azimuth [deg], which is what a row, a ledge or
// an overhang shades by; 0 to 180, above 90 with the sun behind. The sun is given by elevation [deg, above 0] and azimuth [deg].
// Source: [DUFFIE-BECKMAN] eq. 1.6.12.
func ProfileAngle(elevation, azimuth, facing float64) float64 {
	sin, cos := math.Sincos(elevation * radian)
	return math.Atan2(sin, cos*math.Cos((azimuth-facing)*radian)) * degree
}

// SunsetHourAngle returns the hour angle of sunset [deg], 0 (sun never up) to 180 (never down), without refraction, for a latitude
// and declination [deg]. Source: [DUFFIE-BECKMAN] eq. 1.6.10.
func SunsetHourAngle(latitude, declination float64) float64 {
	c := -math.Tan(latitude*radian) * math.Tan(declination*radian)
	return math.Acos(min(max(c, -1), 1)) * degree
}

// Day is a latitude [deg], a day of the year, 1 to 366, and a solar constant [W/m²].
type Day struct {
	Latitude  float64
	DayOfYear int
	Constant  float64
}

// normal is the light above the air facing the sun [W/m²], the short formula of the book: [DUFFIE-BECKMAN] eq. 1.4.1a.
func (d Day) normal() float64 {
	return d.Constant * (1 + 0.033*math.Cos(2*math.Pi*float64(d.DayOfYear)/365))
}

// Above returns the day's light above the air on the horizontal [Wh/m²], zero in the polar night, with the declination of
// [DeclinationCooper]. Source: [DUFFIE-BECKMAN] eq. 1.10.3.
func (d Day) Above() float64 {
	declination := DeclinationCooper(d.DayOfYear)
	sunset := SunsetHourAngle(d.Latitude, declination)
	return d.above(declination, -sunset, sunset)
}

// AboveBetween returns the light above the air on the horizontal between two hour angles [deg, -180 to 180], [Wh/m²]; hours of night
// do not count. Source: [DUFFIE-BECKMAN] eq. 1.10.4.
func (d Day) AboveBetween(from, to float64) float64 {
	declination := DeclinationCooper(d.DayOfYear)
	sunset := SunsetHourAngle(d.Latitude, declination)
	return d.above(declination, min(max(from, -sunset), sunset), min(max(to, -sunset), sunset))
}

func (d Day) above(declination, from, to float64) float64 {
	sinLat, cosLat := math.Sincos(d.Latitude * radian)
	sinDec, cosDec := math.Sincos(declination * radian)
	w1, w2 := from*radian, to*radian
	return 12 / math.Pi * d.normal() * (cosLat*cosDec*(math.Sin(w2)-math.Sin(w1)) + (w2-w1)*sinLat*sinDec)
}

// HourlyShare returns the share of a day's global light in the hour around an hour angle [deg], for the day's hour angle of sunset
// [deg, above 0 to 180]; zero by night. Over the hours of a day it adds up to 1 within 3 %: scale by the sum where the day's total
// must stand. Source: [COLLARES-PEREIRA-RABL]; [DUFFIE-BECKMAN] eq. 2.13.1 and 2.13.2.
func HourlyShare(hourAngle, sunset float64) float64 {
	sin := math.Sin((sunset - 60) * radian)
	a, b := 0.409+0.5016*sin, 0.6609-0.4767*sin
	return max(HourlyDiffuseShare(hourAngle, sunset)*(a+b*math.Cos(hourAngle*radian)), 0)
}

// HourlyDiffuseShare returns the share of a day's diffuse light in the hour around an hour angle, as [HourlyShare]: it has the shape
// of the light above the air. Source: [LIU-JORDAN]; [DUFFIE-BECKMAN] eq. 2.13.4.
func HourlyDiffuseShare(hourAngle, sunset float64) float64 {
	if !(sunset > 0) || math.Abs(hourAngle) >= sunset {
		return 0
	}
	sin, cos := math.Sincos(sunset * radian)
	return math.Pi / 24 * (math.Cos(hourAngle*radian) - cos) / (sin - sunset*radian*cos)
}

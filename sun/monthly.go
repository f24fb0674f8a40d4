package sun

import "math"

// MonthlyTilt is a month's mean day at a latitude, on a plane that faces the equator.
type MonthlyTilt struct {
	Latitude  float64 // [deg], -90 to 90
	DayOfYear int     // the month's mean day, one of [MeanDays] as a rule
	Tilt      float64 // towards the equator [deg], 0 to 90
	Albedo    float64 // 0 to 1
	Global    float64 // the month's mean daily global light on the horizontal [Wh/m²], zero or more
	Constant  float64 // solar constant [W/m²]
}

// MeanDays are the days of the year whose light above the air is nearest the mean of their month: [DUFFIE-BECKMAN] table 1.6.1.
var MeanDays = [12]int{17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344}

// MonthlyTilted is the result of [MonthlyTilt.Tilted].
type MonthlyTilted struct {
	Above     float64 // light above the air on the horizontal [Wh/m²]
	Clearness float64 // Global over Above
	Diffuse   float64 // diffuse share of Global
	BeamRatio float64 // beam on the plane over beam on the horizontal
	Total     float64 // on the plane [Wh/m²]
}

// Tilted returns the mean daily light on the plane: Erbs's monthly diffuse share, Klein's beam ratio, and a uniform sky. A month
// without sun above the air gives zeros. A value outside its range is an error.
//
// Accuracy: some 3 % of the month's light for a plane facing the equator, low for steep planes in winter.
// Source: [DUFFIE-BECKMAN] eq. 2.19.1 to 2.19.3; [ERBS]; [KLEIN-1977]; [LIU-JORDAN].
func (m MonthlyTilt) Tilted() (MonthlyTilted, error) {
	if err := firstOutside(
		limit{"latitude", m.Latitude, -90, 90, "deg"},
		limit{"day of the year", float64(m.DayOfYear), 1, 366, ""},
		limit{"tilt", m.Tilt, 0, 90, "deg"},
		limit{"albedo", m.Albedo, 0, 1, ""},
		limit{"daily light", m.Global, 0, 15000, "Wh/m²"},
		limit{"solar constant", m.Constant, 1300, 1400, "W/m²"},
	); err != nil {
		return MonthlyTilted{}, err
	}
	declination := DeclinationCooper(m.DayOfYear)
	sunset := SunsetHourAngle(m.Latitude, declination)
	above := Day{m.Latitude, m.DayOfYear, m.Constant}.Above()
	if above <= 0 {
		return MonthlyTilted{}, nil
	}
	r := MonthlyTilted{Above: above, Clearness: m.Global / above}
	r.Diffuse = ErbsMonthly(r.Clearness, sunset)
	r.BeamRatio = kleinRatio(m.Latitude, declination, m.Tilt)
	cosTilt := math.Cos(m.Tilt * radian)
	// [DUFFIE-BECKMAN] eq. 2.19.1.
	r.Total = m.Global * ((1-r.Diffuse)*r.BeamRatio + r.Diffuse*(1+cosTilt)/2 + m.Albedo*(1-cosTilt)/2)
	return r, nil
}

// ErbsMonthly returns the diffuse share of a month's mean daily global light for its clearness index and the mean day's hour angle of
// sunset [deg]. The index is held within 0.3 to 0.8, where the correlation was made. Source: [ERBS]; [DUFFIE-BECKMAN] eq. 2.12.1.
func ErbsMonthly(clearness, sunset float64) float64 {
	k := min(max(clearness, 0.3), 0.8)
	if sunset <= 81.4 {
		return 1.391 + k*(-3.560+k*(4.189-k*2.137))
	}
	return 1.311 + k*(-3.022+k*(3.427-k*1.821))
}

// kleinRatio is the beam on a plane facing the equator over that on the horizontal, over the day, [DUFFIE-BECKMAN] eq. 2.19.3. The
// plane sees the sun as the horizontal does at a latitude nearer the equator by the tilt.
func kleinRatio(latitude, declination, tilt float64) float64 {
	nearer := latitude - math.Copysign(tilt, latitude)
	sunset := SunsetHourAngle(latitude, declination)
	onPlane := min(sunset, SunsetHourAngle(nearer, declination))
	return max(dayIntegral(nearer, declination, onPlane), 0) / dayIntegral(latitude, declination, sunset)
}

// dayIntegral is the integral of the cosine of the zenith over the hour angle up to sunset [deg], [rad].
func dayIntegral(latitude, declination, sunset float64) float64 {
	sinLat, cosLat := math.Sincos(latitude * radian)
	sinDec, cosDec := math.Sincos(declination * radian)
	return cosLat*cosDec*math.Sin(sunset*radian) + sunset*radian*sinLat*sinDec
}

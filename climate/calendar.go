package climate

import "time"

// DayNumber returns the civil day of an instant in its own zone, as days since 1 January 1970. All dates of this package are such
// numbers: a date has no zone.
func DayNumber(t time.Time) int {
	return Date(t.Year(), t.Month(), t.Day())
}

// Date returns the number of a civil day. Months and days outside their ranges run on, as in time.Date.
func Date(year int, month time.Month, day int) int {
	return int(floorDiv(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix(), 86400))
}

// civil returns year, month from 0 and the place within the month, from 0 to 1, of the middle of a day.
func civil(day int) (year, month int, share float64) {
	t := time.Unix(int64(day)*86400, 0).UTC()
	y, m, d := t.Date()
	length := time.Date(y, m+1, 0, 0, 0, 0, 0, time.UTC).Day()
	return y, int(m) - 1, (float64(d) - 0.5) / float64(length)
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// through draws a smooth curve through twelve monthly means and returns its value at a place within a month, 0 to 1. Each month's
// piece is a parabola that keeps the month's mean and meets its neighbours at the mean of both. Ours: a check integrates it.
func through(months *[12]float64, month int, share float64) float64 {
	k := months[month]
	a := (months[(month+11)%12] + k) / 2
	b := (k + months[(month+1)%12]) / 2
	bend := 6 * (k - (a+b)/2)
	return a + (b-a)*share + bend*share*(1-share)
}

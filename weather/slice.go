package weather

import (
	"errors"
	"fmt"
	"time"
)

// maxSliceDays bounds a slice: ten years of days.
const maxSliceDays = 3660

// Slice returns the weather of a run of days from a calendar date, cut from a whole year. Only the year, month and day of from count;
// the columns returned start at that date's midnight in the zone of c. Past 31 December it goes on with 1 January. Days go by month
// and day: a 29 February that the year does not hold repeats its 28th, and one that the asked calendar does not have is skipped.
//
//	days   1 to 3660
//
// It returns an error for columns that are not a whole year, as a slice is not.
func (c Columns) Slice(from time.Time, days int) (Columns, error) {
	if !c.year || c.StepMin <= 0 {
		return Columns{}, errors.New("weather: only columns of a whole year can be sliced")
	}
	if days < 1 || days > maxSliceDays {
		return Columns{}, fmt.Errorf("weather: %d days outside 1 to %d", days, maxSliceDays)
	}
	perDay := 24 * 60 / c.StepMin
	out := Columns{Start: time.Date(from.Year(), from.Month(), from.Day(), 0, 0, 0, 0, c.Start.Location()), StepMin: c.StepMin, Days: days}
	cut := func(dst *[]float64, src []float64, at int) { *dst = append(*dst, src[at:at+perDay]...) }
	for i := range days {
		date := out.Start.AddDate(0, 0, i)
		month, day := int(date.Month()), date.Day()
		if month == 2 && day == 29 && !c.leapDay {
			day = 28
		}
		at := dayOfYear(month, day, c.leapDay) * perDay
		cut(&out.GHI, c.GHI, at)
		cut(&out.DNI, c.DNI, at)
		cut(&out.DHI, c.DHI, at)
		cut(&out.AirC, c.AirC, at)
		cut(&out.WindMS, c.WindMS, at)
	}
	return out, nil
}

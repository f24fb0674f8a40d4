package trip

import (
	"errors"
	"time"

	"campwright/sun"
)

// Year is a whole year of weather at one place in columns of one step, from midnight of 1 January by a fixed clock.
type Year struct {
	Words   string    // what it is, for the basis of the answer
	Site    sun.Place // where it was measured or made for
	Start   time.Time // midnight of 1 January, in the fixed zone of the columns
	StepMin int
	LeapDay bool // the columns hold 29 February
	Weather
}

// along cuts the weather of a course out of the year, day by date; past 31 December it goes on with 1 January. A 29 February that the
// year does not hold repeats the 28th. The year must have the course's step.
func (y Year) along(c *Course) (Weather, error) {
	perDay := 1440 / c.StepMin
	days := 365
	if y.LeapDay {
		days = 366
	}
	if y.StepMin != c.StepMin || len(y.GHI) != days*perDay {
		return Weather{}, errors.New("weather: the year's columns are not of the step asked for, or not a whole year")
	}
	if err := y.Weather.check(days * perDay); err != nil {
		return Weather{}, err
	}
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	for i := 0; i < c.N; {
		here := c.instant(i).In(y.Start.Location())
		row := y.day(here)*perDay + (here.Hour()*60+here.Minute())/c.StepMin
		end := (row/perDay + 1) * perDay // to the end of the day, then look again
		for ; i < c.N && row < end; i, row = i+1, row+1 {
			w.GHI[i], w.DNI[i], w.DHI[i], w.AirC[i], w.WindMS[i] = y.GHI[row], y.DNI[row], y.DHI[row], y.AirC[row], y.WindMS[row]
		}
	}
	return w, nil
}

// day returns the row of days that a date takes.
func (y Year) day(date time.Time) int {
	month, day := date.Month(), date.Day()
	year := 2019
	if y.LeapDay {
		year = 2020
	} else if month == time.February && day == 29 {
		day = 28
	}
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC).YearDay() - 1
}

// Package weather reads a year of weather from the files people have (EPW, TMY3, TMY2, NSRDB/PSM, JRC TMY and a plain table), says
// what each file is and what was wrong with it, and lays the year out in columns at the step a simulation wants.
//
// A format is recognised by what the file holds, never by its name. Every fault is reported with its line, up to twenty of them, and
// nothing is passed on that is not a number within physical limits. Codes for missing values are filled over short gaps only, and a
// note says how many.
//
// What it leaves out: humidity, pressure, cloud, snow, illuminance and albedo, which no model of the program uses; fetching files,
// which the program never does; and years that are only partly there, since a stay may fall on any day.
//
// Numbers follow the files. Times follow one convention: a record stands for an interval in local standard time (no summer time)
// and names the instant at which the sun is to be taken for it.
package weather

import (
	"io"
	"time"
)

// Site is the place a weather file describes.
type Site struct {
	Name       string
	Latitude   float64 // degrees, north positive
	Longitude  float64 // degrees, east positive
	ElevationM float64 // metres above sea level
	UTCOffsetH float64 // hours from UTC of the clock its records are stamped in; east positive, no summer time
}

// Format is a kind of weather file.
type Format string

// The formats that Read knows.
const (
	EPW   Format = "EPW"
	TMY3  Format = "TMY3 CSV"
	TMY2  Format = "TMY2"
	PSM   Format = "NSRDB/PSM CSV"
	JRC   Format = "JRC TMY CSV"
	Table Format = "plain table"
)

// LabelYear is the calendar year that typical years are relabelled to: their months come from different years, and it has no
// 29 February.
const LabelYear = 2019

// Record is the weather of one interval. Irradiances and wind are means over it where the file holds means, else the value at
// SunTime.
type Record struct {
	Start     time.Time // begin of the interval, in the fixed zone of the site
	DurationH float64   // hours
	SunTime   time.Time // the instant at which to take the sun for this record, UTC
	GHI       float64   // global horizontal irradiance [W/m²]
	DNI       float64   // direct normal irradiance [W/m²]
	DHI       float64   // diffuse horizontal irradiance [W/m²]
	AirC      float64   // air temperature [°C]
	WindMS    float64   // wind speed at 10 m [m/s]
}

// Year is a whole year of weather at one site: records without gap or overlap from 1 January, 0 h, to 31 December, 24 h.
type Year struct {
	Site         Site
	LocalOffsetH float64 // hours from UTC that clocks at the place keep in winter: from the file, or by longitude where it is silent
	Format       Format
	Label        string        // what a stamp of the file means, in words
	Step         time.Duration // length of every record
	Typical      bool          // stitched from months of several years and relabelled to LabelYear
	LeapDay      bool          // holds 29 February
	Records      []Record
	Notes        []string // what a reader should know: what the file is, what was filled, how well its parts agree
}

// Read reads a year of weather from r. The name is used in messages only. The error is a *Faults when the file was recognised but is
// not in order, and ErrFormat when it is not a weather file. A plain table carries no site: read it with ReadAt.
func Read(r io.Reader, name string) (Year, error) { return read(r, name, nil) }

// ReadAt is Read for a plain table, whose site is given beside it. A file that carries its own site keeps it, and a note says so.
func ReadAt(r io.Reader, name string, site Site) (Year, error) { return read(r, name, &site) }

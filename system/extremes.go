package system

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"campwright/climate"
	"campwright/figure"
	"campwright/place"
	"campwright/rig"
)

// Spot is a place of the document with its climate.
type Spot struct {
	Name    string
	Climate climate.Climate
}

// Lookup finds the climate of a place of the document. elevationM is what the document says of its height [m], nil when it says nothing.
type Lookup func(p rig.Place, elevationM *float64) (Spot, error)

// mostMeant is how many places are named for one that is not known.
const mostMeant = 3

// meantBy says what a place that is not known may have been.
func meantBy(near []place.Place) string {
	if len(near) == 0 {
		return "give a larger town near it, or a position such as 33.5 N 114.2 W"
	}
	names := make([]string, 0, mostMeant)
	for _, n := range near[:min(len(near), mostMeant)] {
		names = append(names, `"`+n.String()+`"`)
	}
	return "did you mean " + figure.Or(names) + "?"
}

// FindClimate is the Lookup that needs no network: the list of places and the climatology inside the program.
func FindClimate(p rig.Place, elevationM *float64) (Spot, error) {
	if p.State == figure.Absent || p.State == figure.Unknown {
		return Spot{}, errors.New("no place is given")
	}
	s := Spot{Name: p.Name}
	latitude, longitude := p.Latitude, p.Longitude
	if !p.HasSpot {
		found, near, err := place.Find(p.Name)
		if err != nil {
			return Spot{}, err
		}
		if len(found) == 0 {
			return Spot{}, fmt.Errorf("place %q is not in the list of places; %s", p.Name, meantBy(near))
		}
		latitude, longitude, s.Name = found[0].Latitude, found[0].Longitude, found[0].String()
		if elevationM == nil {
			elevationM = &found[0].Elevation
		}
	}
	if s.Name == "" {
		s.Name = positionText(latitude, longitude)
	}
	var err error
	s.Climate, err = climate.At(latitude, longitude, elevationM)
	return s, err
}

func positionText(latitude, longitude float64) string {
	ns, ew := "N", "E"
	if latitude < 0 {
		ns = "S"
	}
	if longitude < 0 {
		ew = "W"
	}
	return fmt.Sprintf("%.1f %s %.1f %s", math.Abs(latitude), ns, math.Abs(longitude), ew)
}

// Site is where the rig stands, on its trip or at home, with the ends of what it meets there. A figure that is not known is NaN.
type Site struct {
	Path    string // "home" or "trip/2"
	Name    string
	Home    bool
	Lived   bool // appliances run; always on a trip
	Nights  int  // zero at home
	Hookup  string
	Sky     string
	Drives  bool    // the engine runs on the way here, or idles here
	DriveH  float64 // on the way here [h]
	IdleH   float64 // each day [h]
	RunH    float64 // of a generator, each day [h]
	Months  []int   // of the stay, January being 0; all twelve at home and where no date is known
	Problem string  // why there is no climate, empty when there is

	Climate    climate.Climate // only where Problem is empty
	ElevationM float64
	RecordLowC float64 // coldest air ever met there
	LowBasis   string  // what that rests on
	AnnualLowC float64 // coldest air of a middling year
	RecordHiC  float64 // hottest air
	ColdC      float64 // an ordinary cold night of the coldest month of the stay
	HotC       float64 // an ordinary hot afternoon of the hottest month of the stay
}

// How far an ordinary cold night and hot afternoon lie from the mean of their month [K], and how far a middling year's low lies above a
// record where only the record is known [K]. Common practice, no source: half of the day's swing, about 7 K inland, and as much again for
// the spread of days.
const (
	coldBelowMean  = 12
	hotAboveMean   = 14
	annualAboveLow = 6
)

// HasClimate tells whether the climate of the site is known.
func (s *Site) HasClimate() bool { return s.Problem == "" }

// Plugged tells whether the site has a hookup.
func (s *Site) Plugged() bool { return s.Hookup != "" && s.Hookup != "none" }

// Sites returns the stops of a completed document in their order, and home last when there is one. A stop without nights or place, such
// as a drive on its own, is none; its driving counts for the next.
func Sites(doc *rig.Rig, find Lookup) []Site {
	var list []Site
	var day time.Time
	drive := 0.0
	for i := range doc.Trip {
		stop := &doc.Trip[i]
		drive += stop.Drive.Quantity.Base
		if stop.Place.State == figure.Absent && !stop.Nights.Given() {
			continue
		}
		s := Site{
			Path: fmt.Sprintf("trip/%d", i+1), Lived: true, Nights: int(math.Round(stop.Nights.Quantity.Base)), Hookup: stop.Hookup, Sky: stop.Site,
			DriveH: drive, IdleH: stop.Idle.Quantity.Base, RunH: stop.Generator.Quantity.Base,
		}
		drive = 0
		if stop.From.Given() {
			day = time.Date(stop.From.Year, time.Month(stop.From.Month), stop.From.Day, 12, 0, 0, 0, time.UTC)
		}
		s.Months, day = monthsOf(day, s.Nights)
		s.Drives = s.DriveH > 0 || s.IdleH > 0
		s.fill(stop.Place, stop.Elevation, stop.RecordLow, find)
		list = append(list, s)
	}
	if h := doc.Home; h != nil {
		s := Site{Path: "home", Home: true, Lived: h.Lived == "yes", Hookup: h.Hookup, Sky: h.Site}
		s.Months, _ = monthsOf(time.Time{}, 0)
		s.fill(h.Place, h.Elevation, h.RecordLow, find)
		list = append(list, s)
	}
	return list
}

// monthsOf returns the months that so many nights from a day touch, and the day after. Without a day it is all of them.
func monthsOf(day time.Time, nights int) ([]int, time.Time) {
	var months []int
	if day.IsZero() || nights < 1 {
		for m := range 12 {
			months = append(months, m)
		}
		return months, day
	}
	seen := [12]bool{}
	for range min(nights, 366) {
		if m := int(day.Month()) - 1; !seen[m] {
			seen[m] = true
			months = append(months, m)
		}
		day = day.AddDate(0, 0, 1)
	}
	return months, day
}

// fill looks the climate up and sets the ends.
func (s *Site) fill(p rig.Place, elevation, recordLow rig.Value, find Lookup) {
	none := math.NaN()
	s.ElevationM, s.RecordLowC, s.AnnualLowC, s.RecordHiC, s.ColdC, s.HotC = none, none, none, none, none, none
	var height *float64
	if elevation.Given() {
		h := elevation.Quantity.Base
		height, s.ElevationM = &h, h
	}
	s.Name = p.Name
	if spot, err := find(p, height); err != nil {
		s.Problem = err.Error()
	} else {
		s.Name, s.Climate = spot.Name, spot.Climate
		s.climate(&spot.Climate)
	}
	if s.Name == "" && p.HasSpot {
		s.Name = positionText(p.Latitude, p.Longitude)
	} else if s.Name == "" {
		s.Name = strings.Replace(s.Path, "trip/", "stop ", 1) // a place that nobody named
	}
	if recordLow.Given() {
		s.RecordLowC, s.LowBasis = recordLow.Quantity.Base, "record low as written at the stop"
		if s.Home {
			s.LowBasis = "record low as written at home"
		}
		if math.IsNaN(s.AnnualLowC) {
			s.AnnualLowC = s.RecordLowC + annualAboveLow
		}
		s.AnnualLowC = math.Max(s.AnnualLowC, s.RecordLowC)
		if math.IsNaN(s.ColdC) {
			s.ColdC = s.AnnualLowC
		}
		s.ColdC = math.Max(s.ColdC, s.RecordLowC)
	}
}

func (s *Site) climate(c *climate.Climate) {
	s.ElevationM = c.Elevation
	s.RecordLowC, s.AnnualLowC, s.RecordHiC, s.LowBasis = c.RecordLow, c.AnnualLow, c.RecordHigh, c.RecordLowBasis
	coldest, hottest := math.Inf(1), math.Inf(-1)
	for _, m := range s.Months {
		coldest, hottest = math.Min(coldest, c.Temperature[m]), math.Max(hottest, c.Temperature[m])
	}
	s.ColdC = math.Max(coldest-coldBelowMean, c.RecordLow)
	s.HotC = math.Min(hottest+hotAboveMean, c.RecordHigh)
}

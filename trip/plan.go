package trip

import (
	"errors"
	"fmt"
	"math"
	"time"

	"campwright/figure"
	"campwright/rig"
	"campwright/sun"
)

// Spot is where a place of the document lies.
type Spot struct {
	Name  string
	named text // the name in each system of units, where it holds a distance
	Place sun.Place
	Zone  *time.Location
}

// Plan is a stay to be answered for: the rig with everything filled in, the sites in order and the first day.
type Plan struct {
	Rig    rig.Rig
	Sites  []Site
	First  time.Time // civil date of the first day
	Parked bool      // nobody is there: only what draws when parked
}

// NewPlan reads the stay out of a completed document. find resolves a place; an elevation written at the stop is used instead of the
// place's own. Every fault is reported, joined into one error.
func NewPlan(doc rig.Rig, find func(rig.Place) (Spot, error)) (Plan, error) {
	p := Plan{Rig: doc}
	var faults []error
	for i := range doc.Trip {
		s := &doc.Trip[i]
		if s.Place.State == figure.Absent && !s.Nights.Given() {
			// A drive on its own: it arrives at the next stop.
			if i+1 < len(doc.Trip) && s.Drive.Given() && !doc.Trip[i+1].Drive.Given() {
				doc.Trip[i+1].Drive = s.Drive
			}
			continue
		}
		spot, err := find(s.Place)
		if err != nil {
			faults = append(faults, fmt.Errorf("trip stop %d: %w", i+1, err))
			continue
		}
		site := Site{
			Name: spot.Name, named: spot.named, Stop: i + 1, Hauls: s.Hauls, HaulDays: haulDays(s.HaulEvery), Place: spot.Place, Zone: spot.Zone, Sky: s.Site, Horizon: s.Horizon, Heading: math.NaN(), Hookup: s.Hookup,
			DriveH: s.Drive.Quantity.Base, IdleH: s.Idle.Quantity.Base, RunH: s.Generator.Quantity.Base, Fills: s.Fills,
			LowC: math.NaN(), Nights: int(math.Round(s.Nights.Quantity.Base)),
		}
		if s.Elevation.Given() {
			site.Place.Elevation = s.Elevation.Quantity.Base
		}
		if s.Heading.Given() {
			site.Heading = s.Heading.Quantity.Base
		}
		if s.RecordLow.Given() {
			site.LowC = s.RecordLow.Quantity.Base
		}
		if site.Nights < 1 {
			faults = append(faults, fmt.Errorf("trip stop %d: it has no nights; say how many, such as nights: 7", i+1))
			continue
		}
		if s.From.State != figure.Absent {
			from := time.Date(s.From.Year, time.Month(s.From.Month), s.From.Day, 12, 0, 0, 0, time.UTC)
			if len(p.Sites) == 0 {
				p.First = from
			} else if due := p.First.AddDate(0, 0, p.nights()); !due.Equal(from) {
				faults = append(faults, fmt.Errorf("trip stop %d: it begins on %s, but the stops before it end on %s", i+1, from.Format("2 January 2006"), due.Format("2 January 2006")))
			}
		}
		p.Sites = append(p.Sites, site)
	}
	if len(p.Sites) == 0 && len(faults) == 0 {
		faults = append(faults, errors.New("trip: the rig has no stop; add one with place, from and nights"))
	}
	if p.First.IsZero() && len(faults) == 0 {
		faults = append(faults, errors.New("trip: the first stop has no date; say from: 2027-01-05"))
	}
	if err := errors.Join(faults...); err != nil {
		return Plan{}, err
	}
	return p, nil
}

// haulDays returns the whole days from one haul to the next, zero for none.
func haulDays(every rig.Value) int {
	if !every.Given() {
		return 0
	}
	return max(1, int(math.Round(every.Quantity.Base/24)))
}

func (p Plan) nights() int {
	n := 0
	for _, s := range p.Sites {
		n += s.Nights
	}
	return n
}

// AsOf returns the rig as it is on the first day of its trip: parts fitted later or removed before are left out. A rig without a dated trip
// is returned as it is.
func AsOf(doc rig.Rig) rig.Rig {
	for i := range doc.Trip {
		if doc.Trip[i].From.State != figure.Absent {
			return doc.At(doc.Trip[i].From)
		}
	}
	return doc
}

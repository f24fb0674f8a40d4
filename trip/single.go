package trip

import (
	"fmt"
	"slices"

	"campwright/climate"
	"campwright/place"
	"campwright/sun"
	"campwright/system"
)

// Single answers for one year of weather, with every guess at its nominal value.
func Single(p Plan, y Year, stepMin int) (Answer, error) {
	sys, err := system.Assemble(&p.Rig, system.Draw{}, stepMin)
	if err != nil {
		return Answer{}, err
	}
	remarks := p.moveTo(y)
	c, err := newCourse(p.First, p.Sites, stepMin)
	if err != nil {
		return Answer{}, err
	}
	w, err := y.along(c)
	if err != nil {
		return Answer{}, err
	}
	if err := veil(c, w); err != nil {
		return Answer{}, err
	}
	run, err := play(sys, c, w, skiesOf(c), !p.Parked)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Rig: p.Rig.Name, Basis: basisOf(p, c)}
	a.Basis.Weather, a.Basis.Members = y.Words, 1
	a.fill(run)
	explain(a.Stores, run)
	a.Nights = nightsOf(run)
	a.Sentence = a.sentence()
	a.remark(emptying(run), starved(run), frozen(run), leftOn(&p.Rig, run), noVehicle(&p.Rig), remarks)
	return a, nil
}

// farKm is how far the weather of another place is still taken without a remark [km].
const farKm = 50

// moveTo puts every site where the year of weather is from, under its clock, and remarks on those that lie elsewhere.
func (p *Plan) moveTo(y Year) []text {
	var remarks []text
	p.Sites = slices.Clone(p.Sites)
	for i := range p.Sites {
		s := &p.Sites[i]
		from := place.Place{Latitude: y.Site.Latitude, Longitude: y.Site.Longitude}
		if km, _ := from.Distance(s.Place.Latitude, s.Place.Longitude); km > farKm {
			remarks = append(remarks, say("%s lies %s from where the weather is from; sun and weather are those of the file.", s.called(), far(km)))
		}
		s.Place, s.Zone = y.Site, y.Start.Location()
	}
	return remarks
}

// play runs one weather through one system along a course.
func play(sys *system.System, c *Course, w Weather, skies []openSky, lives bool) (*Run, error) {
	planes, err := newPlanes(sys, c)
	if err != nil {
		return nil, err
	}
	r := newRunner(sys, c, lives)
	lightOn(sys, c, w, planes, skies, r.offers)
	return r.run(w), nil
}

// veil takes away from a given weather what hills and trees keep off at each site, at the middle of the class of shade. A roof over the rig
// is left to skiesOf.
func veil(c *Course, w Weather) error {
	for s := range c.Sites {
		site := &c.Sites[s]
		horizon := climate.Horizon{}
		if site.Horizon != "" {
			var err error
			if horizon, err = horizonOf(site.Horizon); err != nil {
				return fmt.Errorf("place %q: %w", site.Name, err)
			}
		}
		beam, sky := 1.0, 1.0
		if site.Sky != "" && site.Sky != "open" && site.Sky != "roofed" {
			shade, err := climate.ShadeNamed(site.Sky)
			if err != nil {
				return fmt.Errorf("place %q: %w", site.Name, err)
			}
			beam, sky = shade.At(0)
		}
		from, to := c.From[s], c.From[s+1]
		v, err := climate.NewVeil(horizon, c.Spans[s].Sun, c.Spans[s].Lead, to-from)
		if err != nil {
			return fmt.Errorf("place %q: %w", site.Name, err)
		}
		if err := v.Apply(beam, sky, sun.Light{GHI: w.GHI[from:to], DNI: w.DNI[from:to], DHI: w.DHI[from:to]}); err != nil {
			return fmt.Errorf("place %q: %w", site.Name, err)
		}
	}
	return nil
}

// skiesOf returns what a roof over a site leaves of the light.
func skiesOf(c *Course) []openSky {
	out := make([]openSky, len(c.Sites))
	for i := range out {
		if c.Sites[i].Sky != "roofed" {
			out[i] = openSky{beam: 1, sky: 1}
		}
	}
	return out
}

// basisOf says what an answer rests on.
func basisOf(p Plan, c *Course) Basis {
	b := Basis{From: p.First.Format("2006-01-02"), Nights: p.nights(), StepMin: c.StepMin, Book: p.Rig.Book}
	for i := range p.Sites {
		if i == 0 {
			b.placesIn = p.Sites[i].called()
		} else {
			b.placesIn = say("%s; %s", b.placesIn, p.Sites[i].called())
		}
	}
	b.Places = b.placesIn.metric
	b.Guesses = len(system.Guesses(&p.Rig))
	b.Defaults = system.CountDefaults(&p.Rig)
	return b
}

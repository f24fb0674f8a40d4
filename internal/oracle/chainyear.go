package oracle

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"campwright/pv"
	"campwright/sun"
	"campwright/weather"
)

// chainYear is a site's year: weather and sun, and the planes already worked out.
type chainYear struct {
	weather weather.Year
	sun     *sun.Geometry
	light   sun.Light
	air     []float64
	wind    []float64
	hours   []float64
	month   []int
	planes  map[planeKey]*chainPlane
}

type planeKey struct {
	tilt, azimuth float64
	model         sun.SkyModel
}

// chainPlane is the light and the cells on one plane.
type chainPlane struct {
	geometry *sun.PlaneGeometry
	light    sun.PlaneLight
	poa      []float64 // [W/m²]
	cell     []float64 // [°C]
}

// chainYear reads a site's weather through package weather and follows the sun at the instants it gives.
func (f *folder) chainYear(site *chainSite) (*chainYear, error) {
	key := site.Normalised + " " + site.Site
	if y := f.years[key]; y != nil {
		return y, nil
	}
	raw, err := f.bytes(site.Normalised)
	if err != nil {
		return nil, err
	}
	clock, err := site.clock(string(raw))
	if err != nil {
		return nil, err
	}
	w, err := weather.ReadAt(strings.NewReader(string(raw)), site.Normalised, weather.Site{
		Name: site.Name, Latitude: site.Latitude, Longitude: site.Longitude, ElevationM: site.Elevation, UTCOffsetH: clock,
	})
	if err != nil {
		return nil, err
	}
	n := len(w.Records)
	y := &chainYear{weather: w, light: sun.NewLight(n), planes: map[planeKey]*chainPlane{}}
	for i, r := range w.Records {
		y.light.GHI[i], y.light.DNI[i], y.light.DHI[i] = r.GHI, r.DNI, r.DHI
		y.air = append(y.air, r.AirC)
		y.wind = append(y.wind, r.WindMS)
		y.hours = append(y.hours, r.DurationH)
		y.month = append(y.month, int(r.Start.Month())-1)
	}
	if y.sun, err = follow(w, site.UTCOffset); err != nil {
		return nil, err
	}
	if f.years == nil {
		f.years = map[string]*chainYear{}
	}
	f.years[key] = y
	return y, nil
}

// chainSurface finds a site among the folder's chains, and the tilt and azimuth of a surface of its cases, by the name the cases give.
func (f *folder) chainSurface(site, surface string) (where *chainSite, azimuth, tilt float64, ok bool) {
	for _, name := range []string{"chain.json", "chain_invented.json"} {
		var file chainFile
		if !f.has(name) || f.decode(name, &file) != nil {
			continue // a description out of order is told where it is judged
		}
		for i := range file.Sites {
			if file.Sites[i].Site != site {
				continue
			}
			for _, c := range file.Cases {
				if part := strings.Split(c.Case, "/"); c.Site == site && len(part) > 2 && part[2] == surface {
					return &file.Sites[i], c.Azimuth, c.Tilt, true
				}
			}
		}
	}
	return nil, 0, 0, false
}

// clock returns the hours from UTC of the clock that the table's starts are written in: the site's own, or UTC itself, which the files
// of the JRC keep. The first record tells, by the distance of its start from the instant for its sun.
func (site *chainSite) clock(table string) (float64, error) {
	if !site.MidOffset.Set || site.MidOffset.Null {
		return site.UTCOffset, nil
	}
	lines := strings.SplitN(table, "\n", 3)
	if len(lines) < 2 {
		return 0, fmt.Errorf("%s: no records", site.Normalised)
	}
	cells := strings.Split(lines[1], ",")
	if len(cells) < 3 {
		return 0, fmt.Errorf("%s: %d columns in the first record", site.Normalised, len(cells))
	}
	start, err1 := time.Parse("2006-01-02T15:04:05", cells[0])
	instant, err2 := time.Parse(time.RFC3339Nano, cells[2])
	if err1 != nil || err2 != nil {
		return 0, fmt.Errorf("%s: the first record's times are not understood", site.Normalised)
	}
	hours := start.Sub(instant).Hours() + site.MidOffset.V/60
	for _, known := range []float64{site.UTCOffset, 0} {
		if math.Abs(hours-known) < 0.01 {
			return known, nil
		}
	}
	return 0, fmt.Errorf("%s: starts are written %.4g h from UTC, the site says %g", site.Normalised, hours, site.UTCOffset)
}

// follow returns the sun at the instants of a year's records; days of the year are counted in the site's clock. A year that leaves
// out 29 February is followed in two parts.
func follow(w weather.Year, offsetH float64) (*sun.Geometry, error) {
	zone := time.FixedZone("", int(math.Round(offsetH*3600)))
	o := sun.Place{Latitude: w.Site.Latitude, Longitude: w.Site.Longitude, Elevation: w.Site.ElevationM}.Observer()
	o.DeltaT = chainDeltaT
	var suns []sun.Sun
	for from := 0; from < len(w.Records); {
		to := from + 1
		for to < len(w.Records) && w.Records[to].SunTime.Sub(w.Records[to-1].SunTime) == w.Step {
			to++
		}
		steps := sun.Steps{Start: w.Records[from].SunTime.In(zone), Step: w.Step, Count: to - from}
		g, err := sun.Track(o, steps, sun.Extra{Constant: sun.SolarConstantASTM, Method: sun.Spencer})
		if err != nil {
			return nil, err
		}
		if from == 0 && to == len(w.Records) {
			return g, nil
		}
		for i := range g.Len() {
			suns = append(suns, sun.Sun{Zenith: g.Zenith(i), Azimuth: g.Azimuth(i), Extra: g.Extra[i]})
		}
		from = to
	}
	return sun.GeometryOf(suns)
}

// plane works out the light and the cell temperature on a plane, once.
func (y *chainYear) plane(tilt, azimuth float64, transposition string) (*chainPlane, error) {
	model, ok := map[string]sun.SkyModel{"perez": sun.Perez, "haydavies": sun.HayDavies, "isotropic": sun.Isotropic}[transposition]
	if !ok {
		return nil, fmt.Errorf("transposition %q is not known", transposition)
	}
	key := planeKey{tilt, azimuth, model}
	if tilt == 0 {
		key.azimuth = 0
	}
	if p := y.planes[key]; p != nil {
		return p, nil
	}
	g, err := y.sun.OnPlane(sun.Plane{Tilt: tilt, Azimuth: azimuth, Albedo: chainAlbedo})
	if err != nil {
		return nil, err
	}
	n := y.sun.Len()
	p := &chainPlane{geometry: g, light: sun.NewPlaneLight(n), poa: make([]float64, n), cell: make([]float64, n)}
	if err := g.Transpose(p.light, y.light, model); err != nil {
		return nil, err
	}
	for i := range p.poa {
		p.poa[i] = p.light.Beam[i] + p.light.Sky[i] + p.light.Ground[i]
	}
	if err := pv.CellColumn(p.cell, p.poa, y.air, y.wind, chainFaiman); err != nil {
		return nil, err
	}
	y.planes[key] = p
	return p, nil
}

// power returns the greatest power of one module at each record [W]; the modifier acts on the beam alone.
func (y *chainYear) power(p *chainPlane, m pv.Module, iam *sun.Modifier) ([]float64, error) {
	effective := p.poa
	if iam != nil {
		effective = make([]float64, len(p.poa))
		for i := range effective {
			effective[i] = p.light.Beam[i]*iam.At(p.geometry.CosIncidence[i]) + p.light.Sky[i] + p.light.Ground[i]
		}
	}
	dst := make([]float64, len(effective))
	return dst, m.PowerColumn(dst, effective, p.cell)
}

// beamModifier reads the words for what the glass turns away.
func beamModifier(words string) (*sun.Modifier, error) {
	if words == "none" || words == "" {
		return nil, nil
	}
	rest, ok := strings.CutPrefix(words, "ashrae b0=")
	number, ok2 := strings.CutSuffix(rest, " on beam only")
	b0, err := strconv.ParseFloat(number, 64)
	if !ok || !ok2 || err != nil {
		return nil, fmt.Errorf("iam %q is not known", words)
	}
	m, err := sun.NewASHRAE(b0)
	return &m, err
}

// sums returns the months and the year of a column of power [kW or kW/m² times h].
func (y *chainYear) sums(column []float64) (months [12]float64, year float64) {
	for i, v := range column {
		months[y.month[i]] += v * y.hours[i] / 1000
		year += v * y.hours[i] / 1000
	}
	return months, year
}

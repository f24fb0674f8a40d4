package oracle

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"campwright/pv"
	"campwright/sun"
	"campwright/weather"
)

// Targets for the yearly chain: every record of every column, and the sums.
var (
	chainAngle = Limit{Abs: 0.0005} // deg; the traces print five decimals
	chainLight = Limit{Abs: 0.01}   // W/m²; four decimals
	chainCell  = Limit{Abs: 0.001}  // °C; four decimals
	chainPower = Limit{Abs: 0.01}   // W of one module; five decimals
	chainSum   = Limit{Rel: 5e-4}   // 0.05 % of a month or a year
	chainRatio = Limit{Rel: 5e-4}
	siteSum    = Limit{Rel: 1e-6, Abs: 0.0006} // the sums of the weather files are printed with three or four decimals
	siteMean   = Limit{Rel: 1e-9, Abs: 1e-9}
)

// What the reference assumes for every chain, in its words "delta_t 67.0 s, pressure from altitude formula, 12 C", "Faiman 25.0 and 6.84",
// "albedo 0.2", "Spencer, 1366.1 W/m2".
const (
	chainDeltaT = 67.0
	chainAlbedo = 0.2
)

var chainFaiman = pv.Faiman{U0: 25, U1: 6.84}

type chainSite struct {
	Site          string  `json:"site"`
	Name          string  `json:"name"`
	RawFile       string  `json:"raw_file"`
	RawFormat     string  `json:"raw_format"`
	Normalised    string  `json:"normalised_file"`
	Latitude      float64 `json:"latitude_deg"`
	Longitude     float64 `json:"longitude_deg"`
	Elevation     float64 `json:"elevation_m"`
	UTCOffset     float64 `json:"utc_offset_h"`
	Label         string  `json:"label"`
	YearRule      string  `json:"year_rule"`
	MidOffset     Num     `json:"mid_offset_min"`
	NativeMinutes float64 `json:"native_minutes"`
	Records       float64 `json:"records"`
	SumGHI        Num     `json:"sum_ghi_kwh_m2"`
	SumDNI        Num     `json:"sum_dni_kwh_m2"`
	SumDHI        Num     `json:"sum_dhi_kwh_m2"`
	MeanAir       Num     `json:"mean_air_temp_c"`
	MinAir        Num     `json:"min_air_temp_c"`
	MaxAir        Num     `json:"max_air_temp_c"`
	MeanWind      Num     `json:"mean_wind_m_s"`
	MaxGHI        Num     `json:"max_ghi_w_m2"`
}

type chainCase struct {
	ID            string  `json:"id"`
	Case          string  `json:"case"`
	Site          string  `json:"site"`
	Module        string  `json:"module"`
	Tilt          float64 `json:"surface_tilt_deg"`
	Azimuth       float64 `json:"surface_azimuth_deg"`
	Transposition string  `json:"transposition"`
	IAM           string  `json:"iam"`
	MonthlyPOA    []Num   `json:"monthly_poa_kwh_m2"`
	AnnualPOA     Num     `json:"annual_poa_kwh_m2"`
	MonthlyDC     []Num   `json:"monthly_dc_kwh"`
	AnnualDC      Num     `json:"annual_dc_kwh"`
	AnnualBeam    Num     `json:"annual_beam_kwh_m2"`
	AnnualSky     Num     `json:"annual_sky_kwh_m2"`
	AnnualGround  Num     `json:"annual_ground_kwh_m2"`
	STCPower      Num     `json:"stc_power_w"`
	Yield         Num     `json:"specific_yield_kwh_per_kw"`
	Ratio         Num     `json:"performance_ratio"`
	MaxDC         Num     `json:"max_dc_w"`
	WeightedCell  Num     `json:"poa_weighted_cell_temp_c"`
}

type chainFile struct {
	prose
	Sites []chainSite `json:"sites"`
	Cases []chainCase `json:"cases"`
}

func judgeChain(f *folder, s *sheet) {
	var file chainFile
	if !f.load(s, &file) {
		return
	}
	set, ok := f.moduleSet(s, file.modulesFile())
	if !ok {
		return
	}
	if len(file.Cases) == 0 {
		s.fault("", "no cases")
	}
	for i := range file.Sites {
		site := &file.Sites[i]
		y, err := f.chainYear(site)
		if err != nil {
			s.fault(site.Site, "%v", err)
			continue
		}
		site.judge(s, y)
		cases := 0
		for j := range file.Cases {
			if c := &file.Cases[j]; c.Site == site.Site {
				cases++
				c.judge(s, y, set)
			}
		}
		if cases == 0 {
			s.fault(site.Site, "no case for the site")
		}
		judgeTrace(f, s, site, y, set, file.Cases)
	}
	for _, c := range file.Cases {
		if !slices.ContainsFunc(file.Sites, func(site chainSite) bool { return site.Site == c.Site }) {
			s.fault(c.Case, "site %q is not among the sites", c.Site)
		}
	}
}

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
	// A file of the JRC is stamped in UTC whatever the site's clock.
	clock := site.UTCOffset
	if strings.HasPrefix(strings.ToLower(site.RawFormat), "jrc") || strings.HasPrefix(strings.ToLower(site.RawFormat), "pvgis") {
		clock = 0
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

// follow returns the sun at the instants of a year's records, which have to be evenly spaced; days of the year are counted in the
// site's clock.
func follow(w weather.Year, offsetH float64) (*sun.Geometry, error) {
	first := w.Records[0].SunTime.In(time.FixedZone("", int(math.Round(offsetH*3600))))
	for i, r := range w.Records {
		if want := first.Add(time.Duration(i) * w.Step); !r.SunTime.Equal(want) {
			return nil, fmt.Errorf("record %d: sun time %v, evenly spaced would be %v", i, r.SunTime, want)
		}
	}
	o := sun.Place{Latitude: w.Site.Latitude, Longitude: w.Site.Longitude, Elevation: w.Site.ElevationM}.Observer()
	o.DeltaT = chainDeltaT
	return sun.Track(o, sun.Steps{Start: first, Step: w.Step, Count: len(w.Records)}, sun.Extra{Constant: sun.SolarConstantASTM, Method: sun.Spencer})
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

// judge compares what the description prints of the weather file itself.
func (site *chainSite) judge(s *sheet, y *chainYear) {
	_, ghi := y.sums(y.light.GHI)
	_, dni := y.sums(y.light.DNI)
	_, dhi := y.sums(y.light.DHI)
	mean := func(v []float64) float64 {
		sum := 0.0
		for _, x := range v {
			sum += x
		}
		return sum / float64(len(v))
	}
	place := site.Site
	s.see("site records", "", float64(len(y.air)), site.Records, Limit{}, place)
	s.see("site native_minutes", "", y.weather.Step.Minutes(), site.NativeMinutes, Limit{}, place)
	s.seeNum("site sum_ghi_kwh_m2", "", ghi, site.SumGHI, siteSum, place)
	s.seeNum("site mean_air_temp_c", "", mean(y.air), site.MeanAir, siteMean, place)
	optional := func(field string, got float64, want Num, limit Limit) {
		if want.Set {
			s.seeNum(field, "", got, want, limit, place)
		}
	}
	optional("site sum_dni_kwh_m2", dni, site.SumDNI, siteSum)
	optional("site sum_dhi_kwh_m2", dhi, site.SumDHI, siteSum)
	optional("site mean_wind_m_s", mean(y.wind), site.MeanWind, siteMean)
	optional("site max_ghi_w_m2", slices.Max(y.light.GHI), site.MaxGHI, siteMean)
	optional("site min_air_temp_c", slices.Min(y.air), site.MinAir, siteMean)
	optional("site max_air_temp_c", slices.Max(y.air), site.MaxAir, siteMean)
	if site.MidOffset.Set {
		r := y.weather.Records[0]
		s.seeNum("site mid_offset_min", "", r.SunTime.Sub(r.Start).Minutes(), site.MidOffset, Limit{Abs: 0.01}, place)
	}
}

// judge compares the months and the year of one case.
func (c *chainCase) judge(s *sheet, y *chainYear, set moduleSet) {
	place := strings.TrimSpace(c.ID + " " + c.Case)
	m, ok := set.byID[c.Module]
	if !ok {
		s.fault(place, "module %q is not known", c.Module)
		return
	}
	p, err := y.plane(c.Tilt, c.Azimuth, c.Transposition)
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	iam, err := beamModifier(c.IAM)
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	dc, err := y.power(p, m, iam)
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	poaMonths, poa := y.sums(p.poa)
	dcMonths, energy := y.sums(dc)
	monthly := func(field string, got [12]float64, want []Num) {
		if len(want) != 12 {
			s.fault(place, "%s has %d months", field, len(want))
			return
		}
		for i := range want {
			s.seeNum(field, "monthly", got[i], want[i], chainSum, fmt.Sprintf("%s month %d", place, i+1))
		}
	}
	monthly("monthly_poa_kwh_m2", poaMonths, c.MonthlyPOA)
	monthly("monthly_dc_kwh", dcMonths, c.MonthlyDC)
	s.seeNum("annual_poa_kwh_m2", "annual", poa, c.AnnualPOA, chainSum, place)
	s.seeNum("annual_dc_kwh", "annual", energy, c.AnnualDC, chainSum, place)
	c.judgeRest(s, y, p, m, dc, poa, energy, place)
}

// judgeRest compares the figures that not every description prints.
func (c *chainCase) judgeRest(s *sheet, y *chainYear, p *chainPlane, m pv.Module, dc []float64, poa, energy float64, place string) {
	optional := func(field string, got float64, want Num, limit Limit) {
		if want.Set {
			s.seeNum(field, "annual", got, want, limit, place)
		}
	}
	_, beam := y.sums(p.light.Beam)
	_, sky := y.sums(p.light.Sky)
	_, ground := y.sums(p.light.Ground)
	optional("annual_beam_kwh_m2", beam, c.AnnualBeam, chainSum)
	optional("annual_sky_kwh_m2", sky, c.AnnualSky, chainSum)
	optional("annual_ground_kwh_m2", ground, c.AnnualGround, Limit{Rel: 5e-4, Abs: 1e-9})
	rated := m.Rated().P
	optional("stc_power_w", rated, c.STCPower, diodePower)
	optional("specific_yield_kwh_per_kw", energy/rated*1000, c.Yield, chainRatio)
	optional("performance_ratio", energy/rated*1000/poa, c.Ratio, chainRatio)
	optional("max_dc_w", slices.Max(dc), c.MaxDC, chainPower)
	weighted := 0.0
	for i := range p.poa {
		weighted += p.poa[i] * y.hours[i] / 1000 * p.cell[i]
	}
	optional("poa_weighted_cell_temp_c", weighted/poa, c.WeightedCell, Limit{Abs: 0.001})
}

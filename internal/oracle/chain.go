package oracle

import (
	"fmt"
	"slices"
	"strings"

	"campwright/pv"
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

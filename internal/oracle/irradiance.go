package oracle

import (
	"math"
	"time"

	"campwright/sun"
)

// Targets for light: a millionth of the value, with a floor where the value itself is a rest of cancelling terms.
var (
	lightLimit = Limit{Rel: 1e-6, Abs: 1e-6}
	ratioLimit = Limit{Rel: 1e-6, Abs: 1e-9}
	angleLimit = Limit{Abs: 1e-7} // deg; the files print twelve digits
)

type lightCase struct {
	ID           string  `json:"id"`
	Kind         string  `json:"kind"`
	Method       string  `json:"method"`
	Model        string  `json:"model"`
	Name         string  `json:"name"`
	Constant     float64 `json:"solar_constant_w_m2"`
	DayOfYear    int     `json:"day_of_year"`
	Time         string  `json:"time_utc"`
	DeltaT       float64 `json:"delta_t_s"`
	Extra        Num     `json:"dni_extra_w_m2"`
	Altitude     float64 `json:"altitude_m"`
	Pressure     Num     `json:"pressure_pa"`
	Zenith       float64 `json:"apparent_zenith_deg"`
	TrueZenith   float64 `json:"true_zenith_deg"`
	SolarAzimuth float64 `json:"solar_azimuth_deg"`
	Relative     Num     `json:"airmass_relative"`
	Absolute     Num     `json:"airmass_absolute"`
	Turbidity    float64 `json:"linke_turbidity"`
	IneichenGHI  Num     `json:"ineichen_ghi_w_m2"`
	IneichenDNI  Num     `json:"ineichen_dni_w_m2"`
	IneichenDHI  Num     `json:"ineichen_dhi_w_m2"`
	Haurwitz     Num     `json:"haurwitz_ghi_w_m2"`
	GHI          Num     `json:"ghi_w_m2"`
	DNI          Num     `json:"dni_w_m2"`
	DHI          Num     `json:"dhi_w_m2"`
	Clearness    Num     `json:"clearness_index"`
	Tilt         float64 `json:"surface_tilt_deg"`
	Azimuth      float64 `json:"surface_azimuth_deg"`
	Albedo       float64 `json:"albedo"`
	Incidence    Num     `json:"aoi_deg"`
	Beam         Num     `json:"poa_beam_w_m2"`
	Ground       Num     `json:"poa_ground_w_m2"`
	Isotropic    Num     `json:"poa_sky_isotropic_w_m2"`
	HayDavies    Num     `json:"poa_sky_haydavies_w_m2"`
	Perez        Num     `json:"poa_sky_perez_w_m2"`
	Epsilon      Num     `json:"perez_epsilon"`
	Delta        Num     `json:"perez_delta"`
	Bin          Num     `json:"perez_bin"`
	F1           Num     `json:"perez_f1"`
	F2           Num     `json:"perez_f2"`
	SumIsotropic Num     `json:"poa_global_isotropic_w_m2"`
	SumHayDavies Num     `json:"poa_global_haydavies_w_m2"`
	SumPerez     Num     `json:"poa_global_perez_w_m2"`
	B0           float64 `json:"ashrae_b0"`
	ASHRAE       Num     `json:"ashrae"`
	Index        float64 `json:"physical_n"`
	Physical     Num     `json:"physical"`
	Extinction   float64 `json:"physical_k_per_m"`
	Thickness    float64 `json:"physical_l_m"`
}

func judgeIrradiance(f *folder, s *sheet) {
	var file struct {
		prose
		Cases []lightCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	for i := range file.Cases {
		c := &file.Cases[i]
		switch c.Kind {
		case "extraterrestrial":
			c.judgeExtra(s)
		case "airmass":
			c.judgeAirMass(s)
		case "clearsky":
			c.judgeClearSky(s)
		case "erbs":
			c.judgeErbs(s)
		case "transposition":
			c.judgeTransposition(s)
		case "iam":
			c.judgeModifier(s)
		default:
			s.fault(c.ID, "kind %q is not known", c.Kind)
		}
	}
}

// cosDeg returns the cosine of an angle in degrees.
func cosDeg(a float64) float64 { return math.Cos(a * math.Pi / 180) }

// spencer is the light above the air that the files take where they name no method.
func (c *lightCase) spencer() float64 { return sun.SpencerNormal(sun.SolarConstantASTM, c.DayOfYear) }

func (c *lightCase) judgeExtra(s *sheet) {
	switch c.Method {
	case "spencer1971":
		s.seeNum("dni_extra_w_m2 (spencer1971)", "*_w_m2", sun.SpencerNormal(c.Constant, c.DayOfYear), c.Extra, lightLimit, c.ID)
	case "spa_radius_vector":
		at, err := time.Parse(time.RFC3339Nano, c.Time)
		if err != nil {
			s.fault(c.ID, "time_utc %q is not an instant", c.Time)
			return
		}
		p, err := sun.At(at, sun.Observer{DeltaT: c.DeltaT})
		if err != nil {
			s.fault(c.ID, "%v", err)
			return
		}
		s.seeNum("dni_extra_w_m2 (spa_radius_vector)", "*_w_m2", sun.DistanceNormal(c.Constant, p.Distance), c.Extra, lightLimit, c.ID)
	default:
		s.fault(c.ID, "method %q is not known", c.Method)
	}
}

func (c *lightCase) judgeAirMass(s *sheet) {
	if c.Model != "kastenyoung1989" {
		s.fault(c.ID, "model %q is not known", c.Model)
		return
	}
	s.seeNum("pressure_pa", "", sun.Pressure(c.Altitude), c.Pressure, Limit{Rel: 1e-9}, c.ID)
	relative := sun.AirMass(c.Zenith)
	if c.Relative.Null { // below the horizon there is no path: the program says zero
		s.see("airmass_relative (none)", "", relative, 0, Limit{}, c.ID)
		return
	}
	s.seeNum("airmass_relative", "airmass", relative, c.Relative, ratioLimit, c.ID)
	s.seeNum("airmass_absolute", "airmass", sun.AbsoluteAirMass(relative, sun.Pressure(c.Altitude)), c.Absolute, ratioLimit, c.ID)
}

func (c *lightCase) judgeClearSky(s *sheet) {
	sky, err := sun.NewClearSky(sun.ClearSkyParams{Turbidity: c.Turbidity, Elevation: c.Altitude})
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	extra, relative := c.spencer(), sun.AirMass(c.Zenith)
	s.seeNum("dni_extra_w_m2 (clearsky)", "*_w_m2", extra, c.Extra, lightLimit, c.ID)
	if !c.Absolute.Null {
		s.seeNum("airmass_absolute (clearsky)", "airmass", sun.AbsoluteAirMass(relative, sun.Pressure(c.Altitude)), c.Absolute, ratioLimit, c.ID)
	}
	ghi, dni, dhi := sky.At(cosDeg(c.Zenith), relative, extra)
	s.seeNum("ineichen_ghi_w_m2", "*_w_m2", ghi, c.IneichenGHI, lightLimit, c.ID)
	s.seeNum("ineichen_dni_w_m2", "*_w_m2", dni, c.IneichenDNI, lightLimit, c.ID)
	s.seeNum("ineichen_dhi_w_m2", "*_w_m2", dhi, c.IneichenDHI, lightLimit, c.ID)
	s.seeNum("haurwitz_ghi_w_m2", "*_w_m2", sun.Haurwitz(cosDeg(c.Zenith)), c.Haurwitz, lightLimit, c.ID)
}

func (c *lightCase) judgeErbs(s *sheet) {
	extra, cosZ := c.spencer(), cosDeg(c.TrueZenith)
	dni, dhi := sun.SplitErbs(c.GHI.V, cosZ, extra)
	s.seeNum("clearness_index", "", sun.Clearness(c.GHI.V, cosZ, extra), c.Clearness, ratioLimit, c.ID)
	s.seeNum("dni_w_m2 (erbs)", "*_w_m2", dni, c.DNI, lightLimit, c.ID)
	s.seeNum("dhi_w_m2 (erbs)", "*_w_m2", dhi, c.DHI, lightLimit, c.ID)
}

func (c *lightCase) judgeTransposition(s *sheet) {
	place := c.ID + " " + c.Name
	extra := c.spencer()
	s.seeNum("dni_extra_w_m2 (transposition)", "*_w_m2", extra, c.Extra, lightLimit, place)
	s.seeNum("airmass_relative (transposition)", "airmass", sun.AirMass(c.Zenith), c.Relative, ratioLimit, place)
	g, err := sun.GeometryOf([]sun.Sun{{Zenith: c.Zenith, Azimuth: c.SolarAzimuth, Extra: extra}})
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	p, err := g.OnPlane(sun.Plane{Tilt: c.Tilt, Azimuth: c.Azimuth, Albedo: c.Albedo})
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	s.seeNum("aoi_deg", "", p.Incidence(0), c.Incidence, angleLimit, place)
	beam, isotropic, ground := p.Isotropic(0, c.GHI.V, c.DNI.V, c.DHI.V)
	_, hayDavies, _ := p.HayDavies(0, c.GHI.V, c.DNI.V, c.DHI.V)
	_, perez, _ := p.Perez(0, c.GHI.V, c.DNI.V, c.DHI.V)
	s.seeNum("poa_beam_w_m2", "*_w_m2", beam, c.Beam, lightLimit, place)
	s.seeNum("poa_ground_w_m2", "*_w_m2", ground, c.Ground, lightLimit, place)
	s.seeNum("poa_sky_isotropic_w_m2", "*_w_m2", isotropic, c.Isotropic, lightLimit, place)
	s.seeNum("poa_sky_haydavies_w_m2", "*_w_m2", hayDavies, c.HayDavies, lightLimit, place)
	s.seeNum("poa_sky_perez_w_m2", "*_w_m2", perez, c.Perez, lightLimit, place)
	s.seeNum("poa_global_isotropic_w_m2", "*_w_m2", beam+isotropic+ground, c.SumIsotropic, lightLimit, place)
	s.seeNum("poa_global_haydavies_w_m2", "*_w_m2", beam+hayDavies+ground, c.SumHayDavies, lightLimit, place)
	s.seeNum("poa_global_perez_w_m2", "*_w_m2", beam+perez+ground, c.SumPerez, lightLimit, place)
	if !c.F1.Null {
		c.judgePerez(s, g, place)
	}
}

// judgePerez reads the two brightness coefficients back from the light on two planes that turn away from the sun, where the part
// around the sun is out of sight: sky = DHI·((1 - F1)(1 + cos β)/2 + F2 sin β) at β = 90 and 95 degrees, near each other so that few skies are
// held at zero there; those that are tell nothing and are left to the light itself. The clearness, brightness and bin that the file also
// prints lead to the coefficients alone and are judged through them.
func (c *lightCase) judgePerez(s *sheet, g *sun.Geometry, place string) {
	sky := func(tilt float64) float64 {
		p, err := g.OnPlane(sun.Plane{Tilt: tilt, Azimuth: math.Mod(c.SolarAzimuth+180, 360), Albedo: c.Albedo})
		if err != nil {
			s.fault(place, "%v", err)
			return math.NaN()
		}
		_, v, _ := p.Perez(0, c.GHI.V, c.DNI.V, c.DHI.V)
		return v / c.DHI.V
	}
	const other = 95
	a, b := sky(90), sky(other)
	if a <= 0 || b <= 0 {
		return
	}
	// a = u/2 + F2 and b = u·(1 + cos β)/2 + F2·sin β, with u = 1 - F1.
	sin, cos := math.Sincos(other * math.Pi / 180)
	u := (a*sin - b) / (sin/2 - (1+cos)/2)
	coefficient := Limit{Abs: 1e-6}
	s.seeNum("perez_f1 (and epsilon, delta, bin)", "", 1-u, c.F1, coefficient, place)
	s.seeNum("perez_f2 (and epsilon, delta, bin)", "", a-u/2, c.F2, coefficient, place)
}

func (c *lightCase) judgeModifier(s *sheet) {
	ashrae, err := sun.NewASHRAE(c.B0)
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	physical, err := sun.NewPhysical(sun.Glass{Index: c.Index, Extinction: c.Extinction, Thickness: c.Thickness})
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	// At 90 degrees the cosine of a computer is not quite zero.
	cos := cosDeg(c.Incidence.V)
	if c.Incidence.V == 90 {
		cos = 0
	}
	s.seeNum("ashrae", "iam", ashrae.At(cos), c.ASHRAE, ratioLimit, c.ID)
	s.seeNum("physical", "iam", physical.At(cos), c.Physical, ratioLimit, c.ID)
}

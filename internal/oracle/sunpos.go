package oracle

import (
	"math"
	"time"

	"campwright/sun"
)

// Targets for the sun: 0.0005 degrees (2 seconds of arc), and 1 s for rise and set; the algorithm itself claims 0.0003 degrees.
var (
	sunAngle    = Limit{Abs: 0.0005}
	sunTime     = Limit{Abs: 0.002} // equation of time [min]: 0.0005 degrees at 4 min each
	sunDistance = Limit{Rel: 1e-6}
	sunEvent    = Limit{Abs: 1} // s
)

// referenceRefraction is the only refraction at the horizon that the position algorithm of the program knows [deg].
const referenceRefraction = 0.5667

type sunposCase struct {
	ID             string  `json:"id"`
	Site           string  `json:"site"`
	Latitude       float64 `json:"latitude_deg"`
	Longitude      float64 `json:"longitude_deg"`
	Elevation      float64 `json:"elevation_m"`
	Pressure       float64 `json:"pressure_hpa"`
	Temperature    float64 `json:"temperature_c"`
	DeltaT         float64 `json:"delta_t_s"`
	Refraction     float64 `json:"atmos_refract_deg"`
	Time           string  `json:"time_utc"`
	ApparentZenith Num     `json:"apparent_zenith_deg"`
	TrueZenith     Num     `json:"true_zenith_deg"`
	Azimuth        Num     `json:"azimuth_deg"`
	EquationOfTime Num     `json:"equation_of_time_min"`
	Distance       Num     `json:"earth_sun_distance_au"`
	UTCOffset      float64 `json:"utc_offset_h"`
	LocalDate      string  `json:"local_date"`
	Sunrise        *string `json:"sunrise_utc"`
	Sunset         *string `json:"sunset_utc"`
	DayState       string  `json:"day_state"`
}

func judgeSunpos(f *folder, s *sheet) {
	var file struct {
		prose
		Cases []sunposCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	for _, c := range file.Cases {
		c.judge(s)
	}
}

func (c *sunposCase) judge(s *sheet) {
	at, err := time.Parse(time.RFC3339Nano, c.Time)
	if err != nil {
		s.fault(c.ID, "time_utc %q is not an instant", c.Time)
		return
	}
	if c.Refraction != referenceRefraction {
		s.fault(c.ID, "refraction at the horizon %g degrees, the program knows %g only", c.Refraction, referenceRefraction)
		return
	}
	o := sun.Observer{
		Place:    sun.Place{Latitude: c.Latitude, Longitude: c.Longitude, Elevation: c.Elevation},
		Pressure: c.Pressure, Temperature: c.Temperature, DeltaT: c.DeltaT,
	}
	p, err := sun.At(at, o)
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	place := c.ID + " " + c.Site
	s.seeNum("apparent_zenith_deg", "zenith_deg", p.Zenith, c.ApparentZenith, sunAngle, place)
	s.seeNum("true_zenith_deg", "zenith_deg", p.TrueZenith, c.TrueZenith, sunAngle, place)
	// An azimuth is worth its arc on the sky, and 359.9999 lies beside 0.
	turn := math.Remainder(p.Azimuth-c.Azimuth.V, 360) * math.Sin(c.ApparentZenith.V*math.Pi/180)
	s.seeNum("azimuth_deg (times sin zenith)", "azimuth_deg", c.Azimuth.V+turn, c.Azimuth, sunAngle, place)
	s.seeNum("equation_of_time_min", "equation_of_time_min", p.EquationOfTime, c.EquationOfTime, sunTime, place)
	s.seeNum("earth_sun_distance_au", "", p.Distance, c.Distance, sunDistance, place)
	c.judgeTrack(s, at, o, place)
	c.judgeDay(s, at, o, place)
}

// judgeTrack holds the fast series of positions against the same answers.
func (c *sunposCase) judgeTrack(s *sheet, at time.Time, o sun.Observer, place string) {
	g, err := sun.Track(o, sun.Steps{Start: at, Step: time.Minute, Count: 1}, sun.Extra{Constant: sun.SolarConstantASTM})
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	s.seeNum("apparent_zenith_deg (track)", "zenith_deg", g.Zenith(0), c.ApparentZenith, sunAngle, place)
	turn := math.Remainder(g.Azimuth(0)-c.Azimuth.V, 360) * math.Sin(c.ApparentZenith.V*math.Pi/180)
	s.seeNum("azimuth_deg (track, times sin zenith)", "azimuth_deg", c.Azimuth.V+turn, c.Azimuth, sunAngle, place)
}

// judgeDay holds rise, set and the state of the civil day against the reference, which takes the observer at sea level.
func (c *sunposCase) judgeDay(s *sheet, at time.Time, o sun.Observer, place string) {
	zone := time.FixedZone("", int(math.Round(c.UTCOffset*3600)))
	if got := at.In(zone).Format("2006-01-02"); got != c.LocalDate {
		s.fault(c.ID, "local_date %q does not hold time_utc, which falls on %s", c.LocalDate, got)
		return
	}
	o.Elevation = 0
	d, err := sun.RiseSet(at.In(zone), o)
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	words := map[sun.DayState]string{sun.Normal: "normal", sun.AlwaysUp: "always_up", sun.AlwaysDown: "always_down", sun.Partial: "partial"}
	s.seeText("day_state", words[d.State], c.DayState, place)
	event := func(field string, got time.Time, want *string) {
		if want == nil {
			if !got.IsZero() {
				s.seeText(field+" (none)", got.UTC().Format(time.RFC3339), "", place)
			} else {
				s.seeText(field+" (none)", "", "", place)
			}
			return
		}
		w, err := time.Parse(time.RFC3339Nano, *want)
		if err != nil {
			s.fault(c.ID, "%s %q is not an instant", field, *want)
			return
		}
		off := math.Inf(1)
		if !got.IsZero() {
			off = got.Sub(w).Seconds()
		}
		s.see(field+" [s off]", "rise_set_s", off, 0, sunEvent, place)
	}
	event("sunrise_utc", d.Rise, c.Sunrise)
	event("sunset_utc", d.Set, c.Sunset)
}

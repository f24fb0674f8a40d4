package sun

import (
	"math"
	"testing"
	"time"

	"campwright/internal/near"
)

// spaExample is the worked example of [SPA], table A5.1.
func spaExample(t testing.TB) (time.Time, Observer, map[string]float64) {
	var file struct {
		Outputs map[string]float64 `json:"outputs"`
	}
	read(t, "nrel_spa_example.json", &file)
	o := Observer{Place{39.742476, -105.1786, 1830.14}, 820, 11, 67}
	return time.Date(2003, 10, 17, 12, 30, 30, 0, time.FixedZone("", -7*3600)), o, file.Outputs
}

// Every value the report prints on the way, to half its last digit.
func TestDetails_SPA_TableA5_1(t *testing.T) {
	at, o, printed := spaExample(t)
	d, err := Details(at, o)
	if err != nil {
		t.Fatal(err)
	}
	// The report rounds the Julian day to 1e-6 before it prints what hangs on it alone.
	const roundedDay = 0.5e-6
	checks := []struct {
		name string
		got  float64
		tol  float64
	}{
		{"JD", d.JD, roundedDay}, {"JDE", d.JDE, roundedDay},
		{"JC", d.JC, roundedDay / 36525}, {"JCE", d.JCE, roundedDay / 36525}, {"JME", d.JME, roundedDay / 365250},
		{"L_deg", d.L, 0.5e-10}, {"B_deg", d.B, 0.5e-10}, {"R_AU", d.R, 0.5e-10},
		{"Theta_deg", d.Theta, 0.5e-10}, {"beta_deg", d.Beta, 0.5e-10},
		{"X0", d.X[0], 0.5e-6}, {"X1", d.X[1], 0.5e-6}, {"X2", d.X[2], 0.5e-6}, {"X3", d.X[3], 0.5e-6}, {"X4", d.X[4], 0.5e-6},
		{"delta_psi_deg", d.DeltaPsi, 0.5e-7}, {"delta_epsilon_deg", d.DeltaEpsilon, 0.5e-8},
		{"epsilon0_arcsec", d.Epsilon0, 0.5e-6}, {"epsilon_deg", d.Epsilon, 0.5e-6},
		{"delta_tau_deg", d.DeltaTau, 0.5e-6}, {"lambda_deg", d.Lambda, 0.5e-10},
		{"nu_deg", d.Nu, 0.5e-5}, {"alpha_deg", d.Alpha, 0.5e-6}, {"delta_deg", d.Declination, 0.5e-5},
		{"H_deg", d.H, 0.5e-4}, {"xi_deg", d.Xi, 0.5e-6}, {"delta_alpha_deg", d.DeltaAlpha, 0.5e-6},
		{"alpha_prime_deg", d.AlphaPrime, 0.5e-5}, {"delta_prime_deg", d.DeltaPrime, 0.5e-6}, {"H_prime_deg", d.HPrime, 0.5e-5},
		{"e0_deg", d.E0, 0.5e-6}, {"delta_e_deg", d.DeltaE, 0.5e-6}, {"e_deg", d.E, 0.5e-6},
		{"zenith_topocentric_deg", 90 - d.E, 1e-7}, {"azimuth_deg", d.Azimuth, 1e-7},
		{"astronomers_azimuth_deg", d.Azimuth - 180, 1e-7},
		// Two values lie beside the printed one. Worked with 30 digits, eq. 28 gives 318.51557828 for the 318.515579 printed; and an
		// independent implementation (sunpos.json, SPA01) gives 14.6415107708 for the 14.641503 printed.
		{"nu0_deg", d.Nu0, 1e-6}, {"equation_of_time_min", d.EquationOfTime, 1e-5},
	}
	seen := 0
	for _, c := range checks {
		want, ok := printed[c.name]
		if !ok {
			t.Errorf("the report's table has no %s", c.name)
			continue
		}
		seen++
		near.Abs(t, c.name, c.got, want, c.tol*(1+1e-6), "last digit printed in [SPA] table A5.1")
	}
	plane := Plane{Tilt: 30, Azimuth: 170} // 10 degrees east of south
	cos := plane.CosIncidence(90-d.E, d.Azimuth)
	near.Abs(t, "incidence", math.Acos(cos)*degree, printed["incidence_deg"], 1e-7, "[SPA] table A5.1")
	if seen+1 != len(printed) {
		t.Errorf("compared %d of %d printed values", seen+1, len(printed))
	}
}

// position is a case of sunpos.json.
type position struct {
	ID           string    `json:"id"`
	Latitude     float64   `json:"latitude_deg"`
	Longitude    float64   `json:"longitude_deg"`
	Elevation    float64   `json:"elevation_m"`
	Pressure     float64   `json:"pressure_hpa"`
	Temperature  float64   `json:"temperature_c"`
	DeltaT       float64   `json:"delta_t_s"`
	Time         time.Time `json:"time_utc"`
	Zenith       float64   `json:"apparent_zenith_deg"`
	TrueZenith   float64   `json:"true_zenith_deg"`
	Azimuth      float64   `json:"azimuth_deg"`
	Equation     float64   `json:"equation_of_time_min"`
	Distance     float64   `json:"earth_sun_distance_au"`
	OffsetH      float64   `json:"utc_offset_h"`
	LocalDate    string    `json:"local_date"`
	Sunrise      *string   `json:"sunrise_utc"`
	Sunset       *string   `json:"sunset_utc"`
	DayState     string    `json:"day_state"`
	RefractionAt float64   `json:"atmos_refract_deg"`
}

func (p position) observer() Observer {
	return Observer{Place{p.Latitude, p.Longitude, p.Elevation}, p.Pressure, p.Temperature, p.DeltaT}
}

func positions(t testing.TB) []position {
	var file struct {
		Cases []position `json:"cases"`
	}
	read(t, "sunpos.json", &file)
	if len(file.Cases) != 31 {
		t.Fatalf("sunpos.json has %d cases, want 31", len(file.Cases))
	}
	return file.Cases
}

const spaAccuracy = "both are the same algorithm in double precision"

func TestAt_Reference(t *testing.T) {
	for _, c := range positions(t) {
		if c.RefractionAt != 0.5667 {
			t.Errorf("%s: refraction at the horizon %v, this package holds it at 0.5667", c.ID, c.RefractionAt)
		}
		p, err := At(c.Time, c.observer())
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		near.Abs(t, c.ID+" zenith", p.Zenith, c.Zenith, 1e-6, spaAccuracy)
		near.Abs(t, c.ID+" true zenith", p.TrueZenith, c.TrueZenith, 1e-6, spaAccuracy)
		near.Abs(t, c.ID+" azimuth", p.Azimuth, c.Azimuth, 1e-6/math.Sin(c.Zenith*radian), spaAccuracy)
		near.Abs(t, c.ID+" equation of time", p.EquationOfTime, c.Equation, 1e-7, spaAccuracy)
		near.Abs(t, c.ID+" distance", p.Distance, c.Distance, 1e-11, spaAccuracy)
	}
}

func TestAt_SecondReference(t *testing.T) {
	for _, r := range rows(t, "testdata/solar_position_vectors.csv", 42) {
		place := Place{r.num(t, "lat"), r.num(t, "lon_east"), r.num(t, "elev_m")}
		at, err := time.Parse("2006-01-02T15:04Z07:00", r["utc"])
		if err != nil {
			t.Fatal(err)
		}
		o := place.Observer()
		o.DeltaT = 69.2 // the reference does not say; this one it agrees with to its last digit
		p, err := At(at, o)
		if err != nil {
			t.Fatal(err)
		}
		name := r["site"] + " " + r["utc"]
		near.Printed(t, name+" zenith", p.Zenith, r.num(t, "zenith_apparent_deg"), 5, "the reference")
		near.Printed(t, name+" true zenith", p.TrueZenith, r.num(t, "zenith_true_deg"), 5, "the reference")
		near.Printed(t, name+" azimuth", p.Azimuth, r.num(t, "azimuth_deg_from_N"), 5, "the reference")
		near.Printed(t, name+" equation of time", p.EquationOfTime, r.num(t, "equation_of_time_min"), 4, "the reference")
	}
}

// U.S. Naval Observatory, Tucson 2014-10-10 08:30 MST: altitude 24.7, azimuth 116.3.
func TestAt_USNO_Tucson(t *testing.T) {
	p, err := At(time.Date(2014, 10, 10, 15, 30, 0, 0, time.UTC), Place{32.2, -111, 0}.Observer())
	if err != nil {
		t.Fatal(err)
	}
	const why = "half the last digit printed, and as much for the place, given to 0.1 degrees"
	near.Abs(t, "altitude", 90-p.Zenith, 24.7, 0.1, why)
	near.Abs(t, "azimuth", p.Azimuth, 116.3, 0.1, why)
}

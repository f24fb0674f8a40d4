package climate

import (
	"path/filepath"
	"testing"
	"time"

	"campwright/internal/near"
)

// Beam and diffuse light of a year of hours, made from the climate, against the sums of the public weather files.
func TestBeamAgainstWeatherFiles(t *testing.T) {
	dir := folder(t, "CAMPWRIGHT_WEATHER", "WEATHER")
	for _, r := range rows(t, filepath.Join(dir, "manifest.csv")) {
		elevation := number(t, r["elev_m"])
		latitude, longitude := number(t, r["lat"]), number(t, r["lon"])
		c, err := At(latitude, longitude, &elevation)
		if err != nil {
			t.Fatal(err)
		}
		g := mustNew(t, Params{Climate: c, Seed: 6})
		zone := time.FixedZone("", int(3600*number(t, r["tz_h"])))
		l, _ := columns(24)
		days := make([]Day, 1)
		global, beam, diffuse := 0.0, 0.0, 0.0
		const members = 20
		n := 0
		for day := 0; day < 365; day += 5 {
			date := time.Date(2027, 1, 1+day, 0, 0, 0, 0, zone)
			s := skyOf(t, latitude, longitude, elevation, date, 60, 24)
			for member := range members {
				g.Days(member, DayNumber(date), days)
				if err := s.Fill(days[0], l, nil); err != nil {
					t.Fatal(err)
				}
				for i := range l.GHI {
					global += l.GHI[i]
					beam += l.DNI[i]
					diffuse += l.DHI[i]
				}
				n++
			}
		}
		scale := 1 / float64(n) / 1000
		if n != 73*members {
			t.Fatalf("%d days", n)
		}
		// The files' global light differs from the climate's by their own years; beam and diffuse light are held against it in proportion.
		level := global * scale / number(t, r["ghi_annual_kwh_m2_day"])
		near.Rel(t, r["station"]+" beam over level", beam*scale/level, number(t, r["dni_annual"]), 0.12, "the split of hours is within 10 % on the year's beam; the shape of the days adds a little")
		near.Rel(t, r["station"]+" diffuse over level", diffuse*scale/level, number(t, r["dhi_annual"]), 0.16, "the same light seen from the other side: a smaller sum")
		t.Logf("%-42s global %.2f (%.2f) beam %.2f (%.2f) diffuse %.2f (%.2f)", r["station"], global*scale, number(t, r["ghi_annual_kwh_m2_day"]), beam*scale, number(t, r["dni_annual"]), diffuse*scale, number(t, r["dhi_annual"]))
	}
}

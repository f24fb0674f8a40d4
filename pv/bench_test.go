package pv

import (
	"math"
	"testing"
	"time"

	"campwright/sun"
)

// invented returns a year of steps of the given minutes of effective irradiance [W/m²] and cell temperature [°C], with days, seasons and clouds
// but no place. It is only work to do.
func invented(minutes int) (light, cell []float64) {
	n := 365 * 24 * 60 / minutes
	light, cell = make([]float64, n), make([]float64, n)
	cloud := uint32(1)
	for k := range n {
		day := float64(k*minutes) / 1440
		season := -math.Cos(2 * math.Pi * day / 365)
		height := 0.45*math.Cos(2*math.Pi*(day-0.5)) + 0.17 + 0.15*season
		cloud = cloud*1664525 + 1013904223
		light[k] = max(0, 1250*height) * (1 - 0.6*float64(cloud>>24)/255*float64(k/500%2))
		cell[k] = 12 + 12*season + 6*math.Cos(2*math.Pi*(day-0.6)) + 0.03*light[k]
	}
	return light, cell
}

// Recorded on a machine of 2 shared cores, otherwise busy, with go1.26, by
//
//	go test -run - -bench 'MaxPower|PowerColumn|YearToDC' ./pv
//
//	MaxPower/cold     95 to 135 ns
//	MaxPower/warm     90 to 120 ns
//	MaxPower/at       12 to 25 ns, the module's curve for irradiance and temperature
//	MaxPower/current  45 to 70 ns
//	PowerColumn       3.4 ms, 51 ns a step in light (66,043 of 105,120), no allocation
//	YearToDC          7.5 ms (53,125 steps in light); by profile Track 45 %, PowerColumn 24 %, Perez 18 %, OnPlane 6 %
//
// The budget of MaxPower is 150 ns; that of YearToDC stands at it.
func BenchmarkMaxPower(b *testing.B) {
	m := oracleModules(b)["GEN-200M36"]
	light, cell := invented(60)
	var curves []Curve
	for k := range light {
		if light[k] > 0 {
			curves = append(curves, m.At(light[k], cell[k]))
		}
	}
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		k, sum := 0, 0.0
		for b.Loop() {
			sum += curves[k].MaxPower().P
			if k++; k == len(curves) {
				k = 0
			}
		}
	})
	b.Run("warm", func(b *testing.B) {
		b.ReportAllocs()
		k, p := 0, Point{}
		for b.Loop() {
			p = curves[k].MaxPowerFrom(p)
			if k++; k == len(curves) {
				k = 0
			}
		}
	})
	b.Run("at", func(b *testing.B) {
		b.ReportAllocs()
		k, sum := 0, 0.0
		for b.Loop() {
			sum += m.At(light[k], cell[k]).I0
			if k++; k == len(light) {
				k = 0
			}
		}
	})
	b.Run("current", func(b *testing.B) {
		b.ReportAllocs()
		k, sum := 0, 0.0
		for b.Loop() {
			sum += curves[k].Current(13.3)
			if k++; k == len(curves) {
				k = 0
			}
		}
	})
}

func BenchmarkPowerColumn(b *testing.B) {
	m := oracleModules(b)["GEN-200M36"]
	light, cell := invented(5)
	dst := make([]float64, len(light))
	b.ReportAllocs()
	for b.Loop() {
		if err := m.PowerColumn(dst, light, cell); err != nil {
			b.Fatal(err)
		}
	}
	lit := 0
	for _, g := range light {
		if g > 0 {
			lit++
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(lit), "ns/lit-step")
}

// Budget: 20 ms for a year at five minutes, 105,120 steps, on one core, from place, weather, air and wind to direct current: the sun's track, the
// plane, Perez, the glass, Faiman, and the module solved at its greatest power in each step of light.
func BenchmarkYearToDC(b *testing.B) {
	m := oracleModules(b)["GEN-200M36"]
	const n = 105120
	o := sun.Place{Latitude: 39.7, Longitude: -105.2, Elevation: 1830}.Observer()
	steps := sun.Steps{Start: time.Date(2026, 1, 1, 0, 2, 30, 0, time.FixedZone("", -7*3600)), Step: 5 * time.Minute, Count: n}
	extra := sun.Extra{Constant: sun.SolarConstantASTM}
	g, err := sun.Track(o, steps, extra)
	if err != nil {
		b.Fatal(err)
	}
	// Weather by formula: skies from clear to overcast.
	sky, err := sun.NewClearSky(sun.ClearSkyParams{Turbidity: 3, Elevation: 1830})
	if err != nil {
		b.Fatal(err)
	}
	light := sun.NewLight(n)
	if err := sky.Fill(light, g); err != nil {
		b.Fatal(err)
	}
	_, air := invented(5)
	wind := make([]float64, n)
	for k := range n {
		light.GHI[k] *= 0.55 + 0.45*math.Sin(float64(k)*0.37)
		wind[k] = 2 + 1.5*math.Sin(float64(k)*0.011)
	}
	if err := sun.FillErbs(light, g); err != nil {
		b.Fatal(err)
	}
	glass, err := sun.NewASHRAE(0.05)
	if err != nil {
		b.Fatal(err)
	}
	parts := sun.NewPlaneLight(n)
	total, effective, cell, power := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	b.ReportAllocs()
	for b.Loop() {
		if err := g.Track(o, steps, extra); err != nil {
			b.Fatal(err)
		}
		plane, err := g.OnPlane(sun.Plane{Tilt: 25, Azimuth: 180, Albedo: 0.2})
		if err != nil {
			b.Fatal(err)
		}
		if err := plane.Transpose(parts, light, sun.Perez); err != nil {
			b.Fatal(err)
		}
		for k := range total {
			total[k] = parts.Beam[k] + parts.Sky[k] + parts.Ground[k]
		}
		if err := plane.Effective(effective, parts, &glass); err != nil {
			b.Fatal(err)
		}
		if err := CellColumn(cell, total, air, wind, Faiman{U0: 25, U1: 6.84}); err != nil {
			b.Fatal(err)
		}
		if err := m.PowerColumn(power, effective, cell); err != nil {
			b.Fatal(err)
		}
	}
	lit := 0
	for _, p := range power {
		if p > 0 {
			lit++
		}
	}
	b.ReportMetric(float64(lit), "lit-steps")
}

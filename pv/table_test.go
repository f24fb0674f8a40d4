package pv

import (
	"fmt"
	"math"
	"testing"

	"campwright/internal/near"
)

func TestPowerTable_againstSolution(t *testing.T) {
	for name, m := range oracleModules(t) {
		table := m.Table()
		rated := m.Rated()
		power, volts := near.Worst{}, near.Worst{}
		dim := near.Worst{}
		for light := 0.01; light < 2047.5; light *= 1.0237 {
			for cell := -60.0; cell <= 110; cell += 0.97 {
				top := m.At(light, cell).MaxPower()
				p, v := table.Look(light, cell)
				at := fmt.Sprint(light, " W/m² ", cell, " °C")
				if light < 1 {
					dim.See(p/rated.P, top.P/rated.P, at)
					continue
				}
				power.See(p/top.P, 1, at)
				volts.See(v/top.V, 1, at)
			}
		}
		if power.Count < 40000 || dim.Count < 10000 {
			t.Fatalf("%d and %d looks", power.Count, dim.Count)
		}
		t.Logf("%s: power %.1e at %s, voltage %.1e at %s, under 1 W/m² %.1e of rated", name, power.Off, power.Place, volts.Off, volts.Place, dim.Off)
		near.Within(t, name+" power, share of itself, worst at "+power.Place, power.Off, 0, 2e-4, "bound the table states")
		near.Within(t, name+" voltage, share of itself, worst at "+volts.Place, volts.Off, 0, 1e-4, "bound the table states")
		near.Within(t, name+" power under 1 W/m², share of rated", dim.Off, 0, 3e-5, "bound the table states")

		last := 0.0
		for light := 0.5; light < 2047; light += 0.5 {
			p, _ := table.Look(light, 33.3)
			if p <= last {
				t.Fatalf("%s: power falls at %g W/m²", name, light)
			}
			last = p
		}
		for _, k := range []struct{ light, cell, sameLight, sameCell float64 }{
			{3000, 25, 2047.9, 25}, {800, 300, 800, 110}, {800, -200, 800, -60}, {800, math.NaN(), 800, 110}, {math.Inf(1), 25, 2047.9, 25},
		} {
			p, v := table.Look(k.light, k.cell)
			wp, wv := table.Look(k.sameLight, k.sameCell)
			near.Rel(t, fmt.Sprint(name, " power clamped from ", k.light, " ", k.cell), p, wp, 1e-6, "clamped to the edge of the grid")
			near.Rel(t, fmt.Sprint(name, " voltage clamped from ", k.light, " ", k.cell), v, wv, 1e-6, "clamped to the edge of the grid")
		}
		for _, light := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
			if p, v := table.Look(light, 25); p != 0 || v != 0 {
				t.Errorf("%s: %g W, %g V at %g W/m², wanted nothing", name, p, v, light)
			}
		}
		a, err := NewArray(ArrayParams{Module: m, InSeries: 3, Strings: 2})
		if err != nil {
			t.Fatal(err)
		}
		p, v := a.Table().Look(640, 41)
		top := a.At(640, 41).MaxPower()
		near.Rel(t, name+" array power", p, top.P, 2e-4, "six modules")
		near.Rel(t, name+" array voltage", v, top.V, 1e-4, "three in series")
	}
}

// Recorded on a machine of 2 shared cores, otherwise busy, with go1.26, by
//
//	go test -run - -bench Table ./pv
//
//	Look 5 ns, Make 0.8 ms
func BenchmarkTable(b *testing.B) {
	m := oracleModules(b)["GEN-200M36"]
	light, cell := invented(60)
	table := m.Table()
	b.Run("Look", func(b *testing.B) {
		b.ReportAllocs()
		k, sum := 0, 0.0
		for b.Loop() {
			p, v := table.Look(light[k], cell[k])
			sum += p + v
			if k++; k == len(light) {
				k = 0
			}
		}
	})
	b.Run("Make", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			m.Table()
		}
	})
}

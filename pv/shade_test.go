package pv

import (
	"fmt"
	"testing"

	"campwright/internal/near"
)

type shadeCase struct {
	ID         string        `json:"id"`
	Module     string        `json:"module"`
	Cell       float64       `json:"cell_temp_c"`
	Substrings int           `json:"substrings_per_module"`
	Drop       float64       `json:"bypass_drop_v"`
	Light      [][][]float64 `json:"strings_irradiance_w_m2"`
	Voc        float64       `json:"v_oc_v"`
	Isc        float64       `json:"i_sc_a"`
	Maxima     []struct {
		V float64 `json:"v_v"`
		I float64 `json:"i_a"`
		P float64 `json:"p_w"`
	} `json:"local_maxima"`
	Global    int       `json:"global_index"`
	GlobalP   float64   `json:"global_p_w"`
	Unshaded  float64   `json:"unshaded_p_w"`
	V         []float64 `json:"iv_v"`
	I         []float64 `json:"iv_a"`
	GlobalV   float64   `json:"global_v_v"`
	GlobalAmp float64   `json:"global_i_a"`
}

// shadeCases returns the cases of testdata/shade.json with their arrays.
func shadeCases(t testing.TB) ([]shadeCase, []Array) {
	t.Helper()
	modules := oracleModules(t)
	var file struct{ Cases []shadeCase }
	readJSON(t, "testdata/shade.json", &file)
	if len(file.Cases) != 18 {
		t.Fatalf("%d cases, wanted 18", len(file.Cases))
	}
	arrays := make([]Array, len(file.Cases))
	for k, s := range file.Cases {
		a, err := NewArray(ArrayParams{Module: modules[s.Module], InSeries: len(s.Light[0]), Strings: len(s.Light), Substrings: s.Substrings,
			DropV: s.Drop})
		if err != nil {
			t.Fatal(err)
		}
		arrays[k] = a
	}
	return file.Cases, arrays
}

func TestShade_reference(t *testing.T) {
	cases, arrays := shadeCases(t)
	var shade Shade // one for all, so that reuse is tested too
	points := 0
	for k, s := range cases {
		if err := shade.Set(arrays[k], s.Light, s.Cell); err != nil {
			t.Fatal(err)
		}
		const why = "the file prints 12 digits; it suggests 1e-5 of power, 1e-2 V, 1e-5 A"
		near.Abs(t, s.ID+" Voc", shade.Voc(), s.Voc, 1e-6, "a dark substring turns 1e-16 A into 1e-7 V, which is the rounding of the reference")
		near.Abs(t, s.ID+" Isc", shade.Isc(), s.Isc, 1e-8, why)
		if len(shade.Maxima()) != len(s.Maxima) {
			t.Errorf("%s: %d local maxima %v, wanted %d", s.ID, len(shade.Maxima()), shade.Maxima(), len(s.Maxima))
			continue
		}
		for j, want := range s.Maxima {
			got := shade.Maxima()[j]
			name := fmt.Sprint(s.ID, " maximum ", j)
			near.Rel(t, name+" P", got.P, want.P, 1e-8, why)
			near.Abs(t, name+" V", got.V, want.V, 1e-4, why)
			near.Abs(t, name+" I", got.I, want.I, 1e-4, why)
			near.Abs(t, name+" loss", shade.Stuck(j), 1-want.P/s.GlobalP, 1e-8, why)
		}
		near.Rel(t, s.ID+" best", shade.Best().P, s.GlobalP, 1e-8, why)
		near.Abs(t, s.ID+" best V", shade.Best().V, s.GlobalV, 1e-4, why)
		light := 0.0
		for _, m := range s.Light {
			for _, sub := range m {
				light = max(light, sub[0], sub[1])
			}
		}
		near.Rel(t, s.ID+" unshaded", arrays[k].At(light, s.Cell).MaxPower().P, s.Unshaded, 1e-8, why)
		for j := range s.V {
			near.Abs(t, fmt.Sprint(s.ID, " I at ", s.V[j]), shade.Current(s.V[j]), s.I[j], 1e-8, why)
			points++
		}
	}
	if points != 18*41 {
		t.Fatalf("%d points, wanted 738", points)
	}
}

// Recorded on a machine of 2 shared cores, otherwise busy, with go1.26, by
//
//	go test -run - -bench Shade ./pv
//
//	SHP01 one module, even light                          1.5 µs
//	SHP04 four in series, one substring weak              4 µs
//	SHP07 four in series, eight different substrings      27 µs
//	SHP11 six in parallel, one dark                       6 µs
//	SHP13 six in parallel, all different                  72 µs
//	SHP18 two strings of two, each with its own weak part 46 µs
//
// Each is the whole curve set up, its ends, and all maxima.
func BenchmarkShade(b *testing.B) {
	cases, arrays := shadeCases(b)
	for _, k := range []int{0, 3, 6, 10, 12, 17} {
		b.Run(cases[k].ID, func(b *testing.B) {
			b.ReportAllocs()
			var shade Shade
			for b.Loop() {
				if err := shade.Set(arrays[k], cases[k].Light, cases[k].Cell); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

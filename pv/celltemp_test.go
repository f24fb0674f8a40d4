package pv

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// The handbook's vectors of cell temperature, computed with a general reference library.
func TestCellTemperature_vectors(t *testing.T) {
	table := readTable(t, reference(t, "trade", "cell_temperature_vectors.csv"))
	light, air, wind := numbers(t, table, "G"), numbers(t, table, "Ta"), numbers(t, table, "wind10m")
	if len(light) != 6 {
		t.Fatalf("%d rows, wanted 6", len(light))
	}
	models := map[string]CellTemperature{
		"ross_noct45":               NOCT(45),
		"sapm_open_rack_gp":         SAPM{A: -3.56, B: -0.075, DeltaT: 3},
		"sapm_close_mount_gg":       SAPM{A: -2.98, B: -0.0471, DeltaT: 1},
		"sapm_insulated_back_gp":    SAPM{A: -2.81, B: -0.0455},
		"faiman_u25_6.84":           Faiman{U0: 25, U1: 6.84},
		"linear_uc_free_u29":        HeatLoss{Uc: 29, Efficiency: 0.2, Absorptance: 0.9},
		"linear_uc_insulated_u15":   HeatLoss{Uc: 15, Efficiency: 0.2, Absorptance: 0.9},
		"ross_noct45 as a constant": Ross{K: 25.0 / 800},
	}
	for name, m := range models {
		column := name
		if name == "ross_noct45 as a constant" {
			column = "ross_noct45"
		}
		for k, want := range numbers(t, table, column) {
			near.Printed(t, name, m.Cell(light[k], air[k], wind[k]), want, 3, "cell_temperature_vectors.csv")
		}
	}
	near.Abs(t, "W15", NOCT(45).Cell(1000, 25, 1), 56.25, 1e-9, "worked example W15: 56.25 °C")
	near.Printed(t, "W29", SAPM{A: -2.98, B: -0.0471, DeltaT: 1}.Cell(1000, 25, 1), 74.456, 3, "worked example W29 and the handbook: 74.5 °C")
}

func TestMounting(t *testing.T) {
	// Warmer with less air behind it, in any light and the wind one assumes; the same as the air in the dark.
	last := 0.0
	for _, m := range []Mounting{Raised, Close, Bonded} {
		model, source, err := m.Model()
		if err != nil || source == "" {
			t.Fatalf("%v: %v, source %q", m, err, source)
		}
		rise := model.Cell(1000, 30, DefaultWind) - 30
		if rise <= last {
			t.Errorf("%v: %g K above the air, wanted more than the mounting before it, %g", m, rise, last)
		}
		last = rise
		near.Abs(t, m.String()+" in the dark", model.Cell(0, -3, 2), -3, 0, "no light, no warmth")
		near.Abs(t, m.String()+" light below zero", model.Cell(-4, -3, 2), -3, 0, "an instrument's offset is no cooling")
		near.Abs(t, m.String()+" wind below zero", model.Cell(700, 20, -1), model.Cell(700, 20, 0), 0, "as none")
		near.Abs(t, m.String()+" in proportion", model.Cell(800, 10, 3)-10, 2*(model.Cell(400, 10, 3)-10), 1e-12, "all these models are linear in light")
		if model.Cell(800, 10, 6) > model.Cell(800, 10, 1) {
			t.Errorf("%v: wind warms", m)
		}
	}
	// The handbook, after the table of Ross coefficients: 0.026 to 0.034 for roofs of such vehicles.
	model, _, _ := Close.Model()
	near.Within(t, "close mounting", model.Cell(1000, 0, DefaultWind)/1000, 0.026, 0.0345, "handbook, section 3: 0.026 to 0.034 K·m²/W")
	for _, m := range []Mounting{0, Bonded + 1, 255} {
		if model, _, err := m.Model(); err == nil || model != nil {
			t.Errorf("mounting %d: no error", m)
		}
		if m.String() == "" {
			t.Errorf("mounting %d has no name", m)
		}
	}
	if err := CellColumn(make([]float64, 3), make([]float64, 3), make([]float64, 2), make([]float64, 3), Ross{K: 0.03}); err == nil {
		t.Error("columns of unequal length: no error")
	}
	dst := make([]float64, 2)
	if err := CellColumn(dst, []float64{500, math.NaN()}, []float64{20, 20}, []float64{1, 1}, Ross{K: 0.03}); err != nil || dst[0] != 35 || !math.IsNaN(dst[1]) {
		t.Errorf("column %v %v, wanted 35 and not a number, for PowerColumn to refuse", dst, err)
	}
}

// Worked example W17 of the handbook: generic 200 W module, greatest power at 800 W/m² and 45 °C carried to standard test conditions.
func TestCorrection_W17(t *testing.T) {
	c := Correction{AlphaAPerK: 0.0057, BetaVPerK: -0.066218, Rs: 0.129669}
	p := c.Apply(Point{V: 17.2665, I: 8.64, P: 17.2665 * 8.64}, 9.2127, 800, 1000, 45, 25)
	near.Printed(t, "I2", p.I, 10.8292, 4, "W17")
	near.Printed(t, "V2", p.V, 18.307, 3, "W17")
	near.Printed(t, "P2", p.P, 198.25, 2, "W17")
	// The exact single diode, from the same parameters: 199.95 W, so that the procedure is 0.85 % low.
	m, err := NewModule(ModuleParams{IL: 11.409854844763094, I0: 3.2893852368772933e-11, Rs: 0.12966900801458836, Rsh: 150, A: 0.8509382204760272,
		AlphaAPerK: 0.0057})
	if err != nil {
		t.Fatal(err)
	}
	near.Printed(t, "P of the single diode", m.Rated().P, 199.95, 2, "W17")
	near.Abs(t, "the procedure against it", p.P/m.Rated().P-1, -0.0085, 5e-5, "W17")
	from := m.At(800, 45)
	top := from.MaxPower()
	mine := c.Apply(top, from.Isc(), 800, 1000, 45, 25)
	near.Rel(t, "our own points carried over", mine.P, 198.25, 1e-4, "W17, whose points are printed to four decimals")
	near.Rel(t, "and back", c.Apply(mine, from.Isc()*1.25-0.0057*20, 1000, 800, 25, 45).V, top.V, 0.01, "the procedure is not its own inverse, but near")
	if q := c.Apply(top, 9, 0, 1000, 45, 45); q != top {
		t.Errorf("no irradiance to start from: %v, wanted no change", q)
	}
}

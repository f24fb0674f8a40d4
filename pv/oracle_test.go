package pv

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"campwright/internal/near"
)

// The files testdata/modules.json, singlediode.json, celltemp.json and shade.json are an independent reference, computed with
// general-purpose tools, two implementations agreeing.

// reference returns the folder of independent answers and handbook values, or skips the test.
func reference(t testing.TB, path ...string) string {
	t.Helper()
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: set CAMPWRIGHT_REFERENCE to the folder of reference data")
	}
	return filepath.Join(append([]string{dir}, path...)...)
}

// readJSON decodes a file or ends the test.
func readJSON(t testing.TB, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

type oracleModule struct {
	ID    string `json:"id"`
	Cells int    `json:"cells_in_series"`
	Sheet struct {
		P     float64 `json:"p_mp_W"`
		Isc   float64 `json:"i_sc_A"`
		Voc   float64 `json:"v_oc_V"`
		Imp   float64 `json:"i_mp_A"`
		Vmp   float64 `json:"v_mp_V"`
		Alpha float64 `json:"alpha_isc_percent_per_K"`
		Beta  float64 `json:"beta_voc_percent_per_K"`
	} `json:"datasheet"`
	IL     float64 `json:"I_L_ref_A"`
	I0     float64 `json:"I_o_ref_A"`
	Rs     float64 `json:"R_s_ohm"`
	Rsh    float64 `json:"R_sh_ref_ohm"`
	A      float64 `json:"a_ref_V"`
	Alpha  float64 `json:"alpha_sc_A_per_K"`
	Adjust float64 `json:"adjust_percent"`
	Eg     float64 `json:"EgRef_eV"`
	EgPerK float64 `json:"dEgdT_per_K"`
}

// oracleModules returns the invented modules of testdata/modules.json by name.
func oracleModules(t testing.TB) map[string]Module {
	t.Helper()
	var file struct{ Modules []oracleModule }
	readJSON(t, "testdata/modules.json", &file)
	byName := map[string]Module{}
	for _, o := range file.Modules {
		m, err := NewModule(ModuleParams{IL: o.IL, I0: o.I0, Rs: o.Rs, Rsh: o.Rsh, A: o.A, AlphaAPerK: o.Alpha, AdjustPercent: o.Adjust,
			EgEV: o.Eg, EgPerK: o.EgPerK, Cells: o.Cells})
		if err != nil {
			t.Fatal(err)
		}
		byName[o.ID] = m
	}
	if len(byName) != 3 {
		t.Fatalf("modules.json: %d modules, wanted 3", len(byName))
	}
	return byName
}

func TestModule_singlediode(t *testing.T) {
	modules := oracleModules(t)
	var file struct {
		Cases []struct {
			ID     string    `json:"id"`
			Module string    `json:"module"`
			G      float64   `json:"irradiance_w_m2"`
			T      float64   `json:"cell_temp_c"`
			IL     float64   `json:"il_a"`
			I0     float64   `json:"i0_a"`
			Rs     float64   `json:"rs_ohm"`
			Rsh    float64   `json:"rsh_ohm"`
			A      float64   `json:"a_v"`
			Isc    float64   `json:"i_sc_a"`
			Imp    float64   `json:"i_mp_a"`
			Voc    float64   `json:"v_oc_v"`
			Vmp    float64   `json:"v_mp_v"`
			P      float64   `json:"p_mp_w"`
			V      []float64 `json:"iv_v"`
			I      []float64 `json:"iv_a"`
		} `json:"cases"`
	}
	readJSON(t, "testdata/singlediode.json", &file)
	if len(file.Cases) != 75 {
		t.Fatalf("%d cases, wanted 75", len(file.Cases))
	}
	points := 0
	for _, k := range file.Cases {
		const digits = "the file prints 12 digits, and the parameters of the case nine"
		c := modules[k.Module].At(k.G, k.T)
		near.Rel(t, k.ID+" IL", c.IL, k.IL, 1e-11, digits)
		near.Rel(t, k.ID+" I0", c.I0, k.I0, 1e-10, digits)
		near.Rel(t, k.ID+" Rs", c.Rs, k.Rs, 1e-11, digits)
		near.Rel(t, k.ID+" Rsh", c.Rsh, k.Rsh, 1e-11, digits)
		near.Rel(t, k.ID+" A", c.A, k.A, 1e-11, digits)
		near.Abs(t, k.ID+" Isc", c.Isc(), k.Isc, 1e-9, digits)
		near.Abs(t, k.ID+" Voc", c.Voc(), k.Voc, 1e-9, digits)
		top := c.MaxPower()
		near.Rel(t, k.ID+" P", top.P, k.P, 1e-8, "the project asks for 1e-8, the file suggests 1e-6")
		near.Abs(t, k.ID+" Vmp", top.V, k.Vmp, 1e-6, "the file suggests 1e-3; the maximum is flat, but both were solved on its slope")
		near.Abs(t, k.ID+" Imp", top.I, k.Imp, 1e-6, "as Vmp")
		for j := range k.V {
			near.Abs(t, fmt.Sprint(k.ID, " I at ", k.V[j]), c.Current(k.V[j]), k.I[j], 1e-9, digits)
			if k.I[j] > 0 && k.I[j] < 0.98*k.Isc { // nearer to short circuit the shunt magnifies the last digit of the current
				near.Abs(t, fmt.Sprint(k.ID, " V at ", k.I[j]), c.Voltage(k.I[j]), k.V[j], 1e-7, digits)
			}
			points++
		}
	}
	if points != 75*20 {
		t.Fatalf("%d points of curves, wanted 1500", points)
	}
}

// digits decodes a decimal string.
type digits float64

func (d *digits) UnmarshalText(b []byte) error {
	v, err := strconv.ParseFloat(string(b), 64)
	*d = digits(v)
	return err
}

// Thirty-two curves solved elsewhere with forty digits.
func TestCurve_preciseIV(t *testing.T) {
	var file struct {
		Tolerance struct {
			Isc float64 `json:"i_sc_a"`
			Voc float64 `json:"v_oc_v"`
			P   float64 `json:"p_mp_w"`
			Vmp float64 `json:"v_mp_v"`
			Imp float64 `json:"i_mp_a"`
			I   float64 `json:"currents_a"`
		} `json:"suggested_tolerance"`
		Curves []struct {
			Index int      `json:"index"`
			IL    float64  `json:"photocurrent_a"`
			I0    float64  `json:"saturation_current_a"`
			Rs    float64  `json:"resistance_series_ohm"`
			Rsh   float64  `json:"resistance_shunt_ohm"`
			A     digits   `json:"a_v"`
			Isc   digits   `json:"i_sc_a"`
			Voc   digits   `json:"v_oc_v"`
			Imp   digits   `json:"i_mp_a"`
			Vmp   digits   `json:"v_mp_v"`
			P     digits   `json:"p_mp_w"`
			Ix    digits   `json:"i_x_a"`
			Ixx   digits   `json:"i_xx_a"`
			V     []digits `json:"voltages_v"`
			I     []digits `json:"currents_a"`
		} `json:"curves"`
	}
	readJSON(t, reference(t, "oracle", "precise_iv.json"), &file)
	if len(file.Curves) != 32 {
		t.Fatalf("%d curves, wanted 32", len(file.Curves))
	}
	tol := file.Tolerance
	if tol.I != 1e-9 || tol.P != 1e-8 {
		t.Fatalf("tolerances of the file not understood: %+v", tol)
	}
	points := 0
	for _, k := range file.Curves {
		const why = "tolerance the file suggests"
		c := Curve{IL: k.IL, I0: k.I0, Rs: k.Rs, Rsh: k.Rsh, A: float64(k.A)}
		name := fmt.Sprint("curve ", k.Index)
		near.Abs(t, name+" Isc", c.Isc(), float64(k.Isc), tol.Isc, why)
		near.Abs(t, name+" Voc", c.Voc(), float64(k.Voc), tol.Voc, why)
		top := c.MaxPower()
		near.Abs(t, name+" P", top.P, float64(k.P), tol.P, why)
		near.Abs(t, name+" Vmp", top.V, float64(k.Vmp), tol.Vmp, why)
		near.Abs(t, name+" Imp", top.I, float64(k.Imp), tol.Imp, why)
		near.Abs(t, name+" Ix", c.Current(float64(k.Voc)/2), float64(k.Ix), tol.I, why)
		near.Abs(t, name+" Ixx", c.Current(float64(k.Voc+k.Vmp)/2), float64(k.Ixx), tol.I, why)
		for j := range k.V {
			near.Abs(t, fmt.Sprint(name, " I at ", k.V[j]), c.Current(float64(k.V[j])), float64(k.I[j]), tol.I, why)
			points++
		}
	}
	if points != 3200 {
		t.Fatalf("%d points, wanted 3200", points)
	}
}

func TestCellTemperature_celltemp(t *testing.T) {
	var file struct {
		Cases []struct {
			ID    string  `json:"id"`
			Model string  `json:"model"`
			G     float64 `json:"poa_w_m2"`
			Air   float64 `json:"air_temp_c"`
			Wind  float64 `json:"wind_m_s"`
			U0    float64 `json:"u0_w_m2_k"`
			U1    float64 `json:"u1_w_s_m3_k"`
			NOCT  float64 `json:"noct_c"`
			A     float64 `json:"a"`
			B     float64 `json:"b_s_m"`
			Delta float64 `json:"delta_t_k"`
			Uc    float64 `json:"u_c_w_m2_k"`
			Uv    float64 `json:"u_v_w_s_m3_k"`
			Eff   float64 `json:"module_efficiency"`
			Abs   float64 `json:"absorptance"`
			Cell  float64 `json:"cell_temp_c"`
		} `json:"cases"`
	}
	readJSON(t, "testdata/celltemp.json", &file)
	seen := map[string]int{}
	for _, k := range file.Cases {
		var m CellTemperature
		switch k.Model {
		case "faiman":
			m = Faiman{U0: k.U0, U1: k.U1}
		case "ross_noct":
			m = NOCT(k.NOCT)
		case "sapm":
			m = SAPM{A: k.A, B: k.B, DeltaT: k.Delta}
		case "linear_heat_loss":
			m = HeatLoss{Uc: k.Uc, Uv: k.Uv, Efficiency: k.Eff, Absorptance: k.Abs}
		default:
			t.Fatalf("%s: model %q unknown", k.ID, k.Model)
		}
		seen[k.Model]++
		near.Abs(t, k.ID, m.Cell(k.G, k.Air, k.Wind), k.Cell, 1e-6, "tolerance of the file")
		var one [1]float64
		if err := CellColumn(one[:], []float64{k.G}, []float64{k.Air}, []float64{k.Wind}, m); err != nil {
			t.Fatal(err)
		}
		near.Abs(t, k.ID+" column", one[0], k.Cell, 1e-6, "tolerance of the file")
	}
	if len(seen) != 4 {
		t.Fatalf("models seen: %v, wanted four", seen)
	}
}

package oracle

import (
	"fmt"

	"campwright/pv"
)

// Targets for module curves: 1e-8 of power and voltage and current at the ends; the position of the maximum is flat, so that 1e-8 of
// power leaves 1e-4 of voltage: it is held to 1e-6 all the same, since both sides solve on the slope.
var (
	diodeParameter = Limit{Rel: 1e-9} // the module's own parameters are printed with nine digits
	diodePower     = Limit{Rel: 1e-8}
	diodeEnd       = Limit{Abs: 1e-9, Rel: 1e-8}
	diodeTop       = Limit{Abs: 1e-6}
	diodeCurrent   = Limit{Abs: 1e-9, Rel: 1e-8}
)

// moduleSet is the modules of one file.
type moduleSet struct {
	byID  map[string]pv.Module
	order []string
}

type moduleCase struct {
	ID          string `json:"id"`
	Description string `json:"description"`
	Cells       int    `json:"cells_in_series"`
	Sheet       struct {
		Power Num `json:"p_mp_W"`
		Isc   Num `json:"i_sc_A"`
		Voc   Num `json:"v_oc_V"`
		Imp   Num `json:"i_mp_A"`
		Vmp   Num `json:"v_mp_V"`
		Alpha Num `json:"alpha_isc_percent_per_K"`
		Beta  Num `json:"beta_voc_percent_per_K"`
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
	RefG   float64 `json:"irrad_ref_W_m2"`
	RefT   float64 `json:"temp_ref_C"`
	STC    struct {
		Power Num `json:"p_mp_W"`
		Isc   Num `json:"i_sc_A"`
		Voc   Num `json:"v_oc_V"`
		Imp   Num `json:"i_mp_A"`
		Vmp   Num `json:"v_mp_V"`
	} `json:"stc_from_parameters"`
}

type moduleFile struct {
	prose
	Modules []moduleCase `json:"modules"`
}

// module makes the program's module of a case.
func (c *moduleCase) module() (pv.Module, error) {
	if c.RefG != 1000 || c.RefT != 25 {
		return pv.Module{}, fmt.Errorf("reference state %g W/m2, %g C: only 1000 and 25 are known", c.RefG, c.RefT)
	}
	return pv.NewModule(pv.ModuleParams{
		IL: c.IL, I0: c.I0, Rs: c.Rs, Rsh: c.Rsh, A: c.A, AlphaAPerK: c.Alpha, AdjustPercent: c.Adjust,
		EgEV: c.Eg, EgPerK: c.EgPerK, Cells: c.Cells,
	})
}

// moduleSet returns the modules of a file, reading it once; faults are told on the sheet that asks.
func (f *folder) moduleSet(s *sheet, name string) (moduleSet, bool) {
	if set, ok := f.modules[name]; ok {
		return set, len(set.order) > 0
	}
	set := moduleSet{byID: map[string]pv.Module{}}
	var file moduleFile
	if err := f.decode(name, &file); err != nil {
		s.fault("", "modules_file %s: %v", name, err)
	}
	for _, c := range file.Modules {
		m, err := c.module()
		if err != nil {
			s.fault(c.ID, "%v", err)
			continue
		}
		set.byID[c.ID] = m
		set.order = append(set.order, c.ID)
	}
	if f.modules == nil {
		f.modules = map[string]moduleSet{}
	}
	f.modules[name] = set
	return set, len(set.order) > 0
}

func judgeModules(f *folder, s *sheet) {
	var file moduleFile
	if !f.load(s, &file) {
		return
	}
	for _, c := range file.Modules {
		m, err := c.module()
		if err != nil {
			s.fault(c.ID, "%v", err)
			continue
		}
		curve, top := m.At(1000, 25), m.Rated()
		s.seeNum("stc p_mp_W", "", top.P, c.STC.Power, diodePower, c.ID)
		s.seeNum("stc i_sc_A", "", curve.Isc(), c.STC.Isc, diodeEnd, c.ID)
		s.seeNum("stc v_oc_V", "", curve.Voc(), c.STC.Voc, diodeEnd, c.ID)
		s.seeNum("stc i_mp_A", "", top.I, c.STC.Imp, diodeTop, c.ID)
		s.seeNum("stc v_mp_V", "", top.V, c.STC.Vmp, diodeTop, c.ID)
		c.judgeFit(s)
	}
}

// judgeFit lets the program fit a module of its own to the sheet and holds the sheet's figures against it.
func (c *moduleCase) judgeFit(s *sheet) {
	d := c.Sheet
	fit, err := pv.Fit(pv.Datasheet{
		PowerW: d.Power.V, VocV: d.Voc.V, IscA: d.Isc.V, VmpV: d.Vmp.V, ImpA: d.Imp.V,
		Alpha: d.Alpha.V / 100, Beta: d.Beta.V / 100, Cells: c.Cells,
	})
	if err != nil {
		s.fault(c.ID, "%v", err)
		return
	}
	curve, top := fit.Module.At(1000, 25), fit.Module.Rated()
	sheet := Limit{Rel: 1e-6}
	s.seeNum("fitted p_mp_W", "", top.P, d.Power, sheet, c.ID)
	s.seeNum("fitted i_sc_A", "", curve.Isc(), d.Isc, sheet, c.ID)
	s.seeNum("fitted v_oc_V", "", curve.Voc(), d.Voc, sheet, c.ID)
	s.seeNum("fitted i_mp_A", "", top.I, d.Imp, sheet, c.ID)
	s.seeNum("fitted v_mp_V", "", top.V, d.Vmp, sheet, c.ID)
}

type diodeCase struct {
	ID     string    `json:"id"`
	Module string    `json:"module"`
	Light  float64   `json:"irradiance_w_m2"`
	Cell   float64   `json:"cell_temp_c"`
	IL     Num       `json:"il_a"`
	I0     Num       `json:"i0_a"`
	Rs     Num       `json:"rs_ohm"`
	Rsh    Num       `json:"rsh_ohm"`
	A      Num       `json:"a_v"`
	Isc    Num       `json:"i_sc_a"`
	Voc    Num       `json:"v_oc_v"`
	Imp    Num       `json:"i_mp_a"`
	Vmp    Num       `json:"v_mp_v"`
	Power  Num       `json:"p_mp_w"`
	V      []float64 `json:"iv_v"`
	I      []float64 `json:"iv_a"`
}

func judgeSinglediode(f *folder, s *sheet) {
	var file struct {
		prose
		Cases []diodeCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	set, ok := f.moduleSet(s, file.modulesFile())
	if !ok {
		return
	}
	for _, c := range file.Cases {
		m, ok := set.byID[c.Module]
		if !ok {
			s.fault(c.ID, "module %q is not in %s", c.Module, file.modulesFile())
			continue
		}
		place := fmt.Sprintf("%s %s %g W/m2 %g C", c.ID, c.Module, c.Light, c.Cell)
		curve := m.At(c.Light, c.Cell)
		s.seeNum("il_a", "", curve.IL, c.IL, diodeParameter, place)
		s.seeNum("i0_a", "", curve.I0, c.I0, diodeParameter, place)
		s.seeNum("rs_ohm", "", curve.Rs, c.Rs, diodeParameter, place)
		if c.Rsh.Null {
			s.see("rsh_ohm (none)", "", 1/curve.Rsh, 0, Limit{}, place)
		} else {
			s.seeNum("rsh_ohm", "", curve.Rsh, c.Rsh, diodeParameter, place)
		}
		s.seeNum("a_v", "", curve.A, c.A, diodeParameter, place)
		top := curve.MaxPower()
		s.seeNum("i_sc_a", "i_sc_a", curve.Isc(), c.Isc, diodeEnd, place)
		s.seeNum("v_oc_v", "v_oc_v", curve.Voc(), c.Voc, diodeEnd, place)
		s.seeNum("i_mp_a", "i_mp_a", top.I, c.Imp, diodeTop, place)
		s.seeNum("v_mp_v", "v_mp_v", top.V, c.Vmp, diodeTop, place)
		s.seeNum("p_mp_w", "p_mp_w", top.P, c.Power, diodePower, place)
		judgeCurve(s, curve.Current, c.V, c.I, diodeCurrent, "iv_a", place)
	}
}

// judgeCurve holds the current of a curve against points of a reference.
func judgeCurve(s *sheet, current func(float64) float64, volts, amps []float64, limit Limit, field, place string) {
	if len(volts) != len(amps) || len(volts) == 0 {
		s.fault(place, "%d voltages and %d currents", len(volts), len(amps))
		return
	}
	for j, v := range volts {
		s.see(field, field, current(v), amps[j], limit, fmt.Sprintf("%s at %g V", place, v))
	}
}

type preciseCurve struct {
	Index       int     `json:"index"`
	IL          float64 `json:"photocurrent_a"`
	I0          float64 `json:"saturation_current_a"`
	Rs          float64 `json:"resistance_series_ohm"`
	Rsh         float64 `json:"resistance_shunt_ohm"`
	N           float64 `json:"n"`
	Cells       int     `json:"cells_in_series"`
	Temperature float64 `json:"temperature_k"`
	A           Num     `json:"a_v"`
	Isc         Num     `json:"i_sc_a"`
	Voc         Num     `json:"v_oc_v"`
	Imp         Num     `json:"i_mp_a"`
	Vmp         Num     `json:"v_mp_v"`
	Power       Num     `json:"p_mp_w"`
	Ix          Num     `json:"i_x_a"`
	Ixx         Num     `json:"i_xx_a"`
	V           []Num   `json:"voltages_v"`
	I           []Num   `json:"currents_a"`
}

func judgePreciseIV(f *folder, s *sheet) {
	var file struct {
		prose
		Curves []preciseCurve `json:"curves"`
	}
	if !f.load(s, &file) {
		return
	}
	for _, c := range file.Curves {
		curve := pv.Curve{IL: c.IL, I0: c.I0, Rs: c.Rs, Rsh: c.Rsh, A: c.A.V}
		place := fmt.Sprintf("curve %d", c.Index)
		if err := curve.Check(); err != nil {
			s.fault(place, "%v", err)
			continue
		}
		s.seeNum("a_v", "", c.N*float64(c.Cells)*1.380649e-23*c.Temperature/1.602176634e-19, c.A, Limit{Rel: 1e-12}, place)
		top := curve.MaxPower()
		s.seeNum("i_sc_a", "i_sc_a", curve.Isc(), c.Isc, Limit{Abs: 1e-9}, place)
		s.seeNum("v_oc_v", "v_oc_v", curve.Voc(), c.Voc, Limit{Abs: 1e-9}, place)
		s.seeNum("i_mp_a", "i_mp_a", top.I, c.Imp, diodeTop, place)
		s.seeNum("v_mp_v", "v_mp_v", top.V, c.Vmp, Limit{Abs: 1e-5}, place)
		s.seeNum("p_mp_w", "p_mp_w", top.P, c.Power, Limit{Abs: 1e-8}, place)
		s.seeNum("i_x_a", "", curve.Current(c.Voc.V/2), c.Ix, Limit{Abs: 1e-9}, place)
		s.seeNum("i_xx_a", "", curve.Current((c.Voc.V+c.Vmp.V)/2), c.Ixx, Limit{Abs: 1e-9}, place)
		if len(c.V) != len(c.I) || len(c.V) == 0 {
			s.fault(place, "%d voltages and %d currents", len(c.V), len(c.I))
		}
		for j := range min(len(c.V), len(c.I)) {
			s.seeNum("currents_a", "currents_a", curve.Current(c.V[j].V), c.I[j], Limit{Abs: 1e-9}, fmt.Sprintf("%s at %g V", place, c.V[j].V))
		}
	}
}

package oracle

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// check fails the test with everything that counts against the program.
func check(t *testing.T, r *Report) {
	t.Helper()
	for _, f := range r.Faults {
		t.Error(f)
	}
	for _, l := range r.Lines {
		if l.Beyond > 0 {
			t.Errorf("%s %s: %d of %d beyond %v, worst off by %.3g: got %.12g, want %.12g at %s",
				l.File, l.Field, l.Beyond, l.Count, l.Target, float64(l.Worst), float64(l.Got), l.Want, l.Place)
		}
	}
	if r.Compared() == 0 {
		t.Error("nothing was compared")
	}
	t.Logf("%s: %d files, %d fields, %d comparisons", r.Folder, len(r.Files), len(r.Lines), r.Compared())
}

// The part of the independent reference that is kept with the project.
func TestCommitted(t *testing.T) {
	check(t, Run(os.DirFS("testdata"), "testdata"))
}

// The whole independent reference, where it lies beside the project.
func TestReference(t *testing.T) {
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: CAMPWRIGHT_REFERENCE is not set; the part kept with the project was compared")
	}
	r := Run(os.DirFS(filepath.Join(dir, "oracle")), dir)
	check(t, r)
	if len(r.Files) != len(kinds) {
		t.Errorf("%d of %d kinds of file compared: %v", len(r.Files), len(kinds), r.Notes)
	}
}

// committed reads the kept files into memory, so that a test may spoil them.
func committed(t *testing.T) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS("testdata"), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(p) == ".md" {
			return err
		}
		raw, err := os.ReadFile(filepath.Join("testdata", p))
		out[p] = &fstest.MapFile{Data: raw}
		return err
	})
	if err != nil || len(out) < 10 {
		t.Fatalf("%d files kept: %v", len(out), err)
	}
	return out
}

// only keeps the named description of a folder and what it needs.
func only(all fstest.MapFS, name string, parts ...string) fstest.MapFS {
	out := fstest.MapFS{name: all[name]}
	for p, f := range all {
		for _, part := range parts {
			if strings.HasPrefix(p, part) {
				out[p] = f
			}
		}
	}
	return out
}

// document decodes a description for spoiling.
func document(t *testing.T, m fstest.MapFS, name string) map[string]any {
	t.Helper()
	var doc map[string]any
	if err := json.Unmarshal(m[name].Data, &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

func store(t *testing.T, m fstest.MapFS, name string, doc map[string]any) {
	t.Helper()
	raw, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	m[name] = &fstest.MapFile{Data: raw}
}

// Every field that a judge compares is seen to fail when the reference is changed by one part in a hundred, in one case of the file.
func TestEveryFieldCanFail(t *testing.T) {
	all := committed(t)
	for _, c := range []struct {
		file, list string
		needs      []string
		fields     string
	}{
		{"sunpos.json", "cases", nil, "apparent_zenith_deg true_zenith_deg azimuth_deg equation_of_time_min earth_sun_distance_au sunrise_utc sunset_utc day_state"},
		{"irradiance.json", "cases", nil, "dni_extra_w_m2 pressure_pa airmass_relative airmass_absolute ineichen_ghi_w_m2 ineichen_dni_w_m2 ineichen_dhi_w_m2 haurwitz_ghi_w_m2 " +
			"clearness_index aoi_deg poa_beam_w_m2 poa_ground_w_m2 poa_sky_isotropic_w_m2 poa_sky_haydavies_w_m2 poa_sky_perez_w_m2 perez_f1 perez_f2 " +
			"poa_global_isotropic_w_m2 poa_global_haydavies_w_m2 poa_global_perez_w_m2 ashrae physical"},
		{"singlediode.json", "cases", []string{"modules.json"}, "il_a i0_a rs_ohm rsh_ohm a_v i_sc_a v_oc_v i_mp_a v_mp_v p_mp_w iv_a"},
		{"celltemp.json", "cases", nil, "cell_temp_c"},
		{"shade.json", "cases", []string{"modules.json"}, "v_oc_v i_sc_a global_index global_p_w global_v_v global_i_a unshaded_p_w iv_a"},
		{"soc.json", "cases", []string{"soc_trace_greensboro"}, "pv_dc_kwh controller_loss_kwh controller_clipped_kwh load_kwh served_kwh unserved_kwh curtailed_kwh pv_direct_to_load_kwh " +
			"battery_charge_kwh battery_discharge_kwh hours_at_min_soc hours_with_unserved days_reaching_full days_total monthly_min_soc final_soc"},
		{"chain_invented.json", "cases", chainNeeds, "monthly_poa_kwh_m2 annual_poa_kwh_m2 monthly_dc_kwh annual_dc_kwh"},
		{"chain_invented.json", "sites", chainNeeds, "records native_minutes sum_ghi_kwh_m2 mean_air_temp_c"},
	} {
		m := only(all, c.file, c.needs...)
		firstOf(t, m, c.file)
		for field := range strings.FieldsSeq(c.fields) {
			t.Run(c.file+" "+field, func(t *testing.T) { canFail(t, m, c.file, c.list, field) })
		}
	}
}

var chainNeeds = []string{"modules.json", "weather/invented_high_plateau", "chain_trace_invented_high_plateau"}

// The fields that only the chains of real places print.
func TestEveryFieldOfTheRealChainsCanFail(t *testing.T) {
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: CAMPWRIGHT_REFERENCE is not set")
	}
	m := fstest.MapFS{}
	for _, name := range []string{"chain.json", "modules.json", "weather/phoenix_az.csv", "chain_trace_phoenix_az.csv"} {
		raw, err := os.ReadFile(filepath.Join(dir, "oracle", name))
		if err != nil {
			t.Fatal(err)
		}
		m[name] = &fstest.MapFile{Data: raw}
	}
	firstOf(t, m, "chain.json")
	for field := range strings.FieldsSeq("annual_beam_kwh_m2 annual_sky_kwh_m2 annual_ground_kwh_m2 stc_power_w specific_yield_kwh_per_kw performance_ratio max_dc_w poa_weighted_cell_temp_c") {
		t.Run(field, func(t *testing.T) { canFail(t, m, "chain.json", "cases", field) })
	}
	for field := range strings.FieldsSeq("mid_offset_min sum_dni_kwh_m2 sum_dhi_kwh_m2 mean_wind_m_s max_ghi_w_m2 min_air_temp_c max_air_temp_c") {
		t.Run("site "+field, func(t *testing.T) { canFail(t, m, "chain.json", "sites", field) })
	}
}

// firstOf cuts chains and balances to their first site or case, for speed.
func firstOf(t *testing.T, m fstest.MapFS, name string) {
	t.Helper()
	doc := document(t, m, name)
	switch {
	case strings.HasPrefix(name, "chain"):
		site := doc["sites"].([]any)[0].(map[string]any)
		doc["sites"] = []any{site}
		var cases []any
		for _, c := range doc["cases"].([]any) {
			if c.(map[string]any)["site"] == site["site"] {
				cases = append(cases, c)
			}
		}
		doc["cases"] = cases
	case name == "soc.json":
		doc["cases"] = doc["cases"].([]any)[:1]
	}
	store(t, m, name, doc)
	if r := Run(m, "whole"); r.Failed() {
		t.Fatalf("fails before it is spoilt: %v", r.Faults)
	}
}

// canFail spoils one field and demands that it is found.
func canFail(t *testing.T, m fstest.MapFS, name, list, field string) {
	t.Helper()
	spoilt := fstest.MapFS{}
	for p, f := range m {
		spoilt[p] = f
	}
	doc := document(t, m, name)
	if !spoilField(doc[list].([]any), field) {
		t.Fatalf("no case has a number in %q", field)
	}
	store(t, spoilt, name, doc)
	for _, l := range Run(spoilt, "spoilt").Lines {
		if l.File == name && l.Beyond > 0 && strings.Contains(l.Field, field) {
			return
		}
	}
	t.Errorf("a changed %q was not found", field)
}

// Every figure of a network's answer is seen to fail.
func TestEveryFigureOfANetworkCanFail(t *testing.T) {
	all := only(committed(t), "circuits/index.json", "circuits/")
	for _, c := range []struct{ file, path string }{
		{"01_single_inverter", "node_voltages_v/inv"},
		{"01_single_inverter", "element_results/cable_pos/current_a"},
		{"01_single_inverter", "element_results/cable_pos/voltage_v"},
		{"01_single_inverter", "element_results/inverter/power_w"},
		{"01_single_inverter", "total_source_power_w"},
		{"01_single_inverter", "total_absorbed_power_w"},
		{"01_single_inverter", "single_load_limit/thevenin_v"},
		{"01_single_inverter", "single_load_limit/thevenin_ohm"},
		{"01_single_inverter", "single_load_limit/max_power_w"},
		{"13_two_load_collapse", "critical_scale"},
		{"13_two_load_collapse", "node_voltages_at_critical_v/q"},
	} {
		t.Run(c.file+" "+c.path, func(t *testing.T) {
			m := fstest.MapFS{}
			for p, f := range all {
				m[p] = f
			}
			name := "circuits/" + c.file + ".json"
			doc := document(t, m, name)
			at := doc["variants"].([]any)[0].(map[string]any)
			parts := strings.Split(c.path, "/")
			for _, p := range parts[:len(parts)-1] {
				at = at[p].(map[string]any)
			}
			last := parts[len(parts)-1]
			at[last] = at[last].(float64)*1.01 + 0.01
			store(t, m, name, doc)
			r := Run(m, "spoilt")
			beyond := 0
			for _, l := range r.Lines {
				beyond += l.Beyond
			}
			if beyond != 1 {
				t.Errorf("%d figures beyond their limit, want the one that was changed", beyond)
			}
		})
	}
}

// spoilField changes a field in the first case that has it, and says whether it found one.
func spoilField(cases []any, field string) bool {
	for _, c := range cases {
		one := c.(map[string]any)
		switch v := one[field].(type) {
		case float64:
			one[field] = v*1.01 + 0.01
			return true
		case string:
			if len(v) == len("2003-10-17T13:12:44.266Z") { // an instant: its minute
				one[field] = v[:14] + map[bool]string{true: "31", false: "30"}[v[14:16] == "30"] + v[16:]
				return true
			}
			one[field] = "always_" + "up"
			return v != "always_up"
		case []any:
			if n, ok := v[len(v)/2].(float64); ok {
				v[len(v)/2] = n*1.01 + 0.01
				return true
			}
		}
	}
	return false
}

// Every column of the traces is seen to fail as well.
func TestEveryColumnCanFail(t *testing.T) {
	all := committed(t)
	for _, c := range []struct{ file, trace, needs string }{
		{"chain_invented.json", "chain_trace_invented_southern_scrub.csv", "modules.json weather/ chain_trace"},
		{"soc.json", "soc_trace_greensboro_nc_B_1200flat_400ah.csv", "soc_trace"},
	} {
		f := &folder{fs: all, used: map[string]bool{}}
		raw, err := f.bytes(c.trace)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(raw), "\n")
		names := strings.Split(lines[0], ",")
		for k, name := range names {
			if name == "interval_start_local" || name == "pv_dc_w" || name == "duration_h" {
				continue // stamps have a test of their own; the others are what the program is given
			}
			t.Run(c.trace+" "+name, func(t *testing.T) {
				m := only(all, c.file, strings.Fields(c.needs)...)
				delete(m, c.trace+".gz")
				cells := strings.Split(lines[5000], ",")
				cells[k] = "12345.678"
				spoilt := append(append(append([]string{}, lines[:5000]...), strings.Join(cells, ",")), lines[5001:]...)
				m[c.trace] = &fstest.MapFile{Data: []byte(strings.Join(spoilt, "\n"))}
				r := Run(m, "spoilt")
				found := false
				for _, l := range r.Lines {
					found = found || l.File == c.file && l.Beyond > 0 && strings.Contains(l.Field, "trace") && strings.Contains(l.Place, cells[0])
				}
				if !found {
					t.Errorf("a changed %q was not found: %v", name, r.Faults)
				}
			})
		}
	}
}

// What cannot be judged is a fault, never a pass.
func TestFaults(t *testing.T) {
	all := committed(t)
	edit := func(name, old, new string) func(fstest.MapFS) {
		return func(m fstest.MapFS) {
			text := string(m[name].Data)
			if !strings.Contains(text, old) {
				t.Fatalf("%s does not hold %q", name, old)
			}
			m[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, old, new, 1))}
		}
	}
	for _, c := range []struct {
		name, says string
		spoil      func(fstest.MapFS)
		keep       []string
	}{
		{"unknown field of a case", `unknown field "phase"`, edit("sunpos.json", `"site":`, `"phase": 1, "site":`), []string{"sunpos"}},
		{"unknown field of a file", `unknown field "colour"`, edit("celltemp.json", `"title":`, `"colour": 1, "title":`), []string{"celltemp"}},
		{"missing field", `field "azimuth_deg (times sin zenith)" is missing or null`, func(m fstest.MapFS) {
			doc := document(t, m, "sunpos.json")
			delete(doc["cases"].([]any)[3].(map[string]any), "azimuth_deg")
			store(t, m, "sunpos.json", doc)
		}, []string{"sunpos"}},
		{"null", `field "p_mp_w" is missing or null`, func(m fstest.MapFS) {
			doc := document(t, m, "singlediode.json")
			doc["cases"].([]any)[3].(map[string]any)["p_mp_w"] = nil
			store(t, m, "singlediode.json", doc)
		}, []string{"singlediode"}},
		{"zero cases", "nothing was compared", func(m fstest.MapFS) {
			doc := document(t, m, "celltemp.json")
			doc["cases"] = []any{}
			store(t, m, "celltemp.json", doc)
		}, []string{"celltemp"}},
		{"unknown file", "nobody here knows how to judge this file", func(m fstest.MapFS) { m["tides.json"] = &fstest.MapFile{Data: []byte("{}")} }, []string{"celltemp"}},
		{"missing trace", "soc_trace_greensboro_nc_B_1200flat_400ah.csv is named and not there", func(m fstest.MapFS) { delete(m, "soc_trace_greensboro_nc_B_1200flat_400ah.csv.gz") }, []string{"soc"}},
		{"missing netlist", "circuits/06_alternator_dcdc.cir is named and not there", func(m fstest.MapFS) { delete(m, "circuits/06_alternator_dcdc.cir") }, []string{"circuits"}},
		{"missing network", "circuits/06_alternator_dcdc.json is named and not there", func(m fstest.MapFS) { delete(m, "circuits/06_alternator_dcdc.json") }, []string{"circuits"}},
		{"unknown element", `kind "fusible" is not known`, edit("circuits/01_single_inverter.json", `"kind": "resistor"`, `"kind": "fusible"`), []string{"circuits"}},
		{"index disagrees", "the index says", edit("circuits/index.json", `"no_load"`, `"off_load"`), []string{"circuits"}},
		{"missing weather", "weather/invented_high_plateau.csv is named and not there", func(m fstest.MapFS) { delete(m, "weather/invented_high_plateau.csv.gz") }, []string{"chain", "weather"}},
		{"missing modules", "modules.json is named and not there", func(m fstest.MapFS) { delete(m, "modules.json") }, []string{"shade"}},
		{"missing chain trace", "chain_trace_high_plateau.csv is named and not there", func(m fstest.MapFS) { delete(m, "chain_trace_invented_high_plateau.csv.gz") }, []string{"chain", "weather"}},
		{"unknown kind", `kind "moonlight" is not known`, edit("irradiance.json", `"kind": "iam"`, `"kind": "moonlight"`), []string{"irradiance"}},
		{"unknown model", `model "sapmx" is not known`, edit("celltemp.json", `"model": "sapm"`, `"model": "sapmx"`), []string{"celltemp"}},
		{"unknown module", `module "GEN-0" is not`, edit("shade.json", `"module": "GEN-100M36"`, `"module": "GEN-0"`), []string{"shade"}},
		{"unknown sky model", `transposition "klucher" is not known`, edit("chain_invented.json", `"transposition": "perez"`, `"transposition": "klucher"`), []string{"chain", "weather"}},
		{"unknown modifier", `iam "martin" is not known`, edit("chain_invented.json", `"iam": "none"`, `"iam": "martin"`), []string{"chain", "weather"}},
		{"not JSON", "invalid character", func(m fstest.MapFS) { m["shade.json"] = &fstest.MapFile{Data: []byte("shade")} }, []string{"shade"}},
		{"two documents", "something follows", func(m fstest.MapFS) { m["shade.json"] = &fstest.MapFile{Data: []byte("{} {}")} }, []string{"shade"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := only(all, "modules.json", c.keep...)
			if r := Run(m, "whole"); r.Failed() {
				t.Fatalf("fails before it is spoilt: %v", r.Faults)
			}
			c.spoil(m)
			r := Run(m, "spoilt")
			if !r.Failed() {
				t.Fatal("passes")
			}
			for _, f := range r.Faults {
				if strings.Contains(f, c.says) {
					return
				}
			}
			t.Errorf("no fault says %q: %v", c.says, r.Faults)
		})
	}
	if r := Run(fstest.MapFS{}, "empty"); !r.Failed() || !strings.Contains(strings.Join(r.Faults, ""), "holds none of the files that are known") {
		t.Errorf("an empty folder: %v", r.Faults)
	}
}

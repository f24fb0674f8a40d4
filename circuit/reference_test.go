package circuit

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"campwright/internal/near"
)

// The networks in testdata/circuits are an independent reference, computed with general-purpose tools, two implementations agreeing: a
// general circuit simulator, and a nodal Newton solver with load continuation. Their suggested tolerances are used as they are: 1e-5 V on
// nodes, 1e-3 A or 1e-5 on currents, 1e-3 on the critical factor.

type referenceElement struct {
	ID, Kind, A, B, Pos, Neg string
	Ohms, Volts, Watts, Amps float64
	IL                       float64 `json:"il_a"`
	I0                       float64 `json:"i0_a"`
	Ideality                 float64 `json:"a_v"`
	Series                   float64 `json:"rs_ohm"`
	Shunt                    float64 `json:"rsh_ohm"`
}

type referenceResult struct {
	Amps  float64 `json:"current_a"`
	Volts float64 `json:"voltage_v"`
	Watts float64 `json:"power_w"`
}

type referenceVariant struct {
	Name      string
	Reference string `json:"reference_node"`
	Nodes     []string
	Elements  []referenceElement
	Feasible  bool
	NodeVolts map[string]float64         `json:"node_voltages_v"`
	Results   map[string]referenceResult `json:"element_results"`
	Source    float64                    `json:"total_source_power_w"`
	Absorbed  float64                    `json:"total_absorbed_power_w"`
	Single    *struct {
		Load  string
		Volts float64 `json:"thevenin_v"`
		Ohms  float64 `json:"thevenin_ohm"`
		Watts float64 `json:"max_power_w"`
	} `json:"single_load_limit"`
	Critical      float64            `json:"critical_scale"`
	CriticalVolts map[string]float64 `json:"node_voltages_at_critical_v"`
}

func (v referenceVariant) network(t testing.TB) Network {
	t.Helper()
	net := Network{Reference: v.Reference}
	for _, e := range v.Elements {
		k, ok := KindNamed(e.Kind)
		if !ok {
			t.Fatalf("%s: kind %q", e.ID, e.Kind)
		}
		out := Element{Name: e.ID, Kind: k, A: e.A + e.Pos, B: e.B + e.Neg, Ohms: e.Ohms, Volts: e.Volts, Watts: e.Watts, Amps: e.Amps}
		if k == Photovoltaic {
			out.Diode = Diode{LightAmps: e.IL, SaturationAmps: e.I0, IdealityVolts: e.Ideality, SeriesOhms: e.Series, ShuntOhms: e.Shunt}
		}
		net.Elements = append(net.Elements, out)
	}
	return net
}

// references reads all variants, by file and name.
func references(t testing.TB) map[string]referenceVariant { return variants(t, "circuits", 18) }

// variants reads all variants of a folder, so many, by file and name.
func variants(t testing.TB, folder string, count int) map[string]referenceVariant {
	t.Helper()
	files, err := filepath.Glob("testdata/" + folder + "/[0-9]*.json")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]referenceVariant{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var file struct {
			ID       string
			Variants []referenceVariant
		}
		if err := json.Unmarshal(b, &file); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		for _, v := range file.Variants {
			all[file.ID+" "+v.Name] = v
		}
	}
	if len(all) != count {
		t.Fatalf("%d variants, want %d", len(all), count)
	}
	return all
}

func TestReference_OperatingPoints(t *testing.T) {
	volts, amps := near.Worst{What: "node voltage"}, near.Worst{What: "current"}
	feasible := 0
	for name, v := range references(t) {
		if !v.Feasible {
			continue
		}
		feasible++
		s, err := Solve(v.network(t))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(v.NodeVolts) < 4 || len(v.Results) != len(v.Elements) {
			t.Errorf("%s: %d node voltages, %d results for %d elements", name, len(v.NodeVolts), len(v.Results), len(v.Elements))
		}
		for node, want := range v.NodeVolts {
			got, ok := s.Node(node)
			if !ok {
				t.Errorf("%s: no node %s", name, node)
			}
			near.Abs(t, name+" "+node, got, want, 1e-5, "suggested tolerance of the reference")
			volts.See(got, want, name+" "+node)
		}
		for element, want := range v.Results {
			got, ok := s.Element(element)
			if !ok {
				t.Errorf("%s: no element %s", name, element)
			}
			near.Abs(t, name+" "+element+" A", got.Amps, want.Amps, math.Max(1e-3, 1e-5*math.Abs(want.Amps)), "suggested tolerance of the reference")
			near.Abs(t, name+" "+element+" V", got.Volts, want.Volts, 1e-5, "suggested tolerance of the reference")
			near.Abs(t, name+" "+element+" W", got.Watts, want.Watts, math.Max(1e-3*15, 2e-5*math.Abs(want.Watts)), "current's tolerance at 15 V")
			amps.See(got.Amps/math.Max(1, math.Abs(want.Amps)), want.Amps/math.Max(1, math.Abs(want.Amps)), name+" "+element)
		}
		near.Rel(t, name+" source power", s.SourceWatts, v.Source, 1e-5, "current's tolerance")
		near.Rel(t, name+" absorbed power", s.AbsorbedWatts, v.Absorbed, 1e-5, "current's tolerance")
		near.Rel(t, name+" energy closes", s.AbsorbedWatts, s.SourceWatts, 1e-9, "what sources give is what elements absorb")
		if !(s.Proof.Imbalance <= 1e-9) || !(s.Proof.Stiffness > 0) {
			t.Errorf("%s: proof %+v", name, s.Proof)
		}
		if v.Single != nil {
			checkSingle(t, name, v)
		}
	}
	if feasible != 16 {
		t.Errorf("%d feasible variants, want 16", feasible)
	}
	t.Logf("worst: %.2g V at %s; %.2g of a current at %s; %d and %d compared", volts.Off, volts.Place, amps.Off, amps.Place, volts.Count, amps.Count)
}

// checkSingle holds the limit of a single load against the reference.
func checkSingle(t *testing.T, name string, v referenceVariant) {
	t.Helper()
	s, err := New(v.network(t))
	if err != nil {
		t.Fatal(err)
	}
	i, ok := s.Index(v.Single.Load)
	if !ok {
		t.Fatalf("%s: no load %s", name, v.Single.Load)
	}
	l, err := s.LoadLimit(i)
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, name+" Thevenin volts", l.TheveninVolts, v.Single.Volts, 1e-5, "suggested tolerance of the reference")
	near.Rel(t, name+" Thevenin ohms", l.TheveninOhms, v.Single.Ohms, 1e-7, "ten digits printed")
	near.Rel(t, name+" most power", l.MaxWatts, v.Single.Watts, 1e-7, "found at the nose; the closed form V²/(4R) has it exactly")
	c, err := s.Critical()
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, name+" critical factor", c.Scale*l.Watts, v.Single.Watts, 1e-7, "one load: the factor is its limit over its power")
}

func TestReference_Infeasible(t *testing.T) {
	count := 0
	for name, v := range references(t) {
		if v.Feasible {
			continue
		}
		count++
		_, err := Solve(v.network(t))
		var e *InfeasibleError
		if !errors.As(err, &e) {
			t.Errorf("%s: %v, want an InfeasibleError", name, err)
			continue
		}
		near.Abs(t, name+" critical factor", e.Scale, v.Critical, 1e-3, "suggested tolerance of the reference")
		near.Rel(t, name+" critical factor", e.Scale, v.Critical, 1e-8, "both are converged further than suggested")
		if len(e.Volts) != len(v.CriticalVolts) {
			t.Errorf("%s: %d voltages, want %d", name, len(e.Volts), len(v.CriticalVolts))
		}
		for _, n := range e.Volts {
			near.Abs(t, name+" "+n.Node+" at the nose", n.Volts, v.CriticalVolts[n.Node], 1e-3, "soft: moves with the root of the distance")
		}
		if v.Single != nil {
			if len(e.Limits) != 1 {
				t.Fatalf("%s: %d limits", name, len(e.Limits))
			}
			l := e.Limits[0]
			near.Rel(t, name+" most power", l.MaxWatts, v.Single.Watts, 1e-7, "V²/(4R)")
			near.Abs(t, name+" Thevenin volts", l.TheveninVolts, v.Single.Volts, 1e-5, "suggested tolerance of the reference")
			near.Rel(t, name+" Thevenin ohms", l.TheveninOhms, v.Single.Ohms, 1e-7, "ten digits printed")
		}
		t.Logf("%s: %v", name, err)
	}
	if count != 2 {
		t.Errorf("%d infeasible variants, want 2", count)
	}
}

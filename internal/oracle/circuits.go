package oracle

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path"
	"slices"

	"campwright/circuit"
)

type circuitElement struct {
	ID    string  `json:"id"`
	Kind  string  `json:"kind"`
	A     string  `json:"a"`
	B     string  `json:"b"`
	Pos   string  `json:"pos"`
	Neg   string  `json:"neg"`
	Ohms  float64 `json:"ohms"`
	Volts float64 `json:"volts"`
	Watts float64 `json:"watts"`
	Amps  float64 `json:"amps"`
	IL    float64 `json:"il_a"`
	I0    float64 `json:"i0_a"`
	Ideal float64 `json:"a_v"`
	Rs    float64 `json:"rs_ohm"`
	Rsh   float64 `json:"rsh_ohm"`
	Note  string  `json:"note"`
}

type circuitResult struct {
	Amps  Num `json:"current_a"`
	Volts Num `json:"voltage_v"`
	Watts Num `json:"power_w"`
}

type circuitVariant struct {
	Name     string                   `json:"name"`
	Netlist  string                   `json:"netlist"`
	Nodes    []string                 `json:"nodes"`
	Zero     string                   `json:"reference_node"`
	Elements []circuitElement         `json:"elements"`
	Feasible *bool                    `json:"feasible"`
	Volts    map[string]Num           `json:"node_voltages_v"`
	Results  map[string]circuitResult `json:"element_results"`
	Source   Num                      `json:"total_source_power_w"`
	Absorbed Num                      `json:"total_absorbed_power_w"`
	Single   *struct {
		Load  string `json:"load"`
		Volts Num    `json:"thevenin_v"`
		Ohms  Num    `json:"thevenin_ohm"`
		Watts Num    `json:"max_power_w"`
	} `json:"single_load_limit"`
	Critical      Num             `json:"critical_scale"`
	CriticalNote  string          `json:"critical_note"`
	CriticalVolts map[string]Num  `json:"node_voltages_at_critical_v"`
	Simulator     json.RawMessage `json:"ngspice"`
}

// circuitLimits are the files' own tolerances; what they do not name follows from what they do.
type circuitLimits struct {
	volts, amps, scale Limit
	watts              Limit // of an element: the current's at a rig's voltage
	nose               Limit // voltages where the branch ends, which the reference calls soft to 1e-3 V
	thevenin           Limit // ten digits are printed; relative, as the current
}

func judgeCircuits(f *folder, s *sheet) {
	var index struct {
		prose
		Wire     json.RawMessage `json:"wire_table_mohm_per_ft"`
		Circuits []struct {
			ID       string   `json:"id"`
			Title    string   `json:"title"`
			File     string   `json:"file"`
			Variants []string `json:"variants"`
			Feasible []bool   `json:"feasible"`
		} `json:"circuits"`
	}
	if !f.load(s, &index) {
		return
	}
	amps := s.own("current_a")
	limits := circuitLimits{
		volts: s.own("node_voltages_v"), amps: amps, scale: s.own("critical_scale"),
		watts: Limit{Abs: 15 * amps.Abs, Rel: 2 * amps.Rel}, nose: Limit{Abs: 1e-3}, thevenin: Limit{Rel: amps.Rel},
	}
	for _, entry := range index.Circuits {
		var file struct {
			prose
			ID       string           `json:"id"`
			Variants []circuitVariant `json:"variants"`
		}
		if err := f.decode(path.Join("circuits", entry.File), &file); err != nil {
			s.fault(entry.ID, "%v", err)
			continue
		}
		if file.ID != entry.ID || len(file.Variants) != len(entry.Variants) || len(entry.Feasible) != len(entry.Variants) {
			s.fault(entry.ID, "the index and the file disagree: id %q, %d variants, %d named", file.ID, len(file.Variants), len(entry.Variants))
			continue
		}
		for i := range file.Variants {
			v := &file.Variants[i]
			place := entry.ID + " " + v.Name
			if v.Name != entry.Variants[i] || v.Feasible == nil || *v.Feasible != entry.Feasible[i] {
				s.fault(place, "the index says %q, feasible %v", entry.Variants[i], entry.Feasible[i])
				continue
			}
			if netlist := path.Join("circuits", v.Netlist); !f.has(netlist) {
				s.fault(place, "file %s is named and not there", netlist)
			}
			v.judge(s, limits, place)
		}
	}
}

// network makes the program's network of a variant.
func (v *circuitVariant) network() (circuit.Network, error) {
	net := circuit.Network{Reference: v.Zero}
	for _, e := range v.Elements {
		kind, ok := circuit.KindNamed(e.Kind)
		if !ok {
			return net, fmt.Errorf("element %q: kind %q is not known", e.ID, e.Kind)
		}
		if (e.A == "") == (e.Pos == "") || (e.B == "") == (e.Neg == "") {
			return net, fmt.Errorf("element %q: nodes %q %q and %q %q", e.ID, e.A, e.B, e.Pos, e.Neg)
		}
		one := circuit.Element{Name: e.ID, Kind: kind, A: e.A + e.Pos, B: e.B + e.Neg, Ohms: e.Ohms, Volts: e.Volts, Watts: e.Watts, Amps: e.Amps}
		if kind == circuit.Photovoltaic {
			one.Diode = circuit.Diode{LightAmps: e.IL, SaturationAmps: e.I0, IdealityVolts: e.Ideal, SeriesOhms: e.Rs, ShuntOhms: e.Rsh}
		}
		net.Elements = append(net.Elements, one)
	}
	return net, nil
}

// judge solves one variant and compares all that the file says of it.
func (v *circuitVariant) judge(s *sheet, limits circuitLimits, place string) {
	net, err := v.network()
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	solution, err := circuit.Solve(net)
	var infeasible *circuit.InfeasibleError
	if err != nil && !errors.As(err, &infeasible) {
		s.fault(place, "%v", err)
		return
	}
	s.seeText("feasible", fmt.Sprint(err == nil), fmt.Sprint(*v.Feasible), place)
	if v.Single != nil {
		v.judgeSingle(s, net, limits, place)
	}
	switch {
	case err == nil && *v.Feasible:
		v.judgeSolution(s, solution, limits, place)
	case err != nil && !*v.Feasible:
		s.seeNum("critical_scale", "critical_scale", infeasible.Scale, v.Critical, limits.scale, place)
		v.judgeNodes(s, "node_voltages_at_critical_v", "", infeasible.Volts, v.CriticalVolts, limits.nose, place)
	}
}

func (v *circuitVariant) judgeSolution(s *sheet, solution circuit.Solution, limits circuitLimits, place string) {
	volts := make([]circuit.NodeVolts, len(solution.Nodes))
	for i, n := range solution.Nodes {
		volts[i] = circuit.NodeVolts{Node: n, Volts: solution.NodeVolts[i]}
	}
	v.judgeNodes(s, "node_voltages_v", "node_voltages_v", volts, v.Volts, limits.volts, place)
	if len(v.Results) != len(v.Elements) {
		s.fault(place, "%d element_results for %d elements", len(v.Results), len(v.Elements))
	}
	for _, e := range v.Elements {
		want, ok := v.Results[e.ID]
		if !ok {
			s.fault(place, "no element_results of %q", e.ID)
			continue
		}
		got, _ := solution.Element(e.ID)
		at := place + " " + e.ID
		s.seeNum("current_a", "current_a", got.Amps, want.Amps, limits.amps, at)
		s.seeNum("voltage_v", "node_voltages_v", got.Volts, want.Volts, limits.volts, at)
		s.seeNum("power_w", "", got.Watts, want.Watts, limits.watts, at)
	}
	s.seeNum("total_source_power_w", "", solution.SourceWatts, v.Source, limits.watts, place)
	s.seeNum("total_absorbed_power_w", "", solution.AbsorbedWatts, v.Absorbed, limits.watts, place)
}

// judgeNodes compares the voltages of all nodes the variant lists.
func (v *circuitVariant) judgeNodes(s *sheet, field, hint string, got []circuit.NodeVolts, want map[string]Num, limit Limit, place string) {
	if len(v.Nodes) == 0 || len(want) != len(v.Nodes) {
		s.fault(place, "%d %s for %d nodes", len(want), field, len(v.Nodes))
	}
	for _, node := range v.Nodes {
		i := slices.IndexFunc(got, func(n circuit.NodeVolts) bool { return n.Node == node })
		value := math.NaN()
		if i >= 0 {
			value = got[i].Volts
		}
		s.seeNum(field, hint, value, want[node], limit, place+" "+node)
	}
}

// judgeSingle compares what one load could have at most.
func (v *circuitVariant) judgeSingle(s *sheet, net circuit.Network, limits circuitLimits, place string) {
	solver, err := circuit.New(net)
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	i, ok := solver.Index(v.Single.Load)
	if !ok {
		s.fault(place, "single_load_limit names %q, which is no element", v.Single.Load)
		return
	}
	l, err := solver.LoadLimit(i)
	if err != nil {
		s.fault(place, "%v", err)
		return
	}
	at := place + " " + v.Single.Load
	s.seeNum("single_load_limit thevenin_v", "", l.TheveninVolts, v.Single.Volts, limits.volts, at)
	s.seeNum("single_load_limit thevenin_ohm", "", l.TheveninOhms, v.Single.Ohms, limits.thevenin, at)
	s.seeNum("single_load_limit max_power_w", "", l.MaxWatts, v.Single.Watts, limits.thevenin, at)
}

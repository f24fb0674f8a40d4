package system

import (
	"fmt"
	"math"

	"campwright/battery"
	"campwright/circuit"
	"campwright/convert"
)

// FaultAt is the largest current that a bolted short can drive through a device.
type FaultAt struct {
	Device int
	Amps   float64 // through the device, through one of it for string fuses
	Short  string  // where the short lies for that: "behind it" seen along its run, or "before it"
	Volts  float64 // before the short
	TotalA float64 // into the short
}

// bulkCellV is the voltage of an LFP cell while it is charged in bulk, from which faults are counted [V]. Common practice, no source.
const bulkCellV = 3.4

// FaultVolts returns the voltage behind the resistance of the bank from which faults are counted [V].
func (n *Network) FaultVolts() float64 {
	if n.Doc.Bank.Chemistry == battery.LFP.String() {
		return bulkCellV * BankCells(n.Doc.Bank)
	}
	return n.Sys.Bank.Model.Voc(1)
}

// Faults returns for each device the largest current that a bolted short at one of its ends drives through it, every source at work, out of
// one factorisation. Take it from a network that leans to the least resistance to be on the safe side. The result has one entry for each
// device; those on the AC side have none and stay at zero.
func (n *Network) Faults() ([]FaultAt, error) {
	s := State{Name: "fault", SoC: 1, BankC: bankC, Sun: SunCold, Engine: convert.Cruising, ACInVA: unlimitedVA}
	sc := n.scene(s)
	sc.bank(s)
	ohms := n.blockOhms(s, false)
	for _, e := range sc.blocks {
		sc.els[e].Volts, sc.els[e+1].Ohms = n.FaultVolts(), math.Max(ohms, 1e-6) // the resistance follows its source: see bank
	}
	sc.faultSources(s)
	solver, err := circuit.New(circuit.Network{Reference: sc.names[n.Reference()], Elements: sc.els})
	if err != nil {
		return nil, fmt.Errorf("faults: %w", err)
	}
	study, err := solver.Study()
	if err != nil {
		return nil, fmt.Errorf("faults: %w", err)
	}
	out := make([]FaultAt, len(n.Devices))
	for d := range n.Devices {
		out[d].Device = d
		for _, e := range n.Devices[d].Edges {
			if err := sc.faultAt(study, d, e, &out[d]); err != nil {
				return nil, fmt.Errorf("faults at %s: %w", n.Devices[d].Path, err)
			}
		}
	}
	return out, nil
}

// faultSources adds what feeds a fault besides the bank: modules, chargers at their current limits, the vehicle.
func (sc *scene) faultSources(s State) {
	n := sc.n
	for i := range n.Sys.Arrays {
		a := &n.Sys.Arrays[i]
		name := "array " + a.Name
		plus, ok := n.index[name+" +"]
		if !ok {
			continue
		}
		curve := a.Unit.At(fullSun, a.HotCell(coldNoonC)).Scale(a.Series, a.Strings)
		sc.add(circuit.Element{Name: name, Kind: circuit.Photovoltaic, Diode: circuit.Diode{LightAmps: curve.IL, SaturationAmps: curve.I0, IdealityVolts: curve.A, SeriesOhms: curve.Rs, ShuntOhms: curve.Rsh}}, plus, n.index[name+" -"])
	}
	limited := func(name string, l link, amps float64) {
		if sc.fed(l.to, l.toMinus) && amps > 0 {
			sc.add(circuit.Element{Name: name, Kind: circuit.CurrentSource, Amps: amps}, l.to, l.toMinus)
		}
	}
	for i := range n.Sys.Controllers {
		limited("controller "+n.Sys.Controllers[i].Name, n.linkOf(linkController, i), n.Sys.Controllers[i].Unit.Params().OutputA)
	}
	for i := range n.Sys.Supply.Chargers {
		limited("charger "+n.Sys.Supply.Chargers[i].Name, n.linkOf(linkCharger, i), n.Sys.Supply.Chargers[i].Unit.Params().OutputA)
	}
	for _, l := range n.links {
		if u := n.Sys.Supply.Unit; l.kind == linkDCDC && u != nil {
			limited("dc-dc", l, u.Params().OutputA)
		}
	}
	v := n.Sys.Supply.Vehicle
	plus, ok := n.index["vehicle +"]
	if v == nil || !ok {
		return
	}
	minus := n.index["vehicle -"]
	p := v.Params()
	amps := 0.0
	for _, a := range p.Alternators {
		amps += a.RatedA
	}
	sc.els = append(sc.els, circuit.Element{Name: "starter battery", Kind: circuit.EMF, A: "starter battery", B: sc.names[minus], Volts: starterShare * p.Volts},
		circuit.Element{Name: "starter battery inside", Kind: circuit.Resistor, A: "starter battery", B: sc.names[plus], Ohms: starterOhm})
	sc.add(circuit.Element{Name: "alternator", Kind: circuit.CurrentSource, Amps: amps}, plus, minus)
}

// faultAt shorts both ends of one edge of a device in turn.
func (sc *scene) faultAt(study *circuit.Study, d, edge int, out *FaultAt) error {
	n := sc.n
	at := sc.edgeAt[edge]
	if at < 0 {
		return nil
	}
	e := n.Edges[edge]
	for k, node := range [2]int{e.B, e.A} {
		minus := sc.minusNear(d, node)
		if n.Nodes[node].Rail == Minus || node == minus {
			continue
		}
		f, err := study.Between(sc.names[node], sc.names[minus])
		if err != nil {
			return err
		}
		if f.Unlimited || f.Amps == 0 {
			continue
		}
		all, err := study.Through(sc.names[node], sc.names[minus])
		if err != nil {
			return err
		}
		if amps := math.Abs(all[at].Amps) / math.Max(1, n.Devices[d].Alike); amps > out.Amps {
			out.Amps, out.Volts, out.TotalA = amps, f.TheveninVolts, f.Amps
			out.Short = [2]string{"behind it", "before it"}[k]
		}
	}
	return nil
}

// minusNear returns the minus to which a short beside a device goes: of the pair it sits in, at the device's end; for a plus that runs alone that of
// the part where it begins, which is the harder short; where there is none the bank's post.
func (sc *scene) minusNear(d, node int) int {
	n := sc.n
	if n.Devices[d].Run < 0 {
		return n.Reference()
	}
	r := &n.Runs[n.Devices[d].Run]
	if r.Pair() {
		if at := n.Devices[d].AtM; !math.IsNaN(at) && at > r.LengthM/2 {
			return r.Core[1].To
		}
		return r.Core[1].From
	}
	if i, ok := n.index[r.From+" -"]; ok {
		return i
	}
	return n.Reference()
}

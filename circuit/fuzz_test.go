package circuit

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"testing"
)

// A network as bytes, so that a fuzzer can turn and cut it: one record of 15 bytes for each element, a kind, four nodes and five numbers of
// two bytes. The numbers are rounded to steps of 0.03 %, so that a flipped bit makes another sane network as often as a mad one.

const recordSize = 5 + 5*2

// pack turns a number into two bytes: zero, a size from 1e-10 to 1e10 on a logarithmic scale with its sign, or what is not finite.
func pack(v float64) uint16 {
	switch {
	case v == 0:
		return 0
	case math.IsNaN(v):
		return 1
	case math.IsInf(v, 0):
		return 2
	}
	k := uint16(3 + math.Round((math.Log10(math.Min(math.Max(math.Abs(v), 1e-10), 1e10))+10)/20*32700))
	if v < 0 {
		k |= 1 << 15
	}
	return k
}

func unpack(k uint16) float64 {
	switch k {
	case 0:
		return 0
	case 1:
		return math.NaN()
	case 2:
		return math.Inf(1)
	}
	v := math.Pow(10, (float64(k&0x7fff)-3)/32700*20-10)
	if k>>15 == 1 {
		v = -v
	}
	return v
}

// fields returns the numbers that a kind uses, at most five.
func fields(e *Element) []*float64 {
	switch e.Kind {
	case Resistor:
		return []*float64{&e.Ohms}
	case EMF:
		return []*float64{&e.Volts}
	case PowerLoad:
		return []*float64{&e.Watts, &e.Intake.LimitAmps, &e.Intake.HoldVolts, &e.Intake.HoldBand}
	case PowerSource:
		return []*float64{&e.Watts, &e.Outlet.LimitAmps, &e.Outlet.SetVolts, &e.Outlet.SetOhms}
	case CurrentLoad, CurrentSource:
		return []*float64{&e.Amps}
	case Photovoltaic:
		return []*float64{&e.Diode.LightAmps, &e.Diode.SaturationAmps, &e.Diode.IdealityVolts, &e.Diode.SeriesOhms, &e.Diode.ShuntOhms}
	case Converter:
		return []*float64{&e.Efficiency, &e.Outlet.LimitAmps, &e.Outlet.SetVolts, &e.Outlet.SetOhms, &e.Intake.LimitAmps}
	}
	return nil
}

func encode(net Network, index map[string]int) []byte {
	at := func(name string) byte {
		if _, ok := index[name]; !ok && name != "" {
			index[name] = len(index)
		}
		return byte(index[name])
	}
	at(net.Reference)
	var out []byte
	for i := range net.Elements {
		e := net.Elements[i]
		out = append(out, byte(e.Kind), at(e.A), at(e.B), at(e.OutA), at(e.OutB))
		f := fields(&e)
		for k := range 5 {
			v := 0.0
			if k < len(f) {
				v = *f[k]
			}
			out = binary.LittleEndian.AppendUint16(out, pack(v))
		}
	}
	return out
}

func decode(data []byte) Network {
	net := Network{Reference: "0"}
	for i := 0; len(data) >= recordSize && i < 60; i, data = i+1, data[recordSize:] {
		e := Element{Name: fmt.Sprintf("e%d", i), Kind: Kind(data[0] % byte(Converter+2)), A: fmt.Sprint(data[1] % 24), B: fmt.Sprint(data[2] % 24)}
		if e.Kind == Converter {
			e.OutA, e.OutB = fmt.Sprint(data[3]%24), fmt.Sprint(data[4]%24)
		}
		for k, f := range fields(&e) {
			*f = unpack(binary.LittleEndian.Uint16(data[5+2*k:]))
		}
		net.Elements = append(net.Elements, e)
	}
	return net
}

func FuzzSolve(f *testing.F) {
	seeds := 0
	for _, v := range references(f) {
		f.Add(encode(v.network(f), map[string]int{}))
		seeds++
	}
	for _, in := range []Intake{{}, {LimitAmps: 30}} {
		f.Add(encode(Network{"0", charger(0.1116, in)}, map[string]int{}))
		seeds++
	}
	if kept, err := os.ReadDir("testdata/fuzz/FuzzSolve"); err == nil {
		seeds += len(kept)
	}
	if seeds < 20 {
		f.Fatalf("only %d seeds", seeds)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		net := decode(data)
		s, err := New(net)
		if err != nil {
			if s != nil {
				t.Error("a solver beside an error")
			}
			return
		}
		if err := s.Solve(); err != nil {
			if s.Proof() != (Proof{}) {
				t.Error("a proof beside an error")
			}
			return
		}
		sol := s.Solution()
		if !(sol.Proof.Imbalance <= 1e-9) || !(sol.Proof.Stiffness > 0) {
			t.Errorf("proof %+v", sol.Proof)
		}
		for i, v := range sol.NodeVolts {
			if !finite(v) {
				t.Errorf("node %s: %g V", sol.Nodes[i], v)
			}
		}
		for _, r := range sol.Elements {
			if !finite(r.Amps) || !finite(r.Volts) || !finite(r.Watts) || !finite(r.OutAmps) || !finite(r.OutVolts) || !finite(r.OutWatts) {
				t.Errorf("result %+v", r)
			}
			if r.Kind == PowerLoad && r.Amps != 0 && !(r.Volts > 0) {
				t.Errorf("a load at no voltage: %+v", r)
			}
		}
	})
}

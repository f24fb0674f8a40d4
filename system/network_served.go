package system

import (
	"fmt"
	"math"
	"strings"

	"campwright/convert"
)

// Unserved is a load that a state cannot serve.
type Unserved struct {
	Load  int // in Loads; −1 for the inverters
	Name  string
	Watts float64 // what it asks on its DC side
	MostW float64 // what its line gives at most, with the other loads off
}

// cutBy is the share of the largest load with an operating point at which the inverters are held where their full load has none.
const cutBy = 0.98

// Serve solves a state as Solve does. Where it has no operating point it is solved again without the DC loads whose lines give too little, the worst first, and with
// the inverters held at what still has one; Unserved tells which, and Problem is empty when that has an answer.
func (n *Network) Serve(s State) Solved {
	out := n.Solve(s)
	asked := s.ACW
	without := map[int]bool{}
	var unserved []Unserved
	for range len(n.Loads) + 8 {
		if out.Problem == "" || out.Load == "" {
			break
		}
		load := n.loadNamed(out.Load)
		switch {
		case load >= 0 && !without[load]:
			without[load] = true
			unserved = append(unserved, Unserved{load, n.Loads[load].Name, out.asked, out.most})
		case load < 0 && strings.HasPrefix(out.Load, "inverter ") && s.ACW > 0.01*asked:
			if s.ACW == asked {
				unserved = append(unserved, Unserved{-1, strings.TrimSuffix(out.Load, " dc"), out.asked, out.most})
			}
			s.ACW *= cutBy * math.Min(1, math.Max(0.05, out.Scale))
		default:
			return out
		}
		out = n.solveWithout(s, without)
	}
	out.State.ACW = asked
	out.Unserved = unserved
	return out
}

// solveWithout is Solve with some DC loads off.
func (n *Network) solveWithout(s State, off map[int]bool) Solved {
	s.off = off
	return n.Solve(s)
}

// Probe solves the network with one ampere drawn at a DC load and nothing else: its currents are the shares in which anything that the load draws flows through
// cables, bars and devices. What a load would draw that no operating point serves is counted by it.
func (n *Network) Probe(load int) Solved {
	return n.Solve(State{Name: "probe", SoC: 1, BankC: bankC, Loads: LoadsNone, Sun: SunNone, Engine: convert.EngineOff, probe: load + 1})
}

// loadNamed returns the DC load of an element's name, −1 where it is none.
func (n *Network) loadNamed(element string) int {
	for i := range n.Loads {
		if element == loadName(i, n.Loads[i].Name) {
			return i
		}
	}
	return -1
}

func loadName(i int, name string) string { return fmt.Sprintf("load %d %s", i, name) }

// BlockOhms returns the resistance of one string of blocks that gives [Ω], half full and warm.
func (n *Network) BlockOhms() float64 {
	return math.Max(1e-6, n.blockOhms(State{SoC: takingSoC, BankC: bankC}, false))
}

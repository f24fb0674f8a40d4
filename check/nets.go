package check

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Nets is the wiring of a case as a network, solved in every state at nominal and at both ends of the guesses in it.
type Nets struct {
	all    [3]*system.Network // least resistance, nominal, most
	Solved [3][]system.Solved // one for each state, in the same order
	faults [3][]system.FaultAt
	units  quantity.System
	guards []int                  // of each run, the device that protects it, −1 for none
	probes map[int]*system.Solved // by DC load that some state cannot serve: the shares in which what it asks would flow
}

// Places of the leans in Nets.
const (
	least = iota
	nominal
	most
)

// Nets returns the case's wiring as a network, made at the first call; nil where the document cannot be made into models.
func (c Case) Nets() *Nets {
	if c.nets == nil {
		return nil
	}
	return c.nets()
}

// Wired tells whether the owner wrote any wiring at all.
func (c Case) Wired() bool {
	w := c.Said.Wiring
	return w != nil && (len(w.Runs) > 0 || len(w.FuseBlocks) > 0)
}

func makeNets(doc *rig.Rig, sys *system.System, units quantity.System) *Nets {
	if sys == nil || doc.Bank == nil {
		return nil
	}
	n := &Nets{units: units}
	var all sync.WaitGroup // none of the networks knows of the others, and no solution changes its network
	for i, lean := range []system.Lean{system.Least, system.Nominal, system.Most} {
		all.Go(func() {
			net, err := system.NewNetwork(doc, sys, system.Draw{}, lean)
			if err != nil {
				return
			}
			n.all[i] = net
			if i == nominal || guessed(net) {
				states := net.States()
				n.Solved[i] = make([]system.Solved, len(states))
				for k := range states {
					all.Go(func() { n.Solved[i][k] = net.Serve(states[k]) })
				}
			}
			if list, err := net.Faults(); err == nil {
				n.faults[i] = list
			}
		})
	}
	all.Wait()
	if slices.Contains(n.all[:], nil) {
		return nil
	}
	for _, i := range []int{least, most} {
		if n.Solved[i] == nil { // nothing is guessed: the ends are nominal
			n.all[i], n.Solved[i] = n.all[nominal], n.Solved[nominal]
		}
	}
	n.guard()
	n.probes = map[int]*system.Solved{}
	for k := range n.Solved[nominal] {
		for _, u := range n.Solved[nominal][k].Unserved {
			if u.Load >= 0 && n.probes[u.Load] == nil {
				one := n.all[nominal].Probe(u.Load)
				n.probes[u.Load] = &one
			}
		}
	}
	return n
}

// guessed tells whether any run of a network rests on a guess.
func guessed(net *system.Network) bool {
	for i := range net.Runs {
		if len(net.Runs[i].Guessed) > 0 {
			return true
		}
	}
	return false
}

// Net returns the network at nominal.
func (n *Nets) Net() *system.Network { return n.all[nominal] }

// Flow is the largest lasting current through something, over all states, and the state in which it is.
type Flow struct {
	Amps, Low, High float64
	State           string
	Open            string // a lasting state of which the current is not known, or only what it is at least; empty when all are
}

// Settle turns a pass that rests on a state without an answer into a question.
func (f Flow) Settle(o Outcome) Outcome {
	if f.Open == "" || o.Verdict >= Undecided {
		return o
	}
	o.Verdict, o.Margin = Undecided, nil
	o.Measure = []string{fmt.Sprintf("mend first what keeps state %q from having a voltage that holds: rule M41 tells what asks too much", f.Open)}
	return o
}

// Term returns a flow as a term of an inequality.
func (f Flow) Term(symbol, name string) figure.Term {
	t := Between(symbol, name, quantity.Current, f.Amps, f.Low, f.High, "solved: "+f.State)
	if f.Low == f.High {
		t.Figure.State = figure.Plain
	}
	return t
}

// flow finds the worst of all lasting states. What a load would draw that its state cannot serve counts at the bank's nominal voltage: the current that its fuse and all
// before it would see were its line mended.
func (n *Nets) flow(amps func(net *system.Network, s *system.Solved) float64) Flow {
	var f Flow
	open := ""
	high := 0.0
	for k := range n.Solved[nominal] {
		s := &n.Solved[nominal][k]
		if s.State.Surge {
			continue
		}
		if s.Problem != "" {
			open = s.State.Name
			continue
		}
		asked := n.unserved(s, amps)
		a := amps(n.all[nominal], s) + asked
		one := Flow{Amps: a, Low: a, High: a, State: s.State.Name}
		if heldBack(s) {
			one.Open = s.State.Name
		}
		for _, lean := range []int{least, most} {
			if n.Solved[lean][k].Problem == "" {
				b := amps(n.all[lean], &n.Solved[lean][k]) + n.unserved(&n.Solved[lean][k], amps)
				one.Low, one.High = math.Min(one.Low, b), math.Max(one.High, b)
			}
		}
		high = math.Max(high, one.High)
		if a > f.Amps {
			f = one
		}
	}
	f.High = math.Max(f.High, high)
	if open != "" {
		f.Open = open
	}
	// What lugs and the heat of cables move is no guess that a verdict should wait for.
	if f.High-f.Low < 0.03*f.Amps {
		f.Low, f.High = f.Amps, f.Amps
	}
	return f
}

// unserved returns what the loads that a state leaves out would draw through something [A].
func (n *Nets) unserved(s *system.Solved, amps func(net *system.Network, s *system.Solved) float64) float64 {
	sum := 0.0
	for _, u := range s.Unserved {
		if probe := n.probes[u.Load]; probe != nil && probe.Problem == "" {
			sum += u.Watts / n.all[nominal].BankV * amps(n.all[nominal], probe)
		}
	}
	return sum
}

// heldBack tells whether the inverters of a state were held below what they are asked for.
func heldBack(s *system.Solved) bool {
	return slices.ContainsFunc(s.Unserved, func(u system.Unserved) bool { return u.Load < 0 })
}

// Run returns the flow through a run.
func (n *Nets) Run(run int) Flow {
	return n.flow(func(_ *system.Network, s *system.Solved) float64 { return math.Abs(s.Runs[run].Amps) })
}

// Device returns the flow through a device.
func (n *Nets) Device(device int) Flow {
	return n.flow(func(net *system.Network, s *system.Solved) float64 { return s.AmpsThrough(net, device) })
}

// Node returns the flow that meets at a node.
func (n *Nets) Node(node int) Flow {
	return n.flow(func(net *system.Network, s *system.Solved) float64 { return s.NodeAmps(net, node) })
}

// In returns the solutions of a state with the least resistance, nominal and with the most; false where one has none.
func (n *Nets) In(state string) (list [3]*system.Solved, ok bool) {
	for lean := range n.Solved {
		for k := range n.Solved[lean] {
			if s := &n.Solved[lean][k]; s.State.Name == state && s.Problem == "" {
				list[lean] = s
			}
		}
		if list[lean] == nil {
			return list, false
		}
	}
	return list, true
}

// Fault returns the largest current that a bolted short drives through a device, bank and cables with the least resistance that their guesses allow.
func (n *Nets) Fault(device int) system.FaultAt { return n.faultAt(least, device) }

// FaultTerm returns that current as a term of an inequality: at nominal, and at both ends of the guesses in bank and cables.
func (n *Nets) FaultTerm(symbol string, device int) figure.Term {
	f := n.faultAt(nominal, device)
	mid, low, high := f.Amps, n.faultAt(most, device).Amps, n.Fault(device).Amps
	t := Between(symbol, "bolted short through it", quantity.Current, mid, math.Min(low, mid), math.Max(high, mid), fmt.Sprintf("solved: %.1f V behind the bank's resistance, short %s", f.Volts, f.Short))
	if high-low < 0.03*mid {
		t.Figure.Low, t.Figure.High, t.Figure.State = mid, mid, figure.Plain
	}
	return t
}

func (n *Nets) faultAt(lean, device int) system.FaultAt {
	if device < len(n.faults[lean]) {
		return n.faults[lean][device]
	}
	return system.FaultAt{}
}

// Guard returns the device that protects a run, −1 where none does.
func (n *Nets) Guard(run int) int { return n.guards[run] }

// guard finds for each run the overcurrent device nearest before it, seen from the bank or the vehicle; one in the run itself comes first.
func (n *Nets) guard() {
	net := n.Net()
	upstream := n.upstream()
	n.guards = make([]int, len(net.Runs))
	for i := range net.Runs {
		r := &net.Runs[i]
		n.guards[i] = -1
		for _, d := range r.Devices {
			if q := &net.Devices[d]; q.Protects() && (n.guards[i] < 0 || q.RatingA < net.Devices[n.guards[i]].RatingA) {
				n.guards[i] = d
			}
		}
		if n.guards[i] < 0 && r.Core[0].From >= 0 {
			n.guards[i] = upstream[r.Core[0].From]
			if n.guards[i] < 0 {
				n.guards[i] = -1
			}
		}
	}
	// A minus conductor is protected by what protects the plus between the same places.
	for i := range net.Runs {
		if r := &net.Runs[i]; r.Core[0].From < 0 {
			for k := range net.Runs {
				if q := &net.Runs[k]; q.Core[0].From >= 0 && q.From == r.From && q.To == r.To {
					n.guards[i] = n.guards[k]
				}
			}
		}
	}
}

// upstream returns for each node the last overcurrent device on the way from a source, −1 for none and −2 where no source reaches.
func (n *Nets) upstream() []int {
	net := n.Net()
	last := make([]int, len(net.Nodes))
	for i := range last {
		last[i] = -2
	}
	var queue []int
	start := func(name string) {
		if i, ok := net.NodeOf(name); ok && last[i] == -2 {
			last[i] = -1
			queue = append(queue, i)
		}
	}
	for i := range net.Blocks {
		start(fmt.Sprintf("block %d +", i+1))
	}
	start("vehicle +")
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for i := range net.Edges {
			e := &net.Edges[i]
			next := -1
			switch {
			case e.OneWay:
			case e.A == at:
				next = e.B
			case e.B == at:
				next = e.A
			}
			if next < 0 || last[next] != -2 || net.Nodes[next].Rail != system.Plus {
				continue
			}
			last[next] = last[at]
			if e.Device >= 0 && net.Devices[e.Device].Protects() {
				last[next] = e.Device
			}
			queue = append(queue, next)
		}
	}
	return last
}

// First tells whether no other overcurrent device stands between the bank and a device.
func (n *Nets) First(device int) bool {
	net := n.Net()
	if len(net.Devices[device].Edges) == 0 {
		return false
	}
	up := n.upstream()
	e := net.Edges[net.Devices[device].Edges[0]]
	return up[e.A] == -1 || up[e.B] == -1
}

// Rating returns what a conductor of a run may carry by its book, as a term; unknown where its size is.
func (n *Nets) Rating(r *system.Run, g conductor.Gauge) (conductor.Rating, figure.Term, error) {
	u := r.Use
	u.Gauge = g
	rating, err := conductor.Ampacity(u)
	t := Number("Iz", fmt.Sprintf("what %s may carry in air of %s", sizeText(r, g), quantity.Format(quantity.Quantity{Base: rating.AirC, Kind: quantity.Temperature}, n.units)), quantity.Current, rating.Amps, rating.Origin.String())
	if r.Unknown {
		t.Figure.State, t.Figure.Name = figure.Unknown, "what the cable may carry; its size is not known"
	}
	return rating, t, err
}

func sizeText(r *system.Run, g conductor.Gauge) string {
	if r.Unknown {
		return "the cable"
	}
	return g.String()
}

// ReadSize is how to find the size of a cable out.
func ReadSize(r *system.Run) string {
	return "read the print on the insulation of " + r.Title() + ", or measure the voltage at both its ends and the current through it"
}

// ReadPrint is how to find out what is printed on a device.
func ReadPrint(net *system.Network, d *system.Device, what string) string {
	return "read the " + what + " printed on " + d.Title(net)
}

// Protected returns the runs that a device protects.
func (n *Nets) Protected(device int) []int {
	var list []int
	for i, g := range n.guards {
		if g == device {
			list = append(list, i)
		}
	}
	return list
}

// OffShore tells whether a run lies on the DC side.
func OffShore(r *system.Run) bool { return r.Side != conductor.Mains }

// Behind tells whether an array feeds the run that begins at a terminal: its own, or that of a combiner it joins.
func (c Case) Behind(from, array string) bool {
	if from == "array "+array {
		return true
	}
	if c.Doc.Wiring == nil {
		return false
	}
	for i := range c.Doc.Wiring.Combiners {
		b := &c.Doc.Wiring.Combiners[i]
		if from == "combiner "+b.Name && slices.Contains(b.Arrays, array) {
			return true
		}
	}
	return false
}

// Unsure turns what is said of a run of unknown size into a question: a stand-in neither passes nor fails, and a size that the program took fails no rig.
func (o Outcome) Unsure(r *system.Run) Outcome {
	taken := r.Gauge.State == figure.Default && o.Verdict > Pass
	if (r.Unknown || taken) && o.Verdict != Undecided {
		o.Verdict, o.Margin, o.Measure = Undecided, nil, []string{ReadSize(r)}
	}
	return o
}

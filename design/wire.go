package design

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"campwright/circuit"
	"campwright/rig"
	"campwright/system"
)

// Wired is a rig with its wiring, proposed where it was lacking, solved in every state: everything behind the answer to "how is it wired?".
type Wired struct {
	Said     rig.Rig // as its owner wrote it
	Full     *rig.Rig
	Sys      *system.System
	Proposal Proposal
	Nets     [3]*system.Network // least resistance, nominal, most
	Solved   [3][]system.Solved // one for each state
	Faults   []system.FaultAt   // of the least resistance, one for each device
}

// Places of the leans in Wired.
const (
	atLeast = iota
	atNominal
	atMost
)

// Wire proposes what a document lacks and solves the whole.
func Wire(doc rig.Rig) (*Wired, error) {
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		return nil, gapsError(gaps)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 60)
	if err != nil {
		return nil, fmt.Errorf("wire: %w", err)
	}
	w := &Wired{Said: doc, Sys: sys}
	if w.Proposal, err = propose(doc, &full, sys); err != nil {
		return nil, err
	}
	wired, _ := system.Complete(w.Proposal.Doc)
	w.Full = &wired
	if err := w.solve(); err != nil {
		return nil, fmt.Errorf("wire: %w", err)
	}
	w.Proposal.meet(w.Nets[atLeast], w.Faults)
	return w, nil
}

// solve makes the three networks and solves them in every state, side by side: no solution knows of another, and none changes its network.
func (w *Wired) solve() error {
	var faults [3]error
	var all sync.WaitGroup
	for i, lean := range []system.Lean{system.Least, system.Nominal, system.Most} {
		all.Go(func() {
			net, err := system.NewNetwork(w.Full, w.Sys, system.Draw{}, lean)
			if err != nil {
				faults[i] = err
				return
			}
			w.Nets[i] = net
			states := net.States()
			w.Solved[i] = make([]system.Solved, len(states))
			for k := range states {
				all.Go(func() { w.Solved[i][k] = net.Solve(states[k]) })
			}
			if i == atLeast {
				w.Faults, faults[i] = net.Faults()
			}
		})
	}
	all.Wait()
	return errors.Join(faults[:]...)
}

// Net returns the network at nominal.
func (w *Wired) Net() *system.Network { return w.Nets[atNominal] }

// Answer is how a rig is wired, ready for terminal, page and paper.
type Answer struct {
	Rig      string      `json:"rig"`
	Sentence string      `json:"sentence"`
	Book     string      `json:"book"`
	States   []StateRow  `json:"states" nullable:"false"`
	Runs     []RunRow    `json:"runs" nullable:"false"`
	Devices  []DeviceRow `json:"devices" nullable:"false"`
	AC       []ACRow     `json:"ac" nullable:"false"` // one for each leg of each way the panel is fed
	Choices  []Choice    `json:"choices" nullable:"false"`
	Edits    []rig.Edit  `json:"edits" nullable:"false"`   // that accept the proposal
	Guesses  []Guess     `json:"guesses" nullable:"false"` // the one that moves the answer most first
	Loose    []LooseRow  `json:"loose" nullable:"false"`
	Problems []string    `json:"problems" nullable:"false"`
	Caution  string      `json:"caution"`
}

// StateRow is one state of the whole.
type StateRow struct {
	Name    string     `json:"name"`
	Words   string     `json:"words"`
	Problem string     `json:"problem"` // why there is no operating point; empty when there is one
	Load    string     `json:"load"`    // the load that asks too much
	BankV   *float64   `json:"bankV"`   // at the posts
	BankA   *float64   `json:"bankA"`   // positive when charging
	Blocks  []BlockRow `json:"blocks" nullable:"false"`
	Notes   []string   `json:"notes" nullable:"false"`
	Proof   *ProofRow  `json:"proof"`
}

// BlockRow is one string of blocks in a state.
type BlockRow struct {
	Name  string  `json:"name"`
	Amps  float64 `json:"amps"` // positive when charging
	Share float64 `json:"share"`
}

// ProofRow is why a state's numbers are to be trusted.
type ProofRow struct {
	Imbalance float64 `json:"imbalance"` // Kirchhoff's first law, share of the largest current
	Stiffness float64 `json:"stiffness"` // above zero on the branch on which real gear runs
}

// RunRow is one run.
type RunRow struct {
	Path     string  `json:"path"`
	Name     string  `json:"name"`
	From     string  `json:"from"`
	To       string  `json:"to"`
	Side     string  `json:"side"`
	Gauge    string  `json:"gauge"`
	Length   string  `json:"length"`
	Known    string  `json:"known" enum:"written,proposed,guess,measured,unknown"`
	Pair     bool    `json:"pair"`
	Ampacity float64 `json:"ampacityA"`
	MostFuse float64 `json:"mostFuseA"` // largest device the book lets stand before it
	Book     string  `json:"book"`
	At       []RunAt `json:"at" nullable:"false"` // one for each state
	WorstA   float64 `json:"worstA"`
	WorstIn  string  `json:"worstIn"`
	DropV    float64 `json:"dropV"` // where it is largest
	DropPct  float64 `json:"dropPct"`
	DropLow  float64 `json:"dropPctLow"` // the same with the least and the most resistance that the guesses allow
	DropHigh float64 `json:"dropPctHigh"`
	DropIn   string  `json:"dropIn"`
}

// RunAt is one run in a state.
type RunAt struct {
	State string  `json:"state"`
	Amps  float64 `json:"amps"`
	FromV float64 `json:"fromV"`
	ToV   float64 `json:"toV"`
	DropV float64 `json:"dropV"`
	LossW float64 `json:"lossW"`
}

// DeviceRow is one fuse, switch or plug.
type DeviceRow struct {
	Path      string  `json:"path"`
	Name      string  `json:"name"`
	Kind      string  `json:"kind"`
	Family    string  `json:"family"`
	RatingA   float64 `json:"ratingA"`
	VoltsDC   float64 `json:"voltsDC"`
	Interrupt float64 `json:"interruptA"`
	Run       string  `json:"run"`
	WorstA    float64 `json:"worstA"`
	WorstIn   string  `json:"worstIn"`
	FaultA    float64 `json:"faultA"`   // a bolted short can drive through it, cables short and cold
	BackedBy  string  `json:"backedBy"` // where that is more than it can stop, what stands before it and can; empty for none
	Known     string  `json:"known" enum:"written,proposed"`
}

// Guess is something in the wiring that nobody measured.
type Guess struct {
	Path    string  `json:"path"`
	What    string  `json:"what"`
	Moves   float64 `json:"movesPct"` // how far it moves the drop of its run, in points
	Measure string  `json:"measure"`
}

// LooseRow is a part that no run reaches, or one whose joining is taken as given.
type LooseRow struct {
	Path string `json:"path"`
	Part string `json:"part"`
	Why  string `json:"why"`
}

// Caution stands once with every answer about wiring.
const Caution = "A bank of 12 or 24 V gives no shock, one of 48 V can, and each can drive thousands of amps through a dropped spanner; modules in daylight cannot be switched off; mains can kill. Put the main fuse in last. Follow local codes and the makers' instructions; where a licence is required, have a licensed person do the work. Campwright checks and explains; it does not certify."

// Answer makes the answer of a solved rig.
func (w *Wired) Answer() Answer {
	n := w.Net()
	a := Answer{Rig: w.Full.Name, Book: n.Book.String(), Choices: some(w.Proposal.Choices), Edits: some(w.Proposal.Edits), Problems: some(w.Proposal.Problems), Caution: Caution,
		States: []StateRow{}, Runs: []RunRow{}, Devices: []DeviceRow{}, Loose: []LooseRow{}}
	for _, s := range w.Solved[atNominal] {
		a.States = append(a.States, stateRow(&s))
	}
	for i := range n.Runs {
		a.Runs = append(a.Runs, w.runRow(i))
	}
	backs := w.backups()
	for i := range n.Devices {
		a.Devices = append(a.Devices, w.deviceRow(i))
		a.Devices[i].BackedBy = backs[i]
		a.backUp(&a.Devices[i])
	}
	a.AC = w.acRows()
	for _, l := range n.Loose {
		a.Loose = append(a.Loose, LooseRow{l.Path, l.Part, l.Why})
	}
	a.Guesses = some(w.guesses(a.Runs))
	a.Sentence = w.sentence(&a)
	return a
}

func stateRow(s *system.Solved) StateRow {
	r := StateRow{Name: s.State.Name, Words: s.State.Words, Problem: s.Problem, Load: s.Load, Notes: some(s.Notes), Blocks: []BlockRow{}}
	if s.Problem != "" {
		return r
	}
	v, total := s.BankPostsV(), 0.0
	for _, b := range s.Blocks {
		total += b.Amps
	}
	for _, b := range s.Blocks {
		share := 1 / float64(len(s.Blocks))
		if math.Abs(total) > 1e-6 {
			share = b.Amps / total
		}
		r.Blocks = append(r.Blocks, BlockRow{b.Name, round(b.Amps, 2), round(share, 4)})
	}
	v, total = round(v, 3), round(total, 2)
	r.BankV, r.BankA = &v, &total
	r.Proof = &ProofRow{Imbalance: s.Proof.Imbalance, Stiffness: s.Proof.Stiffness}
	return r
}

// some returns a list that is empty where there is none, so that it is written as such and not as null.
func some[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// round rounds to what is promised of an answer, so that it reads the same on every machine.
func round(x float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	if r := math.Round(x*p) / p; r != 0 {
		return r
	}
	return 0
}

// Line returns the loop resistance of a hidden run from two voltages and one current, for the page's form of readings.
func Line(startV, endV, amps float64) (circuit.Line, error) {
	return circuit.Readings{SourceVolts: startV, LoadVolts: endV, Amps: amps, VoltsOff: system.MeterOffV, AmpsOff: system.MeterOffShare * amps}.Line()
}

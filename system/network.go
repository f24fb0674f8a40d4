package system

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"campwright/conductor"
	"campwright/figure"
	"campwright/rig"
)

// This file and its neighbours network_*.go are the rig as a graph of terminals: cables, joints, fuses and switches between the posts of
// its parts. NewNetwork builds it out of a completed document, its written wiring first, and the runs that the document has elsewhere
// (array to controller, charge line, shore cord) where the wiring has none. What no run reaches is told as loose; nothing is invented.

// Lean says which end of every guess about a cable is taken. A fault is largest at Least, a drop at Most.
type Lean int8

// The leans.
const (
	Nominal Lean = 0  // as stated, conductors hot
	Least   Lean = -1 // least resistance: short, thick, cold
	Most    Lean = +1 // most resistance: long, thin, hot
)

// Conductor temperatures at which resistance is taken [°C]: hot as the handbook's drop tables have it, cold for faults.
const (
	hotConductorC  = 75
	coldConductorC = 20
)

// Network is the wiring of a rig as a graph. It is safe to read from any goroutine.
type Network struct {
	Doc     *rig.Rig
	Sys     *System
	Lean    Lean
	Book    conductor.Book
	BankV   float64 // nominal
	Blocks  int     // strings of blocks in parallel
	Nodes   []Node
	Edges   []Edge
	Runs    []Run
	Devices []Device
	Loads   []WiredLoad
	Loose   []Loose

	index map[string]int // node by name
	links []link         // inside parts: how energy crosses them

	passive passive
}

// Node is a place of one voltage: a terminal, or a place inside a run.
type Node struct {
	Name     string
	Terminal rig.Terminal // zero for a place inside a run
	Rail     Rail
}

// Rail tells which conductor a node is on.
type Rail uint8

// The rails.
const (
	Plus Rail = iota + 1
	Minus
	Mains
)

// Edge is a resistance between two nodes.
type Edge struct {
	A, B   int
	Ohms   float64
	Run    int // in Runs, or -1 inside a part
	Device int // in Devices, or -1
	Joint  bool
	OneWay bool // energy goes from A to B alone, as on the AC side
}

// Core is one conductor of a run.
type Core struct {
	Gauge    conductor.Gauge
	From, To int // nodes; -1 where the run has no such conductor
	Ohms     float64
	Edges    []int
}

// Run is one run of cable.
type Run struct {
	Path, Name string
	From, To   string // terminals
	Side       conductor.Side
	Core       [2]Core // plus and minus; for mains the first alone
	LengthM    float64 // one way
	Use        conductor.Use
	HotC       float64 // of its conductors under load, for their resistance
	Route      string
	Sheathed   bool
	Volts      float64 // nominal of the circuit
	Chassis    bool    // returns through the frame
	Devices    []int   // in their order
	Gauge      rig.Value
	Length     rig.Value
	Unknown    bool     // its size is not known: what stands for it is a stand-in
	Guessed    []string // paths of the guesses in it
	FromMeter  bool     // its resistance was measured
	Branch     bool     // behind a fuse of a fuse block
	Wire       *rig.Wire
}

// Pair tells whether both conductors are in the run.
func (r *Run) Pair() bool { return r.Core[0].From >= 0 && r.Core[1].From >= 0 }

// Main returns the conductor that a device of the run protects: plus where there is one.
func (r *Run) Main() *Core {
	if r.Core[0].From >= 0 {
		return &r.Core[0]
	}
	return &r.Core[1]
}

// Title names the run for people.
func (r *Run) Title() string {
	if r.Name != "" {
		return r.Name
	}
	return r.From + " to " + r.To
}

// Device is a fuse, breaker, switch, plug, shunt, cut-off or relay.
type Device struct {
	Path, Name, Kind, Family string
	RatingA, VoltsDC         float64 // zero where not known
	InterruptA               float64 // zero where neither written nor known of its family
	Run                      int
	AtM                      float64 // along its run, NaN where not written
	Edges                    []int   // one, or two where it opens both conductors
	Doc                      *rig.Device
	Rating                   rig.Value
	Alike                    float64 // so many of them side by side, 1 as a rule: string fuses
}

// Protects tells whether the device opens by itself on too much current.
func (d *Device) Protects() bool { return d.Kind == "fuse" || d.Kind == "breaker" }

// Opens tells whether a person can open the device, or pull it.
func (d *Device) Opens() bool { return d.Kind != "shunt" }

// WiredLoad is an appliance, or all that hang on one branch, at the end of its cable.
type WiredLoad struct {
	Name        string
	Appliances  []string
	Plus, Minus int
	FullW       float64 // all of it running at once
	ParkedW     float64 // while nobody is there
	Unknown     bool    // what it draws is not known: a stand-in
}

// Loose is a part that no written run reaches.
type Loose struct {
	Path, Part string // terminal
	Why        string
	Taken      bool // a joint that nobody wrote is taken as there
}

// link is how energy crosses a part: from the nodes of one side to those of the other.
type link struct {
	part            string
	kind            linkKind
	from, fromMinus int
	to, toMinus     int
	backwards       bool // it can also feed back
	doc             int  // index of the part in the document
	name            string
}

type linkKind uint8

const (
	linkController linkKind = iota + 1
	linkInverter
	linkCharger
	linkDCDC
	linkRelay
)

// ErrNoWiring says that the document has no wiring at all.
var ErrNoWiring = errors.New("the file has no wiring section")

// NewNetwork builds the graph of a completed document.
//
//	doc   completed; its wiring may be missing in part or whole, which gives loose parts
//	sys   the same as numbers, for the draw d
//	d     the draw of all guesses but those of cables
//	lean  which end of the guesses about cables
//
// The error is for a document that does not fit itself, such as a terminal that is not there; Decode has refused such a one already.
func NewNetwork(doc *rig.Rig, sys *System, d Draw, lean Lean) (*Network, error) {
	b := builder{doc: doc, sys: sys, d: d, lean: lean, net: &Network{Doc: doc, Sys: sys, Lean: lean, index: map[string]int{}}}
	book, ok := conductor.BookNamed(doc.Book)
	if !ok {
		book = conductor.USRV
	}
	b.net.Book, b.net.BankV = book, b.nominalV()
	if doc.Wiring != nil {
		b.w = doc.Wiring
	} else {
		b.w = &rig.Wiring{}
	}
	b.findBlocks()
	b.net.Blocks = b.blocks
	b.parts()
	b.bars()
	b.combiners()
	b.wires()
	b.arrayRuns()
	b.chargeLine()
	b.mains()
	b.fuseBlocks()
	b.bond()
	b.loose()
	if err := errors.Join(b.faults...); err != nil {
		return nil, err
	}
	b.net.prepare()
	return b.net, nil
}

// builder makes one network and collects what does not fit.
type builder struct {
	doc    *rig.Rig
	sys    *System
	d      Draw
	lean   Lean
	w      *rig.Wiring
	net    *Network
	faults []error

	blocks     int  // strings of blocks in parallel
	blockNamed bool // runs name single blocks
}

func (b *builder) fail(format string, args ...any) {
	b.faults = append(b.faults, fmt.Errorf(format, args...))
}

func (b *builder) nominalV() float64 { return (&assembler{doc: b.doc}).nominalV() }

// ohmsEnd returns a value at the end that the lean takes: rising is true for a value that raises resistance.
func (b *builder) ohmsEnd(v rig.Value, rising bool) float64 {
	if b.lean == Nominal || !IsGuess(v) {
		return b.d.Of(v)
	}
	if (b.lean == Most) == rising {
		return v.High
	}
	return v.Low
}

// conductorC is the conductor temperature of a run at the lean.
func (b *builder) conductorC(r *Run) float64 {
	if b.lean == Least {
		return coldConductorC
	}
	return r.HotC
}

// node returns the node of a name, making it when it is new.
func (n *Network) node(name string, t rig.Terminal, rail Rail) int {
	if i, ok := n.index[name]; ok {
		return i
	}
	i := len(n.Nodes)
	n.index[name] = i
	n.Nodes = append(n.Nodes, Node{name, t, rail})
	return i
}

// NodeOf returns the node of a terminal such as "bus bar main +"; false when nothing is joined to it.
func (n *Network) NodeOf(terminal string) (int, bool) {
	i, ok := n.index[terminal]
	return i, ok
}

// edge adds a resistance; none is below a microohm, so that parts in parallel have a current each.
func (n *Network) edge(e Edge) int {
	e.Ohms = math.Max(e.Ohms, 1e-6)
	n.Edges = append(n.Edges, e)
	return len(n.Edges) - 1
}

// inside joins two nodes of one part.
func (n *Network) inside(a, b int, ohms float64) {
	n.edge(Edge{A: a, B: b, Ohms: ohms, Run: -1, Device: -1})
}

// terminal returns the node of one conductor of a terminal.
func (b *builder) terminal(t rig.Terminal, sign string) int {
	t = b.same(t)
	t.Sign = sign
	rail := Plus
	switch {
	case t.Mains():
		rail = Mains
		t.Sign = ""
	case sign == "-":
		rail = Minus
	}
	return b.net.node(t.String(), t, rail)
}

// same turns names of the same posts into one: the bank of one block is that block.
func (b *builder) same(t rig.Terminal) rig.Terminal {
	if t.Part == "bank" && (b.blocks == 1 || b.blockNamed) {
		t.Part, t.Name = "block", "1"
	}
	return t
}

// findBlocks counts the blocks and looks whether runs name them.
func (b *builder) findBlocks() {
	b.blocks = 1
	if b.doc.Bank != nil {
		b.blocks = max(1, int(math.Round(b.d.Of(b.doc.Bank.Blocks))))
	}
	for i := range b.w.Runs {
		for _, text := range []string{b.w.Runs[i].From, b.w.Runs[i].To} {
			if strings.HasPrefix(text, "block ") {
				b.blockNamed = true
			}
		}
	}
}

// Run returns the run of a path.
func (n *Network) Run(path string) (*Run, bool) {
	for i := range n.Runs {
		if n.Runs[i].Path == path {
			return &n.Runs[i], true
		}
	}
	return nil, false
}

// FindDevice returns the number of the device that goes by a path, a name, or a name within its run; false where none or several do.
func (n *Network) FindDevice(name string) (int, bool) {
	found := -1
	for i := range n.Devices {
		d := &n.Devices[i]
		if d.Path == name {
			return i, true
		}
		title := d.Title(n)
		if strings.EqualFold(title, name) || strings.EqualFold(Once(title), name) || strings.EqualFold(d.Name, name) && d.Name != "" {
			if found >= 0 {
				return -1, false
			}
			found = i
		}
	}
	return found, found >= 0
}

// Title names the device for people.
func (d *Device) Title(n *Network) string {
	if d.Name != "" {
		return d.Name
	}
	return d.Kind + " in " + n.Runs[d.Run].Title()
}

// guess tells whether a value is no firm figure.
func guess(v rig.Value) bool { return v.State != figure.Plain && v.State != figure.Measured }

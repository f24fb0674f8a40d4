package system

import (
	"math"

	"campwright/convert"
)

// State is what a rig does at one moment, for its wiring to bear.
type State struct {
	Name   string  // as the terminal's --state takes it
	Words  string  // what happens
	SoC    float64 // of the bank
	BankC  float64 // temperature of the bank
	ACW    float64 // what all inverters together put out; each gets its share by rating
	Surge  bool    // for the instant of a start
	Loads  LoadMode
	Sun    SunMode
	Engine convert.Engine
	ACInVA float64 // what the chargers may take from AC

	off   map[int]bool // DC loads that are left out
	probe int          // 1 + the DC load that draws one ampere and nothing else does; 0 for an ordinary state
}

// LoadMode says which loads on the DC side run.
type LoadMode uint8

// The modes.
const (
	LoadsNone LoadMode = iota
	LoadsFull
	LoadsParked
)

// SunMode says what the modules get.
type SunMode uint8

// The suns.
const (
	SunNone SunMode = iota
	SunCold         // clear noon in frost: most power
	SunHot          // clear noon in heat: lowest voltage
)

// Air at a clear noon in frost and in heat, and the charge of a bank that takes all it gets. Common practice, no source.
const (
	coldNoonC   = -10
	hotNoonC    = 40
	takingSoC   = 0.5
	bankC       = 25
	generatorVA = 0.9 // of a generator's rating that chargers may take
)

// Names of the states.
const (
	StateInverter  = "full inverter"
	StateStart     = "motor start"
	StateLoads     = "all dc loads"
	StateSunShore  = "sun and shore"
	StateSunEngine = "sun and engine"
	StateNoonCold  = "noon, cold"
	StateNoonHot   = "noon, hot"
	StateCruise    = "engine at cruise"
	StateIdle      = "engine at idle"
	StateMakeUp    = "shore with make-up"
	StateShore     = "shore"
	StateGenerator = "generator"
	StateStored    = "stored"
	stateFault     = "fault"
	faultFromSoC   = 1
	unlimitedVA    = 1e9
)

// States returns the moments that the wiring of this rig has to bear.
func (n *Network) States() []State {
	low := math.Min(math.Max(n.Sys.Floor, 0.05), 1)
	var list []State
	add := func(s State) {
		s.BankC = bankC
		if s.SoC == 0 {
			s.SoC = takingSoC
		}
		list = append(list, s)
	}
	if rated := n.ratedACW(); rated > 0 {
		add(State{Name: StateInverter, Words: "inverters at their rating and every DC load, bank at its reserve", SoC: low, ACW: rated, Loads: LoadsFull})
		add(State{Name: StateStart, Words: "a motor starts on the inverter, bank at its reserve", SoC: low, ACW: n.startACW(), Surge: true})
	}
	if len(n.Loads) > 0 {
		add(State{Name: StateLoads, Words: "every DC load at once, bank at its reserve", SoC: low, Loads: LoadsFull})
	}
	sun, engine, chargers := len(n.Sys.Arrays) > 0, n.hasEngine(), len(n.Sys.Supply.Chargers) > 0
	if sun && chargers {
		add(State{Name: StateSunShore, Words: "clear cold noon and shore chargers together, nothing on", Sun: SunCold, ACInVA: unlimitedVA})
	}
	if sun && engine {
		add(State{Name: StateSunEngine, Words: "clear cold noon and the engine at cruise, nothing on", Sun: SunCold, Engine: convert.Cruising})
	}
	if sun {
		add(State{Name: StateNoonCold, Words: "clear noon in frost", Sun: SunCold})
		add(State{Name: StateNoonHot, Words: "clear noon in heat", Sun: SunHot})
	}
	if engine {
		add(State{Name: StateCruise, Words: "the engine charges at cruise", Engine: convert.Cruising})
		add(State{Name: StateIdle, Words: "the engine charges at idle, hot", Engine: convert.Idling})
	}
	if chargers {
		if va := n.makeUpW(); va > 0 {
			add(State{Name: StateMakeUp, Words: "shore at its limit, the bank makes up what the loads ask beyond it", ACW: va, Loads: LoadsFull})
		}
		add(State{Name: StateShore, Words: "shore chargers, nothing else on", ACInVA: n.shoreVA()})
	}
	if g := n.Sys.Supply.Generator; g != nil && chargers {
		add(State{Name: StateGenerator, Words: "generator feeds the chargers", ACInVA: generatorVA * g.Params().RatedW})
	}
	add(State{Name: StateStored, Words: "parked: only what draws while nobody is there", SoC: takingSoC, Loads: LoadsParked})
	return list
}

// State returns the state of a name.
func (n *Network) State(name string) (State, bool) {
	for _, s := range n.States() {
		if s.Name == name {
			return s, true
		}
	}
	return State{}, false
}

func (n *Network) ratedACW() float64 {
	w := 0.0
	for i := range n.Sys.Inverters {
		w += n.Sys.Inverters[i].Unit.Params().RatedW
	}
	return w
}

// startACW is the hardest start that can be asked of the inverters: that of a motor aboard, up to what the inverters give for one, and
// what they give where no motor is known.
func (n *Network) startACW() float64 {
	most, motor := 0.0, 0.0
	for i := range n.Sys.Inverters {
		most += n.Sys.Inverters[i].Unit.Params().SurgeW
	}
	for i := range n.Doc.Appliances {
		a := &n.Doc.Appliances[i]
		if a.Runs == "ac" && a.Surge.Given() {
			w := a.Surge.Quantity.Base
			if a.Surge.Quantity.Kind == currentKind {
				w *= outletV(n.Doc.Book)
			}
			motor = math.Max(motor, w)
		}
	}
	if motor > 0 {
		return math.Min(most, motor)
	}
	return most
}

func (n *Network) hasEngine() bool {
	s := &n.Sys.Supply
	return s.Vehicle != nil && (s.Unit != nil || s.Relay != nil)
}

// shoreVA is what the chargers may take from shore.
func (n *Network) shoreVA() float64 {
	s := &n.Sys.Supply
	post, _ := n.post()
	if s.LimitA > 0 {
		return s.LimitA * outletV(n.Doc.Book) * float64(max(1, post.Legs))
	}
	if s.HasInlet {
		return post.ContinuousVA()
	}
	return unlimitedVA
}

// makeUpW is what the bank gives through the inverters while shore is at its limit and every AC load runs, counted as the legs of the panel are; zero
// where nothing makes up.
func (n *Network) makeUpW() float64 {
	s := &n.Sys.Supply
	if !s.MakeUp || !s.HasInlet || len(n.Sys.Inverters) == 0 {
		return 0
	}
	post, _ := n.post()
	limit := s.LimitA
	if limit <= 0 {
		limit = post.Continuous * post.Amps
	}
	va := 0.0
	for _, l := range n.shore(post, limit).feed(n.legLoads(OnShore, true), s.Inlet.Volts).Legs {
		va += l.MadeUpA * s.Inlet.Volts
	}
	return math.Min(n.ratedACW(), va)
}

// blockSource returns the rest voltage and resistance of one string of blocks [V], [Ω] in a state.
func (n *Network) blockSource(s State) (volts, ohms float64) {
	charging := s.Sun != SunNone || s.Engine != convert.EngineOff || s.ACInVA > 0
	return n.Sys.Bank.Model.Voc(s.SoC), n.blockOhms(s, charging)
}

// blockOhms returns the resistance of one string of blocks [Ω] to a current into it or out of it. A full lead-acid block takes little and
// gives all the more: the resistance against charging must not stand for the other.
func (n *Network) blockOhms(s State, charging bool) float64 {
	ohms := n.Sys.Bank.Model.Resistance(s.SoC, s.BankC, charging) * float64(n.Blocks)
	k := n.Doc.Bank.Block.Resistance
	if nominal := k.Quantity.Base; IsGuess(k) && nominal > 0 {
		switch n.Lean {
		case Least:
			ohms *= k.Low / nominal
		case Most:
			ohms *= k.High / nominal
		}
	}
	return ohms
}

// OutletV returns the voltage of an AC outlet where a rule book applies [V].
func OutletV(book string) float64 { return outletV(book) }

// WiredPart is something that takes from or gives to the DC side, with the most that flows in it.
type WiredPart struct {
	Name        string
	Plus, Minus int
	Amps        float64 // at full draw or output, at the bank's nominal voltage
}

// Parts returns everything on the DC side that a run reaches: inverters, loads, controllers, chargers and the dc-dc unit.
func (n *Network) Parts() []WiredPart {
	var list []WiredPart
	reached := func(node int) bool {
		for i := range n.Runs {
			for _, c := range n.Runs[i].Core {
				if c.From >= 0 && (c.From == node || c.To == node) {
					return true
				}
			}
		}
		return false
	}
	for _, l := range n.links {
		p := WiredPart{Name: l.name, Plus: l.to, Minus: l.toMinus}
		switch l.kind {
		case linkInverter:
			u := &n.Sys.Inverters[l.doc].Unit
			p = WiredPart{"inverter " + l.name, l.from, l.fromMinus, u.DCA(u.Params().RatedW, n.BankV)}
		case linkController:
			p.Name, p.Amps = "controller "+l.name, n.Sys.Controllers[l.doc].Unit.Params().OutputA
		case linkCharger:
			p.Name, p.Amps = "charger "+l.name, n.Sys.Supply.Chargers[l.doc].Unit.Params().OutputA
		case linkDCDC:
			if n.Sys.Supply.Unit != nil {
				p.Amps = n.Sys.Supply.Unit.MostW(n.BankV) / n.BankV
			}
		default:
			continue
		}
		if p.Minus >= 0 && reached(p.Plus) {
			list = append(list, p)
		}
	}
	for i := range n.Loads {
		l := &n.Loads[i]
		list = append(list, WiredPart{l.Name, l.Plus, l.Minus, l.FullW / n.BankV})
	}
	return list
}

package circuit

// Kind says what an element is.
type Kind uint8

// The kinds of element. Each comment gives the values it uses and its signs; A and B are its first and second node.
const (
	Resistor      Kind = iota + 1 // Ohms between A and B; current positive from A to B; power absorbed
	EMF                           // ideal source, Volts from B up to A; current positive out of A, negative when charged; power delivered
	PowerLoad                     // takes Watts at its own voltage, within Intake; current from A to B; power absorbed
	PowerSource                   // delivers Watts at its own voltage, within Outlet; current out of A; power delivered
	CurrentLoad                   // Amps from A to B whatever the voltage; power absorbed
	CurrentSource                 // Amps out of A whatever the voltage; power delivered
	Photovoltaic                  // single-diode module Diode; current out of A, may be negative; power delivered
	Short                         // no resistance between A and B; current from A to B
	Converter                     // takes from A and B within Intake, delivers to OutA and OutB within Outlet, Watts and Efficiency
)

// kindNames are the names under which kinds appear in files.
var kindNames = [...]string{
	Resistor: "resistor", EMF: "vsource", PowerLoad: "constant_power_load", PowerSource: "constant_power_source",
	CurrentLoad: "constant_current_load", CurrentSource: "constant_current_source", Photovoltaic: "pv", Short: "short", Converter: "converter",
}

// String returns the name under which the kind appears in files, such as "constant_power_load".
func (k Kind) String() string {
	if k == 0 || int(k) >= len(kindNames) {
		return "no kind"
	}
	return kindNames[k]
}

// KindNamed returns the kind of a name as it appears in files.
func KindNamed(name string) (k Kind, ok bool) {
	for i, n := range kindNames {
		if n == name && n != "" {
			return Kind(i), true
		}
	}
	return 0, false
}

// Element is one thing between nodes. Which values it uses is said at its Kind; the others must be zero.
type Element struct {
	Name string
	Kind Kind
	A, B string // first and second node: a and b of a resistor, positive and negative of all else

	Ohms  float64 // above 1e-9 [Ω]; for none at all use Short
	Volts float64 // any sign [V]
	Watts float64 // zero or more [W]; of a converter, the largest output, zero for no such limit
	Amps  float64 // any sign [A]

	Diode  Diode
	Intake Intake
	Outlet Outlet

	OutA, OutB string  // output of a converter
	Efficiency float64 // of a converter, output over input, above 0 to 1
}

// Diode is a module at its present light and temperature, by the single-diode equation
// I = Il − I0·(exp((V + I·Rs)/a) − 1) − (V + I·Rs)/Rsh.
type Diode struct {
	LightAmps      float64 // Il, photocurrent [A], zero or more
	SaturationAmps float64 // I0 [A], above zero
	IdealityVolts  float64 // a = n·Ns·k·T/q [V], above zero
	SeriesOhms     float64 // Rs [Ω], zero or more
	ShuntOhms      float64 // Rsh [Ω], above zero
}

// Intake is how a load that wants constant power is held back. Zero values mean no such limit.
//
// Its current is the smallest of Watts/V, LimitAmps, and, where HoldVolts is set, a line that falls from full power at HoldVolts to
// nothing at HoldVolts − HoldBand: the unit lowers its power to hold the voltage of its line.
type Intake struct {
	LimitAmps float64 // largest input current [A]
	HoldVolts float64 // voltage below which it lowers its power [V]
	HoldBand  float64 // width of that fold-back [V], above zero where HoldVolts is set
}

// Outlet is how a source that offers constant power is held back. Zero values mean no such limit; a converter needs SetVolts or LimitAmps or Watts.
//
// Its current is the smallest of Watts/V, LimitAmps and (SetVolts − V)/SetOhms, and never below zero: it does not take current back.
type Outlet struct {
	LimitAmps float64 // largest output current [A]
	SetVolts  float64 // voltage it regulates to with nothing drawn [V]
	SetOhms   float64 // how far it sags per ampere [Ω], above zero where SetVolts is set
}

// Network is elements between named nodes. Reference is the node at zero volts, usually battery negative.
type Network struct {
	Reference string
	Elements  []Element
}

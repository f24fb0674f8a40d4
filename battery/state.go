package battery

// State is what a bank holds and the voltages that the gear around it keeps.
type State struct {
	SoC      float64 // share of the present capacity, 0..1
	CeilingV float64 // bank voltage that charging does not pass, the set-point of the chargers; 0 stands for the model's absorption voltage
	FloorV   float64 // bank voltage that discharging does not pass, a cut-off; 0 for none
}

// Flow is what happened in one step, as means over it. All powers close: PowerW = StoredW + ResistiveLossW + PolarisationLossW +
// CoulombicLossW, where losses are zero or positive, and StoredW is negative when discharging. The stored energy of the state changes by
// (StoredW - SelfDischargeW) times the step.
type Flow struct {
	PowerW            float64 // at the terminals, + charging: what was really taken
	CurrentA          float64 // at the terminals, + charging, constant over the step
	TerminalV         float64 // mean over the step
	ResistiveLossW    float64 // current squared times resistance, including the growing resistance of lead-acid near full
	PolarisationLossW float64 // current times polarisation voltage
	CoulombicLossW    float64 // charge that was not stored, at open-circuit voltage
	StoredW           float64 // change of stored energy by the current, at open-circuit voltage
	SelfDischargeW    float64 // energy that leaked away inside
	Limit             Limit   // what held the power below the one asked for
}

// Limit names what holds a bank back.
type Limit uint8

// The limits, in the order in which they are named when two bind at once.
const (
	None        Limit = iota
	Temperature       // outside the window of temperature for this direction
	SoCEnd            // full or empty within the step
	RateEnd           // what is left cannot be had at this current and temperature (lead-acid)
	Voltage           // the ceiling of charging or the floor of discharging
	Current           // limit of the blocks
	Power             // limit in watts (ideal bank), or the most that the resistance lets through
)

// String returns a phrase for people.
func (l Limit) String() string {
	switch l {
	case None:
		return "no limit"
	case Temperature:
		return "cell temperature"
	case SoCEnd:
		return "full or empty"
	case RateEnd:
		return "capacity at this rate and temperature"
	case Voltage:
		return "voltage set-point"
	case Current:
		return "current limit"
	case Power:
		return "power limit"
	}
	return "unknown limit"
}

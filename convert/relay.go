package convert

// RelayParams describes a relay that ties vehicle and bank together with nothing to limit the current.
type RelayParams struct {
	Name    string
	LoopOhm float64 // everything between the two voltages: line, relay contacts, battery's own resistance [Ω], 1e-5 to 10
	RatedA  float64 // lasting current of the relay [A]; zero: not given
}

// Relay ties vehicle and bank together. Make it with NewRelay. It always lets current flow both ways.
type Relay struct{ params RelayParams }

// NewRelay checks the parameters and returns the relay, or every fault found.
func NewRelay(p RelayParams) (Relay, error) {
	f := faults{place: placed("relay", p.Name)}
	f.within("resistance", p.LoopOhm, 1e-5, 10, "ohm")
	f.optional("rating", p.RatedA, 0.1, 2000, "A")
	if err := f.err(); err != nil {
		return Relay{}, err
	}
	return Relay{params: p}, nil
}

// Tie is the two sides of a closed relay.
type Tie struct {
	VehicleV float64 // voltage the vehicle holds [V]
	BankV    float64 // bank voltage without current [V], its resistance being part of the relay's
	SpareA   float64 // what the alternators have to spare [A]; Unlimited to leave them out
}

// TieFlow is what flows. SourceW = BankW + LossW.
type TieFlow struct {
	WantedA float64 // what would flow from a vehicle of any strength, (VehicleV - BankV)/R [A], positive into the bank
	A       float64 // what flows
	BankW   float64 // at BankV
	LossW   float64 // heat in the resistance
	SourceW float64
	Over    bool // the alternators are asked for more than they have to spare: they run at their limit for as long as the bank takes it
	Hot     bool // more than the relay's rating
}

// Flow returns the current through a closed relay. Beyond the spare of the alternators their voltage sags until no more is asked.
// Voltages below zero or no number count as zero. Source: Ohm's law.
func (r Relay) Flow(t Tie) TieFlow {
	bank := positive(t.BankV)
	out := TieFlow{WantedA: (positive(t.VehicleV) - bank) / r.params.LoopOhm}
	out.A = out.WantedA
	if spare := positive(t.SpareA); out.A > spare {
		out.A, out.Over = spare, true
	}
	out.BankW = bank * out.A
	out.LossW = r.params.LoopOhm * out.A * out.A
	out.SourceW = out.BankW + out.LossW
	out.Hot = r.params.RatedA > 0 && max(out.A, -out.A) > r.params.RatedA
	return out
}

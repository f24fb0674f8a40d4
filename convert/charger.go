package convert

// ChargerParams describes a charger that runs on AC: a converter, a battery charger or the charging side of an inverter/charger.
type ChargerParams struct {
	Name        string
	OutputA     float64 // charge current [A], 0.1 to 1000
	BankV       float64 // nominal bank voltage for which the efficiency curve is made [V], 1 to 1000
	Peak        float64 // peak efficiency, wall to battery [1], 0.3 to 1; typical 0.86, from 0.80 to 0.92 (common practice, no source)
	Curve       Curve   // shape of the efficiency curve; see TypicalCurve and FlatCurve
	PowerFactor float64 // of its input [1], 0.3 to 1; typical 0.7, 0.99 where corrected (common practice, no source)
}

// Charger charges the bank from AC. Make it with NewCharger; it never changes and may be used from any goroutine.
type Charger struct {
	params ChargerParams
	loss   Loss
}

// NewCharger checks the parameters and returns the charger, or every fault found.
func NewCharger(p ChargerParams) (Charger, error) {
	f := faults{place: placed("charger", p.Name)}
	f.within("output", p.OutputA, 0.1, 1000, "A")
	f.within("bank voltage", p.BankV, 1, 1000, "V")
	f.within("efficiency", p.Peak, 0.3, 1, "")
	f.within("power factor", p.PowerFactor, 0.3, 1, "")
	if err := f.err(); err != nil {
		return Charger{}, err
	}
	loss, err := FitCurve(p.OutputA*p.BankV, p.Peak, p.Curve)
	if err != nil {
		f.add("%w", err)
		return Charger{}, f.err()
	}
	return Charger{params: p, loss: loss}, nil
}

// Params returns what the charger was made from.
func (c *Charger) Params() ChargerParams { return c.params }

// Loss returns the charger's loss curve over its DC output.
func (c *Charger) Loss() Loss { return c.loss }

// MostW returns the most that the charger puts into a bank at busV [W]; zero where busV is not above zero.
func (c *Charger) MostW(busV float64) float64 { return c.params.OutputA * positive(busV) }

// InputVA returns the volt-amperes taken from AC to put out busW [W], and zero for zero: at rest it counts as off.
func (c *Charger) InputVA(busW float64) float64 {
	if busW = positive(busW); busW == 0 {
		return 0
	}
	return c.loss.In(busW) / c.params.PowerFactor
}

// ChargerOutput is what a charger does over a step. ACW = BusW + LossW.
type ChargerOutput struct {
	BusW  float64 // into the bank's bus
	ACW   float64 // real power taken
	VA    float64 // apparent power taken
	LossW float64
}

// ChargerAsk is what is wanted of a charger, and what it may take.
type ChargerAsk struct {
	BusV   float64 // bank voltage at its terminals [V]
	WantW  float64 // what the bank would take [W]
	MostVA float64 // what AC may give it [VA]; Unlimited where nothing limits it
}

// Give returns what the charger puts out: what is wanted, up to its current limit, up to what AC may give.
func (c *Charger) Give(a ChargerAsk) ChargerOutput {
	w := min(positive(a.WantW), c.MostW(a.BusV), c.loss.Out(positive(a.MostVA)*c.params.PowerFactor))
	if w <= 0 {
		return ChargerOutput{}
	}
	out := ChargerOutput{BusW: w, LossW: c.loss.At(w)}
	out.ACW = out.BusW + out.LossW
	out.VA = out.ACW / c.params.PowerFactor
	return out
}

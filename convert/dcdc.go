package convert

// Wake is what starts a DC-DC unit.
type Wake uint8

// The ways to wake.
const (
	WakeEngine  Wake = iota // a wire that is live only while the engine runs
	WakeVoltage             // vehicle voltage at its restart voltage or above
	WakeSwitch              // a switch: it runs whenever it is switched on
)

var wakeNames = [...]string{"engine signal", "voltage", "switch"}

// String returns the way to wake as the rig file writes it.
func (w Wake) String() string {
	if int(w) < len(wakeNames) {
		return wakeNames[w]
	}
	return ""
}

// ParseWake returns the way to wake that is written so, and false for a word that is none.
func ParseWake(word string) (Wake, bool) {
	for i, n := range wakeNames {
		if n == word {
			return Wake(i), true
		}
	}
	return WakeEngine, false
}

// Flow says whether a unit can feed backwards.
type Flow uint8

// The kinds of flow. UnknownWay is the zero value: a rule that needs to know has to ask.
const (
	UnknownWay Flow = iota
	OneWay          // from the vehicle to the bank only
	TwoWay          // can feed the vehicle too, so its line has two sources
)

var flowNames = [...]string{"unknown", "one-way", "two-way"}

// String returns the flow in trade words.
func (f Flow) String() string {
	if int(f) < len(flowNames) {
		return flowNames[f]
	}
	return ""
}

// DCDCParams describes a unit that charges the bank from the vehicle. Zero means "not given" where the comment says so.
type DCDCParams struct {
	Name        string
	OutputA     float64 // limit of charge current [A]; zero: none, OutputW must then be given
	OutputW     float64 // limit of charge power [W]; zero: none, OutputA must then be given
	BankV       float64 // nominal bank voltage for which the efficiency curve is made [V], 1 to 1000
	Peak        float64 // peak efficiency, vehicle to bank [1], 0.3 to 1; typical 0.90, from 0.85 to 0.95 (common practice, no source)
	Curve       Curve   // shape of the efficiency curve; see TypicalCurve and FlatCurve
	InputLimitA float64 // largest input current it takes [A]; zero: it does not limit it
	FoldsV      float64 // input voltage that it holds by lowering its power [V]; zero: it does not fold back
	CutsOutV    float64 // input voltage at which it stops [V], below FoldsV; zero: none
	RestartV    float64 // unloaded input voltage at which it starts again [V], at least CutsOutV; zero: CutsOutV
	RampS       float64 // time from start to full power [s], 0 to 600; zero: at once
	CutDelayS   float64 // time below CutsOutV before it stops [s], 0 to 600; a line past its critical power stops it at once
	OffS        float64 // time it stays off before it tries again [s], 0 to 3600
	Wakes       Wake
	Flows       Flow
}

// DCDC is a unit that charges the bank from the vehicle: constant power on its input, within its limits. Make it with NewDCDC; it never
// changes and may be used from any goroutine.
type DCDC struct {
	params DCDCParams
	loss   Loss
}

// NewDCDC checks the parameters and returns the unit, or every fault found.
func NewDCDC(p DCDCParams) (DCDC, error) {
	f := faults{place: placed("dc-dc", p.Name)}
	f.optional("output", p.OutputA, 0.1, 1000, "A")
	f.optional("power", p.OutputW, 1, 1e5, "W")
	if p.OutputA == 0 && p.OutputW == 0 {
		f.add("neither output current nor output power given")
	}
	f.within("bank voltage", p.BankV, 1, 1000, "V")
	f.within("efficiency", p.Peak, 0.3, 1, "")
	f.optional("input limit", p.InputLimitA, 0.1, 2000, "A")
	f.optional("folds back at", p.FoldsV, 1, 200, "V")
	f.optional("cuts out at", p.CutsOutV, 1, 200, "V")
	f.optional("restarts at", p.RestartV, 1, 200, "V")
	if p.FoldsV > 0 && p.CutsOutV >= p.FoldsV {
		f.add("cuts out at %.6g V, not below the %.6g V at which it folds back", p.CutsOutV, p.FoldsV)
	}
	if p.RestartV > 0 && p.RestartV < p.CutsOutV {
		f.add("restarts at %.6g V, below the %.6g V at which it cuts out", p.RestartV, p.CutsOutV)
	}
	f.within("ramp", p.RampS, 0, 600, "s")
	f.within("cut-out delay", p.CutDelayS, 0, 600, "s")
	f.within("time off", p.OffS, 0, 3600, "s")
	if p.Wakes > WakeSwitch {
		f.add("wake %d is none of engine signal, voltage, switch", p.Wakes)
	}
	if p.Flows > TwoWay {
		f.add("flow %d is none of unknown, one-way, two-way", p.Flows)
	}
	if err := f.err(); err != nil {
		return DCDC{}, err
	}
	if p.RestartV == 0 {
		p.RestartV = p.CutsOutV
	}
	u := DCDC{params: p}
	loss, err := FitCurve(u.MostW(p.BankV), p.Peak, p.Curve)
	if err != nil {
		f.add("%w", err)
		return DCDC{}, f.err()
	}
	u.loss = loss
	return u, nil
}

// Params returns what the unit was made from, with what was left out filled in.
func (u *DCDC) Params() DCDCParams { return u.params }

// Loss returns the unit's loss curve over its output.
func (u *DCDC) Loss() Loss { return u.loss }

// MostW returns the most that the unit puts into a bank at busV [W], whatever its input; zero where busV is not above zero.
func (u *DCDC) MostW(busV float64) float64 {
	w := Unlimited
	if u.params.OutputA > 0 {
		w = u.params.OutputA * positive(busV)
	}
	if u.params.OutputW > 0 && busV > 0 {
		w = min(w, u.params.OutputW)
	}
	if !(busV > 0) {
		return 0
	}
	return w
}

// InputW returns the input power [W] the unit takes to put out outW [W], when its input allows it.
func (u *DCDC) InputW(outW float64) float64 {
	if outW = positive(outW); outW == 0 {
		return 0
	}
	return u.loss.In(outW)
}

// CanFeedVehicle tells whether the unit can feed its line backwards, and whether that is known.
func (u *DCDC) CanFeedVehicle() (can, known bool) {
	return u.params.Flows == TwoWay, u.params.Flows != UnknownWay
}

// awake tells whether the unit wants to work at all.
func (u *DCDC) awake(in LineInput) bool {
	switch u.params.Wakes {
	case WakeVoltage:
		return in.SourceV >= u.params.RestartV
	case WakeSwitch:
		return true
	default:
		return in.EngineRuns
	}
}

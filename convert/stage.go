package convert

// Stage is where a charger stands in a charge.
type Stage uint8

// The stages. All chargers share them: charge controllers, shore chargers and DC-DC units.
const (
	Bulk       Stage = iota // full current, until the charging voltage is reached
	Absorption              // charging voltage held while the current falls
	Float                   // resting voltage held; loads are carried
	Rest                    // full and off: nothing is given until the bank falls to the restart voltage
)

var stageNames = [...]string{"bulk", "absorption", "float", "rest"}

// String returns the stage in trade words.
func (s Stage) String() string {
	if int(s) < len(stageNames) {
		return stageNames[s]
	}
	return ""
}

// SetpointsParams are a charger's settings for one bank, in volts of the whole bank. Zero means "not given" where the comment says so.
type SetpointsParams struct {
	Name        string
	AbsorptionV float64 // charging voltage at the reference temperature [V], 1 to 1000
	AbsorbForH  float64 // time at the charging voltage after which the charge ends [h], 0 to 48; zero: no such time
	TailA       float64 // current into the bank below which the charge ends [A]; zero: not looked at
	FloatV      float64 // resting voltage [V], at most AbsorptionV; zero: it rests switched off
	RestartV    float64 // bank voltage below which a resting charger starts a new charge [V], below the resting voltage; zero: never
	PerCV       float64 // change of all set-points with battery temperature [V/°C], -1 to 0; zero for LFP
	RefC        float64 // temperature at which the set-points are as given [°C]; zero: 25
	LowC, HighC float64 // temperatures beyond which compensation does not go on [°C]; both zero: -20 and 50
	BandV       float64 // how far below its set-point a voltage still counts as reached [V], 0 to 5
}

// Setpoints are checked settings. Make them with NewSetpoints.
type Setpoints struct{ p SetpointsParams }

// NewSetpoints checks the settings and returns them ready for use, or every fault found. When neither AbsorbForH nor TailA is given the
// charge ends as soon as the charging voltage is reached.
func NewSetpoints(p SetpointsParams) (Setpoints, error) {
	f := faults{place: placed("set-points", p.Name)}
	if p.RefC == 0 {
		p.RefC = 25
	}
	if p.LowC == 0 && p.HighC == 0 {
		p.LowC, p.HighC = -20, 50
	}
	f.within("absorption", p.AbsorptionV, 1, 1000, "V")
	f.within("absorbs for", p.AbsorbForH, 0, 48, "h")
	f.within("tail current", p.TailA, 0, 1000, "A")
	f.optional("float", p.FloatV, 1, p.AbsorptionV, "V")
	resting := p.AbsorptionV
	if p.FloatV > 0 {
		resting = p.FloatV
	}
	f.optional("restarts at", p.RestartV, 1, resting, "V")
	if p.RestartV == resting {
		f.add("restarts at %.6g V, which is its resting voltage: it would never rest", p.RestartV)
	}
	f.within("compensation", p.PerCV, -1, 0, "V/C")
	f.within("reference temperature", p.RefC, -10, 40, "C")
	f.within("lowest temperature of compensation", p.LowC, -60, p.RefC, "C")
	f.within("highest temperature of compensation", p.HighC, p.RefC, 80, "C")
	f.within("band", p.BandV, 0, 5, "V")
	if err := f.err(); err != nil {
		return Setpoints{}, err
	}
	return Setpoints{p: p}, nil
}

// Params returns the settings, with what was left out filled in.
func (s Setpoints) Params() SetpointsParams { return s.p }

// Compensation returns what battery temperature bankC [°C] adds to every set-point [V]: PerCV·(bankC - RefC), the temperature held
// within LowC and HighC; none for a temperature that is no number. The restart voltage moves with the others: were it left behind, a
// hot bank's resting voltage could fall below it, and the charger would start again for ever. Source: common practice, no source.
func (s Setpoints) Compensation(bankC float64) float64 {
	if !(bankC >= -273.15 && bankC <= 1e4) {
		return 0
	}
	return s.p.PerCV * (min(max(bankC, s.p.LowC), s.p.HighC) - s.p.RefC)
}

// TargetV returns the voltage that the charger does not exceed in a stage, at battery temperature bankC [°C]; zero at rest, when it
// gives nothing.
func (s Setpoints) TargetV(stage Stage, bankC float64) float64 {
	switch stage {
	case Bulk, Absorption:
		return s.p.AbsorptionV + s.Compensation(bankC)
	case Float:
		return s.p.FloatV + s.Compensation(bankC)
	default:
		return 0
	}
}

// ChargeState is what a charger remembers from step to step. The zero value is the start of a charge.
type ChargeState struct {
	Stage Stage
	HeldH float64 // time for which the charging voltage has been held in this charge [h]
}

// StageInput is what a charger sees over one step.
type StageInput struct {
	BankV   float64 // bank voltage at the end of the step [V]
	ChargeA float64 // current into the bank at the end of the step [A], positive when charging
	BankC   float64 // battery temperature [°C]
	StepH   float64 // length of the step [h]
	Powered bool    // whether its source is there: sun, shore power, engine
}

// Next returns the state after a step, given the one before. It is a pure function.
//
//	not powered                                            -> bulk: a new charge begins when the source returns
//	bulk, charging voltage reached                         -> absorption, or the end if neither time nor tail is set
//	absorption, held for AbsorbForH, or current below TailA -> float, or rest where there is no float voltage
//	float or rest, bank below the restart voltage          -> bulk
//
// Time counts in absorption only while the voltage is held; a step that reaches the voltage does not count itself. A value that is no
// number changes nothing. Source: common practice, no source; makers differ in details.
func (s Setpoints) Next(was ChargeState, in StageInput) ChargeState {
	if !in.Powered {
		return ChargeState{}
	}
	held := in.BankV >= s.TargetV(Absorption, in.BankC)-s.p.BandV
	switch was.Stage {
	case Bulk:
		if !held {
			return ChargeState{Stage: Bulk}
		}
		if s.p.AbsorbForH == 0 && s.p.TailA == 0 {
			return s.full()
		}
		return ChargeState{Stage: Absorption}
	case Absorption:
		if !held {
			return was
		}
		was.HeldH += positive(in.StepH)
		if s.p.AbsorbForH > 0 && was.HeldH >= s.p.AbsorbForH || s.p.TailA > 0 && in.ChargeA <= s.p.TailA {
			return s.full()
		}
		return was
	default:
		if s.p.RestartV > 0 && in.BankV < s.p.RestartV+s.Compensation(in.BankC) {
			return ChargeState{}
		}
		return was
	}
}

// full returns the state after a finished charge.
func (s Setpoints) full() ChargeState {
	if s.p.FloatV > 0 {
		return ChargeState{Stage: Float}
	}
	return ChargeState{Stage: Rest}
}

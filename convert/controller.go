package convert

// Kind is how a charge controller relates array voltage to bank voltage.
type Kind uint8

// The kinds of charge controller.
const (
	StepDown Kind = iota + 1 // needs more volts than the bank
	StepUp                   // needs fewer volts than the bank
	StepBoth                 // takes either
	Direct                   // ties the array to the bank, chopping it to hold the charging voltage; does not track
)

var kindNames = [...]string{"", "step-down", "step-up", "both", "direct"}

// String returns the kind in trade words, as the rig file writes it.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return ""
}

// ParseKind returns the kind that is written so, and false for a word that is none.
func ParseKind(word string) (Kind, bool) {
	for k := StepDown; k <= Direct; k++ {
		if kindNames[k] == word {
			return k, true
		}
	}
	return 0, false
}

// ControllerParams describes a charge controller. Zero means "not given" where the comment says so.
type ControllerParams struct {
	Name      string
	Kind      Kind
	SurvivesV float64 // array voltage that destroys it above [V], 5 to 2000
	TracksV   float64 // highest array voltage it works at [V], at most SurvivesV; zero: SurvivesV
	StartV    float64 // how far the open array must stand above the bank to start (step-down), below it (step-up) [V], 0 to 100
	HeadroomV float64 // how far the array must stay above the bank to run (step-down), below it (step-up) [V], 0 to 50; unused by both and direct
	OutputA   float64 // limit of charge current [A], 0.1 to 2000
	PowerW    float64 // limit of charge power besides the current [W]; zero: none
	InputIscA float64 // largest array short-circuit current it may be joined to [A]; zero: not given. Kept for rules, no part of Deliver
	BankV     float64 // nominal bank voltage for which the efficiency curve is made [V], 1 to 1000
	Peak      float64 // peak efficiency, array to bank [1], 0.3 to 1
	Curve     Curve   // shape of the efficiency curve over load share; see TypicalCurve and FlatCurve
	OwnUseW   float64 // what it draws from the bank at all hours [W], 0 to 500; not part of the loss while converting
}

// Controller is a charge controller. Make it with NewController; it never changes and may be used from any goroutine.
type Controller struct {
	params ControllerParams
	kind   Kind
	loss   Loss
	maxV   float64 // tracks up to
	breakV float64
	startV float64
	roomV  float64
	limitA float64
	limitW float64
}

// NewController checks the parameters and returns the controller, or every fault found.
func NewController(p ControllerParams) (Controller, error) {
	f := faults{place: placed("controller", p.Name)}
	if p.Kind < StepDown || p.Kind > Direct {
		f.add("kind %d is none of step-down, step-up, both, direct", p.Kind)
	}
	f.within("survives", p.SurvivesV, 5, 2000, "V")
	f.optional("tracks up to", p.TracksV, 5, 2000, "V")
	if p.TracksV > 0 && p.TracksV > p.SurvivesV {
		f.add("tracks up to %.6g V above the %.6g V it survives", p.TracksV, p.SurvivesV)
	}
	f.within("starts at", p.StartV, 0, 100, "V")
	f.within("headroom", p.HeadroomV, 0, 50, "V")
	f.within("output", p.OutputA, 0.1, 2000, "A")
	f.optional("power", p.PowerW, 1, 1e6, "W")
	f.optional("input isc", p.InputIscA, 0.1, 2000, "A")
	f.within("bank voltage", p.BankV, 1, 1000, "V")
	f.within("efficiency", p.Peak, 0.3, 1, "")
	f.within("own use", p.OwnUseW, 0, 500, "W")
	if p.StartV < p.HeadroomV && p.StartV != 0 {
		f.add("starts at %.6g V below the headroom of %.6g V it needs to run", p.StartV, p.HeadroomV)
	}
	if err := f.err(); err != nil {
		return Controller{}, err
	}
	rated := p.OutputA * p.BankV
	limitW := Unlimited
	if p.PowerW > 0 {
		limitW, rated = p.PowerW, min(rated, p.PowerW)
	}
	loss, err := FitCurve(rated, p.Peak, p.Curve)
	if err != nil {
		f.add("%w", err)
		return Controller{}, f.err()
	}
	maxV := p.TracksV
	if maxV == 0 {
		maxV = p.SurvivesV
	}
	return Controller{params: p, kind: p.Kind, loss: loss, maxV: maxV, breakV: p.SurvivesV, startV: max(p.StartV, p.HeadroomV),
		roomV: p.HeadroomV, limitA: p.OutputA, limitW: limitW}, nil
}

// Params returns what the controller was made from.
func (c *Controller) Params() ControllerParams { return c.params }

// Loss returns the controller's loss curve.
func (c *Controller) Loss() Loss { return c.loss }

// OwnUseW returns what the controller draws from the bank at all hours [W], besides its loss while converting.
func (c *Controller) OwnUseW() float64 { return c.params.OwnUseW }

// Window returns the lowest and highest array voltage at which the controller can work on a bank at busV [V].
// For a direct controller both are the bank voltage. A window that is shut has low above high.
func (c *Controller) Window(busV float64) (lowV, highV float64) {
	switch c.kind {
	case StepDown:
		return busV + c.roomV, c.maxV
	case StepUp:
		return 0, min(c.maxV, busV-c.roomV)
	case Direct:
		return busV, busV
	default:
		return 0, c.maxV
	}
}

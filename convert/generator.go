package convert

// Derating is the rule a generator's manual gives for height and heat. The rules published disagree, so the rule is part of the model.
type Derating uint8

// The rules. Source of the figures for height: [GENSET-MANUALS], but for the last, which is common practice, no source.
const (
	NoDerating       Derating = iota
	Per500m                   // 3 % per 500 m above 1000 m
	Per300m                   // 3.5 % per 300 m above 1500 m
	Per1000ftAndHeat          // 4 % per 1000 ft and 1 % per 10 F
	Per1000ft                 // 3.5 % per 1000 ft
)

// deratingRule is one rule in figures.
type deratingRule struct {
	name           string
	fromM, stepM   float64 // height from which it counts, and the step that perStep belongs to [m]
	perStep        float64
	fromC, stepC   float64 // air temperature from which it counts, and the step that perHeat belongs to [°C]
	perHeat        float64
	heatMultiplies bool // heat takes its share of what height has left; otherwise the two shares add
}

const footM = 0.3048

// The heat part of the second and the last rule is not in their own source: they take that of the rule above them in kind.
var deratingRules = [...]deratingRule{
	{name: "none", stepM: 1, stepC: 1},
	{"3 % per 500 m above 1000 m", 1000, 500, 0.03, 40, 5, 0.03, true},
	{"3.5 % per 300 m above 1500 m", 1500, 300, 0.035, 40, 5, 0.03, true},
	{"4 % per 1000 ft and 1 % per 10 F", 0, 1000 * footM, 0.04, 25, 10 / 1.8, 0.01, false},
	{"3.5 % per 1000 ft", 0, 1000 * footM, 0.035, 25, 10 / 1.8, 0.01, false},
}

// String returns the rule as the rig file writes it.
func (d Derating) String() string {
	if int(d) < len(deratingRules) {
		return deratingRules[d].name
	}
	return ""
}

// ParseDerating returns the rule that is written so, and false for a text that is none.
func ParseDerating(text string) (Derating, bool) {
	for i, r := range deratingRules {
		if r.name == text {
			return Derating(i), true
		}
	}
	return NoDerating, false
}

// Air is the air a generator breathes.
type Air struct {
	ElevationM float64 // above sea level [m]
	AirC       float64 // temperature [°C]
}

// Share returns the share of its sea-level output that a generator has left [1], 0 to 1. Below the height and temperature from which a
// rule counts it gives no more than 1; a figure that is no number counts as below. Source: [GENSET-MANUALS].
func (d Derating) Share(at Air) float64 {
	if int(d) >= len(deratingRules) {
		return 1
	}
	r := deratingRules[d]
	height := r.perStep * positive(at.ElevationM-r.fromM) / r.stepM
	heat := r.perHeat * positive(at.AirC-r.fromC) / r.stepC
	if r.heatMultiplies {
		return max(0, 1-height) * max(0, 1-heat)
	}
	return max(0, 1-height-heat)
}

// GeneratorParams describes a generator. Zero means "not given" where the comment says so.
type GeneratorParams struct {
	Name     string
	RatedW   float64 // lasting output at sea level [W], 100 to 1e5
	Derating Derating
	HalfLph  float64 // fuel burned at half of RatedW [L/h], 0.01 to 100
	NoLph    float64 // fuel burned without load [L/h], at most HalfLph; zero: TypicalNoLoadShare of HalfLph
}

// TypicalNoLoadShare is the fuel burned without load as a share of that at half load, where nothing is said. Common practice, no source.
const TypicalNoLoadShare = 0.35

// Generator burns fuel to make AC. Make it with NewGenerator; it never changes and may be used from any goroutine.
type Generator struct{ params GeneratorParams }

// NewGenerator checks the parameters and returns the generator, or every fault found.
func NewGenerator(p GeneratorParams) (Generator, error) {
	f := faults{place: placed("generator", p.Name)}
	f.within("power", p.RatedW, 100, 1e5, "W")
	if int(p.Derating) >= len(deratingRules) {
		f.add("derating %d is no rule known", p.Derating)
	}
	f.within("burns", p.HalfLph, 0.01, 100, "L/h")
	f.within("burns without load", p.NoLph, 0, p.HalfLph, "L/h")
	if err := f.err(); err != nil {
		return Generator{}, err
	}
	if p.NoLph == 0 {
		p.NoLph = TypicalNoLoadShare * p.HalfLph
	}
	return Generator{params: p}, nil
}

// Params returns what the generator was made from, with what was left out filled in.
func (g Generator) Params() GeneratorParams { return g.params }

// MostW returns the lasting output in that air [W].
func (g Generator) MostW(at Air) float64 { return g.params.RatedW * g.params.Derating.Share(at) }

// FuelLph returns the fuel burned [L/h] at a load [W]: a straight line through no load and half load. A load below zero counts as zero;
// one above the rating goes on along the line. Source: common practice, no source (the straight line of engine maps at fixed speed;
// a governor that slows down at small loads burns less there).
func (g Generator) FuelLph(loadW float64) float64 {
	return g.params.NoLph + (g.params.HalfLph-g.params.NoLph)*positive(loadW)/(g.params.RatedW/2)
}

// Run is a run of the generator for charging.
type Run struct {
	EnergyWh float64 // to be put into the bank [Wh]
	BankW    float64 // what goes into the bank while it runs, other loads on the bank taken off [W]
	LoadW    float64 // what the generator carries [W]
}

// Run returns the hours and the litres of fuel that a run takes; false when nothing goes into the bank. Nothing to put in takes no time.
func (g Generator) Run(r Run) (hours, litres float64, ok bool) {
	need := positive(r.EnergyWh)
	if need == 0 {
		return 0, 0, true
	}
	if positive(r.BankW) == 0 {
		return 0, 0, false
	}
	hours = need / r.BankW
	return hours, hours * g.FuelLph(r.LoadW), true
}

package trip

import (
	"time"

	"campwright/figure"
)

// Answer is the whole answer to "Will it last?". JSON is this struct; terminal, page and paper print from it.
type Answer struct {
	Rig      string `json:"rig"`
	Sentence string `json:"sentence"` // the answer in one sentence
	Basis    Basis  `json:"basis"`

	Stores  []StoreEnd `json:"stores"`         // the soonest end first
	Nights  Nights     `json:"nights"`         // how often a night ends below the floor
	Power   []Kept     `json:"power"`          // what must never lose power, and how often it did
	Days    []Day      `json:"days"`           // one row a day
	Wrong   []Wrong    `json:"wrong"`          // what went wrong in the typical run, on how many nights
	Ledger  Ledger     `json:"ledger"`         // energy of the whole stay, of the typical run
	Trace   Trace      `json:"trace,omitzero"` // the typical run over time, for the chart
	Poor    *Poor      `json:"poor,omitempty"` // a run worse than nine in ten; not for a single year or fewer than ten runs
	Guesses []Guess    `json:"guesses"`        // what widens the answer most, widest first
	Remarks []string   `json:"remarks"`        // what an answer leans on: unknowns, wind, shade, snow, what the floor switched off
	Caution string     `json:"caution,omitempty"`
	Advice  *Advice    `json:"advice,omitempty"` // when asked for

	asked          []Entry // what draws, served or not, largest first
	remarksIn      []text
	climateRemarks []text // of the remarks, those of the places
	frozen         []text // and that of a battery that freezes
}

// Basis says what an answer rests on.
type Basis struct {
	Weather  string `json:"weather"`  // where the weather comes from, in words
	Places   string `json:"places"`   // where the stay is
	From     string `json:"from"`     // first day
	Nights   int    `json:"nights"`   // length of the stay asked for
	StepMin  int    `json:"stepMin"`  // minutes
	Members  int    `json:"members"`  // runs of weather and guesses; 1 is a single year
	Seed     uint64 `json:"seed"`     // of those runs
	Guesses  int    `json:"guesses"`  // values that are guesses
	Defaults int    `json:"defaults"` // values that the program filled in
	Book     string `json:"book"`     // rule book

	placesIn text
}

// StoreEnd is how long one store lasts.
type StoreEnd struct {
	Store   string        `json:"store"`   // "battery", "propane", "fresh water", "grey tank", "black tank"
	Lasts   figure.Figure `json:"lasts"`   // from arrival; the range over all runs
	Text    string        `json:"text"`    // Lasts in words
	Soonest float64       `json:"soonest"` // the soonest end of any run [h]; zero when none ends
	AtLeast bool          `json:"atLeast"` // it outlasts the stay by more than can be told; Lasts is the length of the stay
	EndsOn  string        `json:"endsOn,omitempty"`
	Reached bool          `json:"reached"` // whether the end lies inside the stay, in the typical run
	Chance  Chance        `json:"chance"`  // of ending inside the stay
	Why     string        `json:"why"`     // in words, with the numbers

	perDay float64 // what goes of it a day, for the working
	whyIn  text
}

// Chance is a counted chance with its own bound.
type Chance struct {
	Count int     `json:"count"` // runs in which it happened
	Of    int     `json:"of"`    // runs
	Low   float64 `json:"low"`   // bounds of the chance, each of which holds with 95 % certainty
	High  float64 `json:"high"`
	Text  string  `json:"text"`
}

// Nights counts nights on which the bank went below the floor.
type Nights struct {
	Floor       float64 `json:"floor"`       // share of capacity
	StartsBelow bool    `json:"startsBelow"` // the stay begins below it
	Chance      Chance  `json:"chance"`
	Worst       string  `json:"worst,omitempty"` // the worst month, in words
	Aim         float64 `json:"aim"`             // chance allowed
	AimMet      bool    `json:"aimMet"`
	Forever     bool    `json:"forever"` // whether the stay could go on: the aim is met in its worst month
	Sentence    string  `json:"sentence"`
}

// Kept is how an appliance that must never lose power fared on the bank and its inverter.
type Kept struct {
	Appliance string `json:"appliance"`
	Chance    Chance `json:"chance"` // runs in which it went dark, if only for minutes
	Words     string `json:"words"`
}

// Day is one day of the stay.
type Day struct {
	Date     string   `json:"date"`
	Place    string   `json:"place"`
	LowSoC   float64  `json:"lowSoC"` // share of capacity, typical run
	LowAt    string   `json:"lowAt"`  // local clock
	BandLow  float64  `json:"bandLow"`
	BandHigh float64  `json:"bandHigh"`
	InWh     float64  `json:"inWh"`     // into the bus from all sources
	OutWh    float64  `json:"outWh"`    // served to loads, inverter loss included
	LostWh   float64  `json:"lostWh"`   // asked for and not served
	ThrownWh float64  `json:"thrownWh"` // sun that was there and not taken
	GasKg    float64  `json:"gasKg"`    // propane burned
	GasLeft  float64  `json:"gasLeft"`  // share of a full filling
	AirLowC  float64  `json:"airLowC"`
	AirHighC float64  `json:"airHighC"`
	SunKWhM2 float64  `json:"sunKWhM2"` // on the level
	Dark     []string `json:"dark,omitempty"`

	placeIn text
}

// Wrong is something that went wrong in the typical run.
type Wrong struct {
	What   string `json:"what"`
	Nights int    `json:"nights"`
	Of     int    `json:"of"`
	Words  string `json:"words"`
}

// Ledger is where energy came from and went [Wh]: sources at the bank's bus and AC from outside, uses at their own circuits, and between them
// what inverters and controllers lose.
type Ledger struct {
	Sources  []Entry `json:"sources"`
	Uses     []Entry `json:"uses"`
	Losses   []Entry `json:"losses"`   // between the sources and the uses: the three close
	Upstream []Entry `json:"upstream"` // before the sources, and inside the battery
	Thrown   []Entry `json:"thrown"`   // sun not taken, by reason
	Unmet    []Entry `json:"unmet"`    // asked for and not served
	AC       []Entry `json:"ac"`       // taken from outside, for AC loads and chargers
	Propane  []Entry `json:"propane"`
	StoreWh  float64 `json:"storeWh"` // change of energy in the bank
	ErrorWh  float64 `json:"errorWh"` // what the two sides differ by, summed apart
}

// Entry is one line of a ledger.
type Entry struct {
	Name   string  `json:"name"`
	Wh     float64 `json:"wh"`
	Kg     float64 `json:"kg,omitempty"` // propane
	PerDay float64 `json:"perDay"`       // Wh or kg
}

// Trace is one run over time, columns of equal length.
type Trace struct {
	Start   time.Time `json:"start"`
	StepMin int       `json:"stepMin"`
	Zone    string    `json:"zone"`
	SoC     []float32 `json:"soc"`
	Volts   []float32 `json:"volts"`
	SolarW  []float32 `json:"solarW"` // at the bus
	LoadW   []float32 `json:"loadW"`
	Low     []float32 `json:"low,omitempty"` // band of all runs
	High    []float32 `json:"high,omitempty"`
}

// Guess is one value that is not known well, and what it does to the answer.
type Guess struct {
	Path    string        `json:"path"`
	Name    string        `json:"name"`
	Value   figure.Figure `json:"value"`
	Share   float64       `json:"share"`   // of the answer's spread
	Reading string        `json:"reading"` // the reading that would settle it
}

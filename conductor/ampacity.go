package conductor

import (
	"errors"
	"fmt"
	"math"

	"campwright/figure"
	"campwright/quantity"
)

// ErrNotInTable says that a table has no value for a size, insulation or temperature; the error around it names all three.
var ErrNotInTable = errors.New("not in the table")

// Use is a conductor in its surroundings, under a book of rules.
type Use struct {
	Book  Book
	Side  Side
	Gauge Gauge

	// InsulationC is the temperature printed on the insulation [°C], 60 to 200: 60, 75, 90, 105 or 125 as a rule.
	InsulationC int
	// AmbientC is the air around the conductor at its hottest [°C], −60 to 150, without the roof's adder. All tables hold at 30.
	AmbientC float64
	// Together is how many current-carrying conductors lie touching, or in one conduit, this one included; 1 to 1000.
	Together int
	// EngineSpace tells that it passes through an engine space.
	EngineSpace bool
	// SunlitRoof tells that it lies on a roof in the sun, closer than 22 mm (7/8 in).
	SunlitRoof bool
	// TerminalC is the temperature marked on the terminals at both ends [°C]: 60, 75 or 90; 0 when nothing is marked. Only the
	// NEC's tables ask for it.
	TerminalC int
}

// Factor is one correction.
type Factor struct {
	Name   string // in trade words
	Symbol string
	Value  float64 // 1 changes nothing
	Origin Origin
}

// Rating is the current that a conductor may carry, with its working.
type Rating struct {
	Use       Use
	Amps      float64 // what it may carry [A]
	Judged    Gauge   // size of the table it was judged by; thinner than the cable where the table lacks its size
	ColumnC   int     // column of the table used [°C]
	Table     float64 // value of the table [A]
	Origin    Origin  // of the table
	Factors   []Factor
	Corrected float64 // table value times all factors [A]
	Terminal  float64 // what its terminals allow [A], not corrected; zero where the book sets no such limit
	TermFrom  Origin
	AirC      float64 // air temperature the factors stand for [°C], roof and engine space included
}

// roofAdder is what a sunlit roof adds to the air around a conductor near it [K].
const roofAdder = 33

// engineAirC is the air temperature that engine-space factors stand for [°C].
const engineAirC = 50

// Ampacity returns the current that a conductor may carry in its surroundings under its book.
//
// It returns an error for values outside the ranges told at Use, and one that is ErrNotInTable when the book's table has no value for
// the size or insulation. Air hotter than the table knows gives a rating of zero amperes, not an error.
//
// Source: the tables told by Governs. Free-air tables know only 30 °C and engine space; other air follows the rule that reproduces
// the NEC's factors, k = √((Tc − Ta)/(Tc − 30)), without the gain that cool air would give.
func Ampacity(u Use) (Rating, error) {
	if err := u.check(); err != nil {
		return Rating{}, err
	}
	t := tableOf(u.Book, u.Side)
	r := Rating{Use: u, Origin: t.origin, AirC: u.AmbientC}
	if err := r.look(t); err != nil {
		return Rating{}, err
	}
	if u.SunlitRoof {
		r.AirC += roofAdder
	}
	switch t.kind {
	case raceway:
		r.correctNEC()
		r.limitTerminals(t)
	case conduit:
		r.correctAir()
		r.factor("conductors laid together", "kn", stepAt(countIEC, float64(u.Together)),
			Origin{"IEC-60364-5-52", "IEC 60364-5-52 table B.52.17", Memory})
	default:
		r.correctFreeAir(t)
	}
	r.Corrected = r.Table
	for _, f := range r.Factors {
		r.Corrected *= f.Value
	}
	r.Amps = r.Corrected
	if r.Terminal > 0 {
		r.Amps = math.Min(r.Amps, r.Terminal)
	}
	return r, nil
}

func (u Use) check() error {
	if err := checkBook(u.Book, u.Side); err != nil {
		return err
	}
	switch {
	case !u.Gauge.Valid():
		return fmt.Errorf("%s %s: not a conductor size", u.Book, u.Side)
	case u.InsulationC < 60 || u.InsulationC > 200:
		return fmt.Errorf("%s %s, %s: insulation %d C outside 60 to 200", u.Book, u.Side, u.Gauge, u.InsulationC)
	case !(u.AmbientC >= -60 && u.AmbientC <= 150):
		return fmt.Errorf("%s %s, %s: ambient %g C outside -60 to 150", u.Book, u.Side, u.Gauge, u.AmbientC)
	case u.Together < 1 || u.Together > 1000:
		return fmt.Errorf("%s %s, %s: %d conductors together outside 1 to 1000", u.Book, u.Side, u.Gauge, u.Together)
	}
	switch u.TerminalC {
	case 0, 60, 75, 90:
		return nil
	}
	return fmt.Errorf("%s %s, %s: terminal temperature %d C is none of 60, 75, 90, or 0 for unmarked", u.Book, u.Side, u.Gauge, u.TerminalC)
}

// look fills in size, column and value of the table.
func (r *Rating) look(t *table) error {
	u := r.Use
	r.Judged = u.Gauge
	if u.Gauge.system != t.system {
		g, ok := AtMost(t.system, u.Gauge.Section())
		if !ok {
			return fmt.Errorf("%s: %s is thinner than its thinnest size: %w", t.origin.Text, u.Gauge, ErrNotInTable)
		}
		r.Judged = g
	}
	c := t.column(u.InsulationC)
	if c < 0 {
		return fmt.Errorf("%s: no column for %d C insulation: %w", t.origin.Text, u.InsulationC, ErrNotInTable)
	}
	r.ColumnC = t.columns[c]
	r.Table = t.rows[r.Judged.row-1][c]
	if r.Table == 0 {
		return fmt.Errorf("%s: no value for %s at %d C: %w", t.origin.Text, r.Judged, r.ColumnC, ErrNotInTable)
	}
	return nil
}

// factor adds a correction unless it changes nothing.
func (r *Rating) factor(name, symbol string, value float64, o Origin) {
	if value != 1 {
		r.Factors = append(r.Factors, Factor{name, symbol, value, o})
	}
}

// correctFreeAir applies the boat tables' corrections. 33 CFR asks for the bundle factor from 50 V up only; boat builders'
// practice, taken here, applies it at any voltage.
func (r *Rating) correctFreeAir(t *table) {
	u := r.Use
	engine, count, from := engineBoat, countBoat, Origin{"CFR-183", "33 CFR 183.425 table 5 note 1", Memory}
	bundle := Origin{"CFR-183", "33 CFR 183.435 and table 5 note 2, taken at any voltage", Seen}
	if t == &craftISO {
		engine, count = engineISO, countISO
		from, bundle = Origin{"ISO-10133", "ISO 10133 annex A, engine space", Memory}, Origin{"ISO-10133", "ISO 10133 annex A, bundles", Memory}
	} else if r.ColumnC == 105 {
		from.Mark = Seen
	}
	switch {
	case u.EngineSpace && r.AirC <= engineAirC:
		r.factor("engine space", "ke", stepAt(engine, float64(r.ColumnC)), from)
		r.AirC = engineAirC
	default:
		r.correctAir()
	}
	r.factor("conductors laid together", "kn", stepAt(count, float64(u.Together)), bundle)
}

// correctAir applies the square-root rule for air above 30 °C.
func (r *Rating) correctAir() {
	if r.AirC <= 30 {
		return
	}
	k := math.Sqrt(math.Max(0, float64(r.ColumnC)-r.AirC) / (float64(r.ColumnC) - 30))
	r.factor(fmt.Sprintf("air at %.4g C", r.AirC), "ka", k, r.airOrigin("square-root rule that reproduces NEC table 310.15(B)(1)(1)", Derived))
}

// correctNEC applies the printed factors for air and count.
func (r *Rating) correctNEC() {
	u := r.Use
	if u.EngineSpace {
		r.AirC = math.Max(r.AirC, engineAirC)
	}
	steps := air90
	switch r.ColumnC {
	case 60:
		steps = air60
	case 75:
		steps = air75
	}
	if k := stepAt(steps, r.AirC); k != 1 {
		r.factor(fmt.Sprintf("air at %.4g C", r.AirC), "ka", k, r.airOrigin("NEC table 310.15(B)(1)(1)", Seen))
	}
	r.factor("conductors laid together", "kn", stepAt(countNEC, float64(u.Together)), Origin{"NEC", "NEC table 310.15(C)(1)", Seen})
}

// airOrigin names the source of an air factor and what was added to the air.
func (r *Rating) airOrigin(text string, m Mark) Origin {
	if r.Use.SunlitRoof {
		text += fmt.Sprintf(", with %d K for a sunlit roof closer than 22 mm by NEC 310.15(B)(2)", roofAdder)
	}
	return Origin{"NEC", text, m}
}

// limitTerminals sets what the terminals allow: the column of their marking, or, unmarked, 60 °C up to 1 AWG and 75 °C above. Where that
// column has no value, the cap on small conductors stands in for it.
func (r *Rating) limitTerminals(t *table) {
	c := r.Use.TerminalC
	r.TermFrom = Origin{"NEC", fmt.Sprintf("NEC 110.14(C): terminals marked %d C", c), Seen}
	if c == 0 {
		c = 60
		if n, _ := r.Judged.Number(); n < 1 {
			c = 75
		}
		r.TermFrom = Origin{"NEC", fmt.Sprintf("NEC 110.14(C): unmarked terminals, %d C column", c), Seen}
	}
	r.Terminal = t.rows[r.Judged.row-1][t.column(c)]
	if r.Terminal == 0 { // 18 and 16 AWG stand in the 90 °C column alone
		r.Terminal, r.TermFrom, _ = smallCap(r.Judged)
	}
}

// Carries returns how much a conductor has to spare for a lasting current [A], above zero when it suffices, as a share of what it
// may carry; and what it needs to carry by the harder of the book's tests.
//
// The NEC's two tests are made apart: the terminals' column must bear 125 % of the current without correction, and the corrected
// value must bear the current itself (210.19, 215.2, 690.8(B)). For a photovoltaic circuit lasting is 125 % of the sum of Isc (see
// CircuitCurrent). Other books ask for the current itself. lasting must be finite and not negative, else the margin is −1.
func (r Rating) Carries(lasting float64) (margin float64, need float64) {
	if !(lasting >= 0) || math.IsInf(lasting, 0) || !(r.Corrected > 0) {
		return -1, lasting
	}
	margin, need = (r.Corrected-lasting)/r.Corrected, lasting
	if r.Terminal > 0 {
		if m := (r.Terminal - 1.25*lasting) / r.Terminal; m < margin {
			margin, need = m, 1.25*lasting
		}
	}
	return margin, need
}

// ConductorC returns the temperature the conductor settles at [°C] under a steady current [A], at most 250.
//
// Ours: the tables are the current that brings the conductor from 30 °C air to its column's temperature, and the rise goes with the
// square of the current: T = Ta + (Tc − 30)·(I/(I0·kn))². The growth of resistance with temperature is inside the tables, so a rise below
// the table's is overstated by up to 15 %.
func (r Rating) ConductorC(amps float64) float64 {
	base := r.Table
	for _, f := range r.Factors {
		if f.Symbol == "kn" {
			base *= f.Value
		}
	}
	if !(base > 0) || math.IsNaN(amps) {
		return 250
	}
	x := amps / base
	return math.Min(250, r.AirC+(float64(r.ColumnC)-30)*x*x)
}

// Working returns the arithmetic behind the rating, ready to print.
func (r Rating) Working() figure.Working {
	amps := func(name string, v float64, o Origin) figure.Figure {
		return figure.Figure{Name: name, Value: v, Low: v, High: v, Kind: quantity.Current, State: figure.Plain, Source: o.String()}
	}
	w := figure.Working{Formula: "I0", Source: r.Origin.String()}
	w.Terms = []figure.Term{{Symbol: "I0", Figure: amps(fmt.Sprintf("%s at %d C", r.Judged, r.ColumnC), r.Table, r.Origin)}}
	for _, f := range r.Factors {
		w.Formula += " × " + f.Symbol
		w.Terms = append(w.Terms, figure.Term{Symbol: f.Symbol, Figure: figure.Figure{
			Name: f.Name, Value: f.Value, Low: f.Value, High: f.Value, Kind: quantity.Count, State: figure.Plain, Source: f.Origin.String(),
		}})
	}
	if r.Terminal > 0 {
		w.Formula = "min(" + w.Formula + ", It)"
		w.Terms = append(w.Terms, figure.Term{Symbol: "It", Figure: amps("terminals", r.Terminal, r.TermFrom)})
	}
	return w
}

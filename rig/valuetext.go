package rig

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
)

// flaw is a fault before it has a place: what is the matter with a text.
type flaw struct {
	problem, limit, hint string
	value                string // the part of the text it is about; empty for all of it
	offset               int    // where that part begins, in bytes
}

// Error joins the parts of a flaw.
func (f *flaw) Error() string {
	return Fault{Value: f.value, Problem: f.problem, Limit: f.limit, Hint: f.hint}.Error()
}

// ParseValue reads a value as the document writes it, as one of the kinds:
//
//	65 W                    stated
//	65 W measured           read off an instrument
//	about 65 W              the owner's estimate
//	about 65 W +- 10 W      with its ends, also +- 15 %
//	60 W to 80 W            an estimate by its ends, the middle taken
//	about 65 W (60 W to 80 W)
//	unknown                 not known
//	none                    zero, of anything but a temperature
func ParseValue(text string, kinds ...quantity.Kind) (Value, error) {
	v, bad := readValue(text, kinds)
	if bad != nil {
		if bad.value == "" {
			bad.value = short(text)
		}
		return Value{}, bad
	}
	return v, nil
}

// readValue reads the text of a value.
func readValue(text string, kinds []quantity.Kind) (Value, *flaw) {
	s := strings.TrimSpace(text)
	switch strings.ToLower(s) {
	case "unknown":
		return Value{State: figure.Unknown}, nil
	case "none":
		if len(kinds) > 0 && kinds[0] != quantity.Temperature {
			q := quantity.Quantity{Kind: kinds[0]}
			if units := quantity.Units(kinds[0]); len(units) > 0 {
				q.Unit = units[0]
			}
			return Value{Quantity: q, State: figure.Plain}, nil
		}
	case "?", "tbd", "n/a", "na", "-", "not known", "dont know", "don't know":
		return Value{}, &flaw{problem: "not a value", hint: "write unknown for what is not known"}
	}
	state := figure.Plain
	if rest, ok := cutWord(s, "about"); ok {
		s, state = rest, figure.About
	}
	if rest, ok := cutLastWord(s, "measured"); ok {
		if state == figure.About {
			return Value{}, &flaw{problem: "both about and measured", hint: "an estimate is about 65 W, a reading is 65 W measured"}
		}
		s, state = rest, figure.Measured
	}
	if body, ends, ok := cutParens(s); ok {
		v, bad := readOne(body, kinds, state)
		if bad != nil {
			return Value{}, bad
		}
		return v.withEnds(ends, state)
	}
	for _, sign := range []string{"+-", "+/-", "\u00b1"} {
		if middle, spread, ok := strings.Cut(s, sign); ok {
			return readSpread(middle, spread, kinds, state)
		}
	}
	if low, high, ok := cutTo(s); ok {
		return readEnds(low, high, kinds, state)
	}
	return readOne(s, kinds, state)
}

// cutWord takes a word from the front of s.
func cutWord(s, word string) (string, bool) {
	if len(s) > len(word) && strings.EqualFold(s[:len(word)], word) && s[len(word)] == ' ' {
		return strings.TrimSpace(s[len(word):]), true
	}
	return s, false
}

// cutLastWord takes a word from the end of s.
func cutLastWord(s, word string) (string, bool) {
	cut := len(s) - len(word)
	if cut > 0 && strings.EqualFold(s[cut:], word) && (s[cut-1] == ' ' || s[cut-1] == ',') {
		return strings.TrimRight(s[:cut], " ,"), true
	}
	return s, false
}

// cutTo splits "60 W to 80 W".
func cutTo(s string) (low, high string, ok bool) {
	return strings.Cut(s, " to ")
}

// cutParens splits "65 W (60 W to 80 W)".
func cutParens(s string) (body, inside string, ok bool) {
	body, rest, ok := strings.Cut(s, " (")
	if !ok || !strings.HasSuffix(rest, ")") || !strings.Contains(rest, " to ") {
		return s, "", false
	}
	return body, strings.TrimSuffix(rest, ")"), true
}

// readOne reads a single quantity.
func readOne(text string, kinds []quantity.Kind, state figure.State) (Value, *flaw) {
	q, err := quantity.Parse(text, kinds...)
	if err == nil {
		return Value{Quantity: q, State: state}, nil
	}
	bad := &flaw{problem: err.Error()}
	var e *quantity.Error
	if errors.As(err, &e) {
		bad.problem, bad.hint = e.Problem, e.Hint
	}
	if s := strings.TrimSpace(text); strings.HasPrefix(s, "~") || strings.HasPrefix(s, "\u2248") || strings.HasPrefix(strings.ToLower(s), "approx") {
		bad.hint = "write about before an estimate: about 65 W"
	}
	return Value{}, bad
}

// readSpread reads "65 W +- 10 W" and "65 W +- 15 %".
func readSpread(middle, spread string, kinds []quantity.Kind, state figure.State) (Value, *flaw) {
	if state == figure.Measured {
		return Value{}, &flaw{problem: "a reading with a spread", hint: "a reading is one number: 65 W measured"}
	}
	v, bad := readOne(middle, kinds, figure.About)
	if bad != nil {
		return Value{}, bad
	}
	k := v.Quantity.Kind
	if k == quantity.Temperature {
		k = quantity.TempDifference
	}
	half, err := quantity.Parse(spread, k)
	if err != nil {
		share, err2 := quantity.Parse(spread, quantity.Share)
		if err2 != nil || k == quantity.TempDifference {
			_, bad := readOne(spread, []quantity.Kind{k}, figure.Plain)
			return Value{}, bad
		}
		half.Base = math.Abs(v.Quantity.Base) * share.Base
	}
	if !(half.Base > 0) {
		return Value{}, &flaw{problem: "the spread must be above zero"}
	}
	low, high := v.Quantity, v.Quantity
	low.Base -= half.Base
	high.Base += half.Base
	return v.setEnds(tidy(low), tidy(high))
}

// readEnds reads "60 W to 80 W" and "60 to 80 W".
func readEnds(low, high string, kinds []quantity.Kind, state figure.State) (Value, *flaw) {
	if state == figure.Measured {
		return Value{}, &flaw{problem: "a reading with two ends", hint: "a reading is one number: 65 W measured; an estimate is 60 W to 80 W"}
	}
	l, h, bad := twoEnds(low, high, kinds)
	if bad != nil {
		return Value{}, bad
	}
	v := Value{Quantity: h, State: figure.About}
	v.Quantity.Base = l.Base/2 + h.Base/2
	v.Quantity.Base = tidy(v.Quantity)
	return v.setEnds(l.Base, h.Base)
}

// tidy takes the rounding of binary arithmetic out of a computed value: 4 % less 3 % is 1 %, as it would be written. It rounds to
// twelve digits in the unit of the value.
func tidy(q quantity.Quantity) float64 {
	x, err := quantity.Number(q, q.Unit)
	if err != nil || q.Unit == "AWG" {
		return q.Base
	}
	x, err = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		return q.Base
	}
	clean, err := quantity.Of(x, q.Kind, q.Unit)
	if err != nil {
		return q.Base
	}
	return clean.Base
}

// twoEnds reads the ends of a range; the lower may leave its unit out.
func twoEnds(low, high string, kinds []quantity.Kind) (l, h quantity.Quantity, bad *flaw) {
	hv, bad := readOne(high, kinds, figure.About)
	if bad != nil {
		return l, h, bad
	}
	h = hv.Quantity
	l, err := quantity.Parse(low, h.Kind)
	if err != nil {
		if unit, _, _ := strings.Cut(h.Unit, " "); unit != "" {
			if again, err2 := quantity.Parse(low+" "+unit, h.Kind); err2 == nil {
				return again, h, nil
			}
		}
		_, bad = readOne(low, []quantity.Kind{h.Kind}, figure.About)
	}
	return l, h, bad
}

// withEnds adds the ends written in brackets behind an estimate.
func (v Value) withEnds(ends string, state figure.State) (Value, *flaw) {
	if state != figure.About {
		return Value{}, &flaw{problem: "ends behind a value that is not an estimate", hint: "write about before it"}
	}
	low, high, _ := cutTo(ends)
	l, h, bad := twoEnds(low, high, []quantity.Kind{v.Quantity.Kind})
	if bad != nil {
		return Value{}, bad
	}
	return v.setEnds(l.Base, h.Base)
}

// setEnds sets the ends of an estimate, which must lie on either side of it.
func (v Value) setEnds(low, high float64) (Value, *flaw) {
	if !(low < high) || math.IsInf(low, 0) || math.IsInf(high, 0) {
		return Value{}, &flaw{problem: "the first end must be below the second"}
	}
	if v.Quantity.Base < low || v.Quantity.Base > high {
		return Value{}, &flaw{problem: "the estimate lies outside its own ends"}
	}
	v.Low, v.High = low, high
	return v, nil
}

// Text writes the value as the document does, so that ParseValue reads the same again. What the document does not say, defaults
// included, is empty.
func (v Value) Text() string {
	q := v.Quantity.String()
	switch v.State {
	case figure.Unknown:
		return "unknown"
	case figure.Plain:
		return q
	case figure.Measured:
		return q + " measured"
	case figure.About:
		if v.Low == 0 && v.High == 0 {
			return "about " + q
		}
		ends := v.end(v.Low) + " to " + v.end(v.High)
		if w, bad := readValue(ends, []quantity.Kind{v.Quantity.Kind}); bad == nil && w == v.unplaced() {
			return ends
		}
		return "about " + q + " (" + ends + ")"
	}
	return ""
}

func (v Value) unplaced() Value {
	v.At, v.Why = At{}, ""
	return v
}

// end writes one end in the unit of the value.
func (v Value) end(base float64) string {
	return quantity.Quantity{Base: base, Kind: v.Quantity.Kind, Unit: v.Quantity.Unit}.String()
}

// String is Text, so that a value prints as it is written.
func (v Value) String() string { return v.Text() }

// flawOf checks a value against the ranges of its field, and a count that must be whole.
func (f *field) flawOf(v Value) *flaw {
	if !v.Given() {
		return nil
	}
	numbers := []float64{v.Quantity.Base}
	if v.Low != 0 || v.High != 0 {
		numbers = append(numbers, v.Low, v.High)
	}
	if l, ok := f.limitFor(v.Quantity.Kind); ok {
		for _, x := range numbers {
			// The ends are written in units that need not be exact in the base unit: 30 lb is as good as 13.6077711 kg.
			slack := 1e-9 * math.Max(math.Abs(l.low.Base), math.Abs(l.high.Base))
			if !(x >= l.low.Base-slack && x <= l.high.Base+slack) {
				return &flaw{problem: "out of range", limit: l.text, hint: f.doc}
			}
		}
	}
	if f.whole && v.Quantity.Base != math.Trunc(v.Quantity.Base) && v.State != figure.About {
		return &flaw{problem: "not a whole number", hint: f.doc}
	}
	return nil
}

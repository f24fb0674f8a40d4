package figure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"campwright/quantity"
)

// Text shows a figure to a person: its value with unit, or its range where it has one, and how well it is known.
//
//	65 W                   stated
//	65 W measured          read off an instrument
//	about 65 W             an estimate
//	3 to 5 days            an estimate with its ends
//	5 % (default)          filled in by the program
//	unknown
func Text(f Figure, system quantity.System) string {
	switch {
	case f.State == Unknown:
		return "unknown"
	case f.State == Absent:
		return "not said"
	case !f.finite():
		return "no number"
	}
	text := Nominal(f, system)
	if f.HasRange() {
		text = quantity.Span(f.at(f.Low), f.at(f.High), system)
	}
	switch f.State {
	case Default:
		return text + " (default)"
	case Measured:
		return text + " measured"
	case About:
		if f.HasRange() || strings.HasPrefix(text, "about ") {
			return text
		}
		return "about " + text
	}
	return text
}

// Nominal shows the value alone, without its range and state.
func Nominal(f Figure, system quantity.System) string { return quantity.Format(f.at(f.Value), system) }

// at is a number of the figure as a quantity.
func (f Figure) at(x float64) quantity.Quantity {
	return quantity.Quantity{Base: x, Kind: f.Kind, Unit: f.Unit}
}

// Line shows a figure with its name: "refrigerator: about 65 W".
func Line(f Figure, system quantity.System) string {
	if f.Name == "" {
		return Text(f, system)
	}
	return f.Name + ": " + Text(f, system)
}

// List joins words as a sentence does: "a", "a and b", "a, b and c".
func List(words []string) string { return joined(words, "and") }

// Or joins words by or: "a, b or c".
func Or(words []string) string { return joined(words, "or") }

func joined(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// Plural counts things: "1 stop", "3 stops". An empty plural is the singular with an s.
func Plural(n int, one, many string) string {
	if many == "" {
		many = one + "s"
	}
	if n == 1 || n == -1 {
		many = one
	}
	return strconv.Itoa(n) + " " + many
}

// Sentence begins a text with a capital letter and ends it with a full stop, if it has no end yet. Parts that are empty are left out.
func Sentence(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			kept = append(kept, p)
		}
	}
	s := strings.Join(kept, " ")
	if s == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(first)) + s[size:]
	if !strings.ContainsAny(s[len(s)-1:], ".!?:") {
		s += "."
	}
	return s
}

// Explain shows a figure with its working over several lines: the formula, the numbers in it, what they come to, what each symbol stands for and the
// source. Numbers in the working are in base units, because the formula holds in them, or, where all of them are volumes or all weights, in the
// reader's unit; what each symbol stands for is shown in the system asked for. Where the figure is not what its working comes to, as a rough
// reckoning beside an answer, both are told. Without a working it is the line of the figure.
func Explain(f Figure, system quantity.System) []string {
	if f.Working == nil {
		return []string{Line(f, system)}
	}
	w := *f.Working
	name := f.Name
	if name == "" {
		name = "result"
	}
	lines := []string{name + " = " + w.Formula}
	if numbers, err := Numbers(readers(w, system)); err == nil {
		lines = append(lines, "= "+numbers)
	}
	comes := f
	if x, err := Evaluate(w.Formula, w.Terms); err == nil {
		comes.Value = x
	}
	result := quantity.Format(quantity.Quantity{Base: comes.Value, Kind: f.Kind}, quantity.Metric)
	if shown := Nominal(comes, system); shown != result {
		result += ", that is " + shown
	}
	lines = append(lines, "= "+result)
	if d := math.Abs(comes.Value - f.Value); d > roughly*math.Abs(f.Value) {
		lines = append(lines, "the answer is "+Nominal(f, system))
	}
	for _, t := range w.Terms {
		line := "with " + t.Symbol + " = " + Text(t.Figure, system)
		if t.Figure.Name != "" {
			line += ", " + t.Figure.Name
		}
		if t.Figure.Source != "" {
			line += fmt.Sprintf(" (%s)", t.Figure.Source)
		}
		lines = append(lines, line)
	}
	if w.Source != "" {
		lines = append(lines, "source: "+w.Source)
	}
	return lines
}

// roughly is how far a figure may lie from what its working comes to before both are told, as a share of it.
const roughly = 0.005

// readers returns a working with its numbers in the reader's unit, where all of them are of one kind whose unit differs between the systems and the formula
// is a ratio of such; any other working as it is.
func readers(w Working, system quantity.System) Working {
	unit := map[quantity.Kind]string{quantity.Volume: "gal", quantity.Mass: "lb"}
	if system != quantity.US || len(w.Terms) == 0 || !strings.Contains(w.Formula, "/") {
		return w
	}
	out := Working{Formula: w.Formula, Source: w.Source}
	for _, t := range w.Terms {
		if t.Figure.Kind != w.Terms[0].Figure.Kind || unit[t.Figure.Kind] == "" {
			return w
		}
		x, err := quantity.Number(quantity.Quantity{Base: t.Figure.Value, Kind: t.Figure.Kind}, unit[t.Figure.Kind])
		if err != nil {
			return w
		}
		t.Figure.Value = x
		out.Terms = append(out.Terms, t)
	}
	return out
}

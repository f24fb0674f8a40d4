package starter

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"campwright/catalogue"
	"campwright/quantity"
)

// sheet writes a rig file line by line, with the remark of what was taken beside each line that was not answered.
type sheet struct {
	b  strings.Builder
	us bool // feet, pounds and gallons
}

// Where remarks stand, and how long a line may be with one.
const (
	remarkColumn = 34
	longestLine  = 140
	foldAt       = 110
)

// line writes one line, with a remark behind it where there is one; a long remark goes on the line before.
func (s *sheet) line(indent int, text, remark string) {
	pad := strings.Repeat(" ", indent)
	if remark == "" {
		s.b.WriteString(pad + text + "\n")
		return
	}
	full := pad + text
	if space := remarkColumn - len([]rune(full)); space > 1 {
		full += strings.Repeat(" ", space-1)
	}
	if full += " # " + remark; len([]rune(full)) <= longestLine {
		s.b.WriteString(full + "\n")
		return
	}
	s.b.WriteString(pad + "# " + remark + "\n" + pad + text + "\n")
}

// remark writes paragraphs of remark, folded. One that begins with spaces is indented by them.
func (s *sheet) remark(paragraphs ...string) {
	for _, text := range paragraphs {
		words := strings.Fields(text)
		line := "#"
		if len(words) > 0 {
			line += " " + text[:len(text)-len(strings.TrimLeft(text, " "))]
		}
		for i, w := range words {
			if i > 0 && len([]rune(line))+1+len([]rune(w)) > foldAt {
				s.b.WriteString(line + "\n")
				line = "#"
			}
			if line != "#" && !strings.HasSuffix(line, " ") || line == "#" {
				line += " "
			}
			line += w
		}
		s.b.WriteString(line + "\n")
	}
}

// gap writes an empty line between parts.
func (s *sheet) gap() { s.b.WriteString("\n") }

// said writes an answered line plainly and one that was not with its remark.
func (s *sheet) said(n needs, indent int, key, text string) {
	remark := ""
	if n.taken[key] {
		remark = "taken: not answered"
	}
	s.line(indent, text, remark)
}

// about writes a typical number as an estimate with its ends, or plainly when it does not spread.
func (s *sheet) about(t catalogue.Typical) string { return aboutIn(t, s.unit(t.Kind, t.Value)) }

// heat writes a burner's draw in the unit of the place.
func (s *sheet) heat(t catalogue.Typical) string {
	if s.us {
		return aboutIn(t, "BTU/h")
	}
	return aboutIn(t, "W")
}

// aboutIn is about in a given unit.
func aboutIn(t catalogue.Typical, unit string) string {
	if t.High > t.Low {
		return "about " + in(t.Value, t.Kind, unit) + " (" + in(t.Low, t.Kind, unit) + " to " + in(t.High, t.Kind, unit) + ")"
	}
	return in(t.Value, t.Kind, unit)
}

// part writes a part's value as its entry has it, weights, volumes and sizes in the units of the place.
func (s *sheet) part(v catalogue.PartValue) string {
	t := v.Typical
	switch {
	case t.Kind == quantity.None && strings.Contains(v.Text, " x "):
		length, width, _ := strings.Cut(v.Text, " x ")
		return s.side(length) + " x " + s.side(width)
	case t.Kind == quantity.Mass || t.Kind == quantity.Volume || t.Kind == quantity.Flow:
		return s.about(t)
	case t.High > t.Low:
		q, err := quantity.Parse(v.Text, t.Kind)
		if err != nil {
			return s.about(t)
		}
		return "about " + v.Text + " (" + in(t.Low, t.Kind, q.Unit) + " to " + in(t.High, t.Kind, q.Unit) + ")"
	}
	return v.Text
}

// side writes one side of a size in the units of the place.
func (s *sheet) side(text string) string {
	q, err := quantity.Parse(text, quantity.Length)
	if s.us || err != nil {
		return text
	}
	return in(q.Base, quantity.Length, "cm")
}

// unit is the one in which people of the place write a kind of that size.
func (s *sheet) unit(kind quantity.Kind, base float64) string {
	pick := func(us, metric string) string {
		if s.us {
			return us
		}
		return metric
	}
	switch kind {
	case quantity.Duration:
		if base < 1.5 {
			return "min"
		}
		return "h"
	case quantity.Mass:
		return pick("lb", "kg")
	case quantity.Volume:
		return pick("gal", "L")
	case quantity.Flow:
		return pick("gal/h", "L/h")
	}
	if units := quantity.Units(kind); len(units) > 0 {
		return units[0]
	}
	return ""
}

// plainText is what can stand in a rig file without quotes and be read the same by people and other readers.
var plainText = regexp.MustCompile(`^[\p{L}0-9](?:[\p{L}0-9 .'()/+-]*[\p{L}0-9.)])?$`)

// text writes a text of a person, in quotes where it needs them.
func text(said string) string {
	lower := strings.ToLower(said)
	_, err := strconv.ParseFloat(said, 64)
	if plainText.MatchString(strings.ReplaceAll(said, ", ", " ")) && err != nil && !slices.Contains([]string{"null", "true", "false", "yes", "no", "on", "off", "y", "n"}, lower) {
		return said
	}
	return strconv.Quote(said)
}

// in writes a number in a unit with three digits, as the rig file reads it.
func in(base float64, kind quantity.Kind, unit string) string {
	x := base
	if kind != quantity.Count {
		if n, err := quantity.Number(quantity.Quantity{Base: base, Kind: kind}, unit); err == nil {
			x = n
		}
	}
	text := strconv.FormatFloat(digits(x), 'f', -1, 64)
	if unit == "" {
		return text
	}
	return text + " " + unit
}

// digits rounds to three significant digits; whole numbers below 100,000 stay as they are.
func digits(x float64) float64 {
	if near := math.Round(x); math.Abs(x-near) < 1e-6*math.Abs(x) && math.Abs(x) < 1e5 {
		return near
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return x
	}
	return rounded
}

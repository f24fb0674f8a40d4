package quantity

import (
	"math"
	"strings"
	"unicode/utf8"
)

// term is one number with its unit; a value such as "5 ft 6 in" has two.
type term struct {
	number float64
	unit   *unit
	spell  string // the unit as spelled, for errors
}

// Parse reads a value as people write it: "22.3 V", "6 AWG", "4/0", "35 mm2", "5 ft 6 in", "5'6\"", "1,400 BTU/h", "-0.29 %/C",
// "1 h 30 min". It is read as one of the kinds asked for, or as any kind when none is named. A plain number is a Count and nothing
// else. The error is an *Error; it says which kind was expected and which was found.
func Parse(text string, allowed ...Kind) (Quantity, error) {
	q, problem := parse(text, allowed)
	if problem != nil {
		problem.Text = clip(text)
		return Quantity{}, problem
	}
	return q, nil
}

// clip shortens a text for an error.
func clip(s string) string {
	if utf8.RuneCountInString(s) <= 60 {
		return s
	}
	return string([]rune(s)[:57]) + "..."
}

func parse(text string, allowed []Kind) (Quantity, *Error) {
	if len(text) > longest {
		return Quantity{}, &Error{Problem: "too long for a value", Hint: expected(allowed)}
	}
	s := plain(text)
	if s == "" {
		return Quantity{}, &Error{Problem: "empty", Hint: expected(allowed)}
	}
	if q, meant, problem := parseGauge(s); meant {
		if problem == nil && !allows(allowed, Section) {
			problem = wrongKind(text, q.Kind, allowed)
		}
		return q, problem
	}
	terms, problem := parseTerms(s, allowed)
	if problem != nil {
		return Quantity{}, problem
	}
	if terms[0].unit == nil {
		if !allows(allowed, Count) {
			return Quantity{}, &Error{Problem: "no unit", Hint: expected(allowed) + unitList(allowed)}
		}
		return Quantity{Base: terms[0].number, Kind: Count}, nil
	}
	return join(terms)
}

// unitList says which units a value may carry, when one kind is asked for.
func unitList(allowed []Kind) string {
	if len(allowed) != 1 {
		return ""
	}
	names := Units(allowed[0])
	if len(names) < 2 {
		return ""
	}
	return ", in " + strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// parseTerms splits the text into numbers with units. A plain number gives one term without a unit.
func parseTerms(s string, allowed []Kind) ([]term, *Error) {
	whole := s
	money := false
	if rest, ok := strings.CutPrefix(s, "$"); ok {
		s, money = strings.TrimSpace(rest), true
	} else if rest, ok := strings.CutPrefix(s, "-$"); ok {
		s, money = "-"+strings.TrimSpace(rest), true
	}
	var terms []term
	for s != "" {
		if len(terms) == 3 {
			return nil, &Error{Problem: "more than one value", Hint: expected(allowed)}
		}
		x, rest, problem := leadingNumber(s)
		if problem != nil {
			if len(terms) > 0 || problem.Problem == "no number found" {
				problem.Hint = expected(allowed)
			}
			return nil, problem
		}
		if len(terms) > 0 && (s[0] == '-' || s[0] == '+') {
			return nil, &Error{Problem: "more than one value", Hint: expected(allowed)}
		}
		x, rest, problem = fraction(x, s, rest)
		if problem != nil {
			return nil, problem
		}
		spell, rest := unitText(strings.TrimLeft(rest, " "))
		if money && spell == "" {
			spell = "$"
		}
		t := term{number: x, spell: spell}
		if spell != "" {
			if t.unit, problem = chooseUnit(whole, spell, allowed); problem != nil {
				return nil, problem
			}
		}
		terms = append(terms, t)
		s = strings.TrimLeft(rest, " ")
		if spell == "" && (s != "" || len(terms) > 1) {
			return nil, &Error{Problem: "number without a unit", Hint: expected(allowed)}
		}
	}
	if len(terms) == 0 {
		return nil, &Error{Problem: "no number found", Hint: expected(allowed)}
	}
	return terms, nil
}

// fraction adds "1/2" to a whole number before it, or reads "3/4" alone. s begins with the number x that rest follows.
func fraction(x float64, s, rest string) (float64, string, *Error) {
	digits := strings.TrimLeft(s[:len(s)-len(rest)], "+-")
	if strings.ContainsAny(digits, ".,eE") {
		return x, rest, nil
	}
	over := func(text string) (float64, string, bool) {
		after, ok := strings.CutPrefix(text, "/")
		if !ok || after == "" || !isDigit(after[0]) {
			return 0, text, false
		}
		n := 0
		for n < len(after) && isDigit(after[n]) {
			n++
		}
		d, _, problem := leadingNumber(after[:n])
		return d, after[n:], problem == nil
	}
	if d, after, ok := over(rest); ok {
		if d == 0 {
			return 0, rest, &Error{Problem: "fraction over zero"}
		}
		return x / d, after, nil
	}
	part := strings.TrimLeft(rest, " ")
	if len(part) == len(rest) || part == "" || !isDigit(part[0]) {
		return x, rest, nil
	}
	n := 0
	for n < len(part) && isDigit(part[n]) {
		n++
	}
	top, _, problem := leadingNumber(part[:n])
	d, after, ok := over(part[n:])
	if problem != nil || !ok || d == 0 || top >= d {
		return x, rest, nil
	}
	return x + math.Copysign(top/d, x), after, nil
}

// unitText takes the unit from the front of s: up to the next number, spaces and "per" made plain.
func unitText(s string) (unit, rest string) {
	i := 0
	for i < len(s) {
		c := s[i]
		if c == '1' && i == 0 && strings.HasPrefix(s, "1/") {
			i += 2
			continue
		}
		if c == '-' || c == '+' || c == '.' {
			if i+1 < len(s) && (isDigit(s[i+1]) || s[i+1] == '.') {
				break
			}
		}
		if isDigit(c) {
			power := (c == '2' || c == '3') && i > 0 && (s[i-1] == '^' || isLetter(s[i-1])) && (i+1 == len(s) || !isDigit(s[i+1]) && s[i+1] != '.' && !isLetter(s[i+1]))
			if !power || findUnit(unitKey(s[:i+1]), nil) == nil {
				break
			}
		}
		i++
	}
	return unitKey(s[:i]), s[i:]
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// unitKey writes a unit without spaces and "per" as a stroke.
func unitKey(s string) string {
	s = strings.TrimSpace(s)
	if rest, ok := strings.CutPrefix(s, "per "); ok {
		s = "/" + rest
	}
	s = strings.ReplaceAll(s, " per ", "/")
	return strings.ReplaceAll(s, " ", "")
}

// chooseUnit finds the unit, or says what was found instead.
func chooseUnit(whole, spell string, allowed []Kind) (*unit, *Error) {
	if u := findUnit(spell, allowed); u != nil {
		return u, nil
	}
	if u := findUnit(spell, nil); u != nil {
		return nil, wrongKind(whole, u.kind, allowed)
	}
	problem := &Error{Problem: "unknown unit \"" + clip(spell) + "\"", Hint: expected(allowed) + unitList(allowed)}
	if allows(allowed, Section) && spell == "mm" {
		problem.Hint = "a conductor's size is an area: write mm2"
	}
	return nil, problem
}

// wrongKind says what was expected and what was found.
func wrongKind(text string, found Kind, allowed []Kind) *Error {
	return &Error{Problem: "expected " + asked(allowed) + ", found " + clip(strings.TrimSpace(text)) + ", which is " + kinds[found].asked}
}

// join adds the terms of one value. Each must be of the kind of the first, positive, and in a smaller unit.
func join(terms []term) (Quantity, *Error) {
	first := terms[0].unit
	base := first.toBase(terms[0].number)
	names := []string{first.name}
	for i, t := range terms[1:] {
		before := terms[i].unit
		if t.unit.kind != first.kind || first.shift != 0 {
			return Quantity{}, &Error{Problem: "more than one value"}
		}
		if t.unit.num/t.unit.den >= before.num/before.den || t.unit.toBase(t.number) >= before.toBase(1) {
			return Quantity{}, &Error{Problem: "units out of order", Hint: "write the larger unit first and less than one of it after, such as 5 ft 6 in"}
		}
		base += math.Copysign(t.unit.toBase(t.number), terms[0].number)
		names = append(names, t.unit.name)
	}
	if math.IsInf(base, 0) || math.IsNaN(base) {
		return Quantity{}, &Error{Problem: "number too large"}
	}
	if base == 0 {
		base = 0 // minus zero reads as zero
	}
	return Quantity{Base: base, Kind: first.kind, Unit: strings.Join(names, " ")}, nil
}

package figure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits of a formula.
const (
	longestFormula = 1000
	deepestFormula = 50
)

// Evaluate computes a formula with its terms, each in the base unit of its kind. The result is in the base unit that the formula
// implies. A formula may begin with a name and an equals sign, which are skipped.
//
//   - - − * × · / ÷ ^    the usual order; powers before signs, from the right
//     ² ³ √                after and before what they act on
//     ( )                  brackets
//     min max              of one or more, separated by commas
//     sqrt abs exp ln ceil floor
//     5 %                  a hundredth
//
// A symbol is any text that names a term; where several fit, the longest is meant. An unknown symbol, a missing operator and a result
// that is not finite are errors that say where.
func Evaluate(formula string, terms []Term) (float64, error) {
	p, err := newReader(rightSide(formula), terms)
	if err != nil {
		return 0, err
	}
	x, err := p.sum()
	if err != nil {
		return 0, err
	}
	if p.skip(); p.rest != "" {
		return 0, p.fault("an operator is missing")
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, errors.New("the result is not a finite number")
	}
	return x, nil
}

// rightSide leaves out the name before an equals sign; an inequality stays whole.
func rightSide(formula string) string {
	if name, after, ok := strings.Cut(formula, "="); ok && !strings.ContainsAny(name, "<>≤≥") {
		return strings.TrimSpace(after)
	}
	return formula
}

// reader computes a formula from its text, left to right.
type reader struct {
	whole, rest string
	terms       []Term
	depth       int
}

func newReader(formula string, terms []Term) (*reader, error) {
	if len(formula) > longestFormula {
		return nil, fmt.Errorf("formula of %d bytes, at most %d", len(formula), longestFormula)
	}
	for _, t := range terms {
		if t.Symbol == "" || strings.TrimSpace(t.Symbol) != t.Symbol {
			return nil, fmt.Errorf("symbol %q is not a name", t.Symbol)
		}
	}
	return &reader{whole: formula, rest: formula, terms: terms}, nil
}

func (p *reader) take(n int) { p.rest = p.rest[n:] }

func (p *reader) skip() { p.rest = strings.TrimLeft(p.rest, " \u00a0\u2009\u202f\t\n") }

// sign takes one of some signs, if it is next.
func (p *reader) sign(signs ...string) string {
	p.skip()
	for _, s := range signs {
		if strings.HasPrefix(p.rest, s) {
			p.take(len(s))
			return s
		}
	}
	return ""
}

func (p *reader) fault(what string) error {
	at := utf8.RuneCountInString(p.whole[:len(p.whole)-len(p.rest)]) + 1
	return fmt.Errorf("formula %q, character %d: %s", p.whole, at, what)
}

// enter guards against brackets without end.
func (p *reader) enter() error {
	if p.depth++; p.depth > deepestFormula {
		return p.fault("nested too deeply")
	}
	return nil
}

func (p *reader) sum() (float64, error) {
	if err := p.enter(); err != nil {
		return 0, err
	}
	defer func() { p.depth-- }()
	x, err := p.product()
	for err == nil {
		var y float64
		switch p.sign("+", "-", "\u2212", "\u2013") {
		case "":
			return x, nil
		case "+":
			y, err = p.product()
			x += y
		default:
			y, err = p.product()
			x -= y
		}
	}
	return 0, err
}

func (p *reader) product() (float64, error) {
	x, err := p.signed()
	for err == nil {
		var y float64
		switch p.sign("*", "×", "·", "⋅", "/", "÷") {
		case "":
			return x, nil
		case "/", "÷":
			if y, err = p.signed(); err == nil && y == 0 {
				err = p.fault("division by zero")
			}
			x /= y
		default:
			y, err = p.signed()
			x *= y
		}
	}
	return 0, err
}

func (p *reader) signed() (float64, error) {
	minus := false
	for {
		switch p.sign("+", "-", "\u2212", "\u2013") {
		case "":
			x, err := p.power()
			if minus {
				x = -x
			}
			return x, err
		case "+":
		default:
			minus = !minus
		}
	}
}

func (p *reader) power() (float64, error) {
	if err := p.enter(); err != nil {
		return 0, err
	}
	defer func() { p.depth-- }()
	x, err := p.atom()
	for err == nil {
		switch p.sign("²", "³", "%", "^") {
		case "²":
			x *= x
		case "³":
			x *= x * x
		case "%":
			x /= 100
		case "^":
			y, err := p.signed()
			return math.Pow(x, y), err
		default:
			return x, nil
		}
	}
	return 0, err
}

// atom reads a number, a symbol, a function or a bracket.
func (p *reader) atom() (float64, error) {
	if p.sign("√") != "" {
		x, err := p.atom()
		return math.Sqrt(x), err
	}
	if p.sign("(") != "" {
		x, err := p.sum()
		if err == nil && p.sign(")") == "" {
			err = p.fault("a closing bracket is missing")
		}
		return x, err
	}
	if t, size := p.symbol(); size > 0 {
		p.take(size)
		return t.Figure.Value, nil
	}
	if size := numberSize(p.rest); size > 0 {
		x, err := strconv.ParseFloat(p.rest[:size], 64)
		if err != nil {
			return 0, p.fault("not a number")
		}
		p.take(size)
		return x, nil
	}
	word := p.word()
	if word == "" {
		return 0, p.fault("a number, a symbol or a bracket is missing")
	}
	if !isFunction(word) {
		return 0, p.fault("unknown symbol \"" + word + "\"")
	}
	p.take(len(word))
	return p.call(word)
}

// isFunction tells whether a word names a function.
func isFunction(word string) bool {
	switch word {
	case "min", "max", "sqrt", "abs", "exp", "ln", "ceil", "floor":
		return true
	}
	return false
}

// call reads the arguments of a function and computes it.
func (p *reader) call(name string) (float64, error) {
	if p.sign("(") == "" {
		return 0, p.fault("a bracket is missing after " + name)
	}
	var args []float64
	for {
		x, err := p.sum()
		if err != nil {
			return 0, err
		}
		args = append(args, x)
		if p.sign(",", ";") == "" {
			break
		}
	}
	if p.sign(")") == "" {
		return 0, p.fault("a closing bracket is missing")
	}
	if name != "min" && name != "max" && len(args) != 1 {
		return 0, p.fault(name + " takes one value")
	}
	x := args[0]
	switch name {
	case "min":
		for _, y := range args {
			x = math.Min(x, y)
		}
	case "max":
		for _, y := range args {
			x = math.Max(x, y)
		}
	case "sqrt":
		x = math.Sqrt(x)
	case "abs":
		x = math.Abs(x)
	case "exp":
		x = math.Exp(x)
	case "ln":
		x = math.Log(x)
	case "ceil":
		x = math.Ceil(x)
	case "floor":
		x = math.Floor(x)
	}
	return x, nil
}

// symbol finds the longest term that is next, and its size in bytes.
func (p *reader) symbol() (Term, int) {
	best, size := Term{}, 0
	for _, t := range p.terms {
		if len(t.Symbol) > size && strings.HasPrefix(p.rest, t.Symbol) && !inWord(t.Symbol, p.rest[len(t.Symbol):]) {
			best, size = t, len(t.Symbol)
		}
	}
	return best, size
}

// inWord tells whether a symbol goes on in what follows it, so that V is not found in Vmp.
func inWord(symbol, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(symbol)
	next, _ := utf8.DecodeRuneInString(after)
	return after != "" && wordRune(last) && wordRune(next)
}

func wordRune(r rune) bool {
	return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) || r >= '₀' && r <= '₉' || unicode.Is(unicode.Mn, r)
}

// word is the word that is next, empty when the text goes on with something else.
func (p *reader) word() string {
	size := 0
	for i, r := range p.rest {
		if !wordRune(r) || i == 0 && unicode.IsDigit(r) {
			break
		}
		size = i + utf8.RuneLen(r)
	}
	return p.rest[:size]
}

// numberSize is the length of the number that s begins with, zero when it begins with none.
func numberSize(s string) int {
	i, digits := 0, 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.') {
		if s[i] != '.' {
			digits++
		}
		i++
	}
	if digits == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && s[j] >= '0' && s[j] <= '9' {
			for j < len(s) && s[j] >= '0' && s[j] <= '9' {
				j++
			}
			return j
		}
	}
	return i
}

package check

import "fmt"

// Verdict is what a rule says of a place in the rig. The order is the order of danger.
type Verdict uint8

// The verdicts. Undecided stands with the findings: it is a question that must be answered before the rig can be called safe.
const (
	Pass      Verdict = iota // checked and good, with its margin
	Note                     // worth knowing, nothing to change
	Warn                     // works, but loses energy, margin or life
	Undecided                // cannot be told before something is measured
	Fail                     // breaks a rating, a named rule or the aim
	Stop                     // someone could be hurt, or gear dies at switch-on
)

var verdictNames = [...]string{Pass: "PASS", Note: "NOTE", Warn: "WARN", Undecided: "UNDECIDED", Fail: "FAIL", Stop: "STOP"}

// Verdicts returns all verdicts, the worst first.
func Verdicts() []Verdict { return []Verdict{Stop, Fail, Undecided, Warn, Note, Pass} }

// String returns the verdict's word.
func (v Verdict) String() string {
	if int(v) < len(verdictNames) {
		return verdictNames[v]
	}
	return fmt.Sprintf("verdict %d", uint8(v))
}

// Meaning says what a verdict asks of the reader.
func (v Verdict) Meaning() string {
	switch v {
	case Stop:
		return "someone could be hurt, or gear dies the moment it is switched on: do not energise"
	case Fail:
		return "breaks a rating, a named rule or the stated aim: change it, or accept it with a written reason"
	case Undecided:
		return "cannot be told before something is measured or looked up"
	case Warn:
		return "works, but loses energy, margin or life: you decide, and the reason is kept"
	case Note:
		return "worth knowing, nothing to change"
	}
	return "checked and good, with the margin shown"
}

// MarshalText writes the verdict's word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads a verdict's word.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, n := range verdictNames {
		if n == string(text) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("verdict %q is none of STOP, FAIL, UNDECIDED, WARN, NOTE, PASS", text)
}

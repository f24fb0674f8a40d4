package check

// Rule is one rule with everything that is told about it. The record in its room is the only place where its facts live: checks, explain,
// the printed list and the page all read it.
type Rule struct {
	ID        string               // "M01"; never used twice
	Title     string               // the mistake, in seven words at most
	Holds     string               // what a pass says, in seven words at most
	Worst     Verdict              // the worst it can say
	What      string               // what it looks at
	Why       string               // what goes wrong otherwise
	Except    string               // where it does not apply, and what it leaves out
	Formula   string               // the inequality in words or symbols
	Source    string               // "[KEY] clause", or "common practice, no source"
	Sure      string               // how sure the rule is
	Questions []string             // what it must ask when the file does not say
	Caution   string               // kind of danger whose caution stands beside its findings; empty for none
	Run       func(Case) []Outcome // judges a case
}

// Practice is the source of a rule that rests on the practice of the trade alone.
const Practice = "common practice, no source"

package conductor

// Mark says how a figure is known.
type Mark uint8

// The marks, from the best known to the least.
const (
	Seen     Mark = iota + 1 // read in a public copy of the standard
	Derived                  // worked out here from figures with a mark of their own
	Memory                   // from memory of the named standard: check the current edition
	Practice                 // common practice, no source
)

// String tells the mark as it stands beside a figure.
func (m Mark) String() string {
	switch m {
	case Seen:
		return "standard seen"
	case Derived:
		return "derived"
	case Memory:
		return "from memory: check the current edition"
	case Practice:
		return "common practice"
	}
	return "no mark"
}

// Origin is where a figure comes from.
type Origin struct {
	Key  string // citation key of the list of sources; empty for practice
	Text string // clause or table, in words fit to print
	Mark Mark
}

// String tells the origin in one line.
func (o Origin) String() string { return o.Text + " (" + o.Mark.String() + ")" }

package check

// Untold tells whether the owner left a word out, or wrote that he does not know it.
func Untold(word string) bool { return word == "" || word == "unknown" }

// AskWord turns an outcome that rests on a word of which the owner says that he does not know it into a question.
func (o Outcome) AskWord(said, measure string) Outcome {
	if said != "unknown" || o.Verdict == Undecided {
		return o
	}
	o.Verdict, o.Margin, o.Measure, o.Tries = Undecided, nil, []string{measure}, nil
	return o
}

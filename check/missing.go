package check

import (
	"slices"

	"campwright/figure"
)

// unsettle takes a rule's outcomes for a rig in which something is missing, and leaves standing only what comes out alike wherever the missing values
// lie in their plausible spans. Anything else is not decided before they are known.
func (c Case) unsettle(rule *Rule, list []Outcome) []Outcome {
	if len(c.ends) == 0 {
		return list
	}
	for _, end := range c.ends {
		there := run(end, rule)
		for i := range list {
			o := &list[i]
			k := alike(list, i, there)
			switch {
			case k < 0 && o.Verdict > Undecided && !slices.ContainsFunc(there, func(x Outcome) bool { return x.Place == o.Place && x.Verdict > Undecided }):
				c.open(o)
			case k < 0:
			case there[k].Verdict > Undecided && o.Verdict < Undecided:
				*o = there[k]
				c.open(o)
			case there[k].Verdict <= Undecided && o.Verdict > Undecided:
				c.open(o)
			case there[k].Verdict > o.Verdict && o.Verdict < Undecided:
				*o = there[k]
			}
		}
		for k, o := range there {
			if o.Verdict > Undecided && alike(there, k, list) < 0 && !slices.ContainsFunc(list, func(x Outcome) bool { return x.Place == o.Place && x.Verdict >= Undecided }) {
				c.open(&o)
				list = append(list, o)
			}
		}
	}
	return list
}

// alike returns which outcome of another run of the same rule is about the same thing as outcome i of a list, −1 for none: the same place, part and
// inequality, and of several such the one as far down the list.
func alike(list []Outcome, i int, there []Outcome) int {
	same := func(x, y *Outcome) bool {
		return x.Place == y.Place && x.Part == y.Part && x.Numbers.Formula == y.Numbers.Formula
	}
	nth := 0
	for k := range i {
		if same(&list[k], &list[i]) {
			nth++
		}
	}
	for k := range there {
		if same(&there[k], &list[i]) {
			if nth == 0 {
				return k
			}
			nth--
		}
	}
	return -1
}

// open makes an outcome one that waits for the missing values.
func (c Case) open(o *Outcome) {
	o.Verdict, o.Margin, o.Tries, o.Accepted = Undecided, nil, nil, ""
	o.Measure = o.Measure[:0:0]
	for _, g := range c.Gaps {
		o.Measure = append(o.Measure, "find out "+g.What+" ("+g.Path+"): "+g.Hint)
	}
	if o.Detail == "" {
		o.Detail = "It hangs on " + figure.List(paths(c)) + "."
	}
}

func paths(c Case) []string {
	list := make([]string, len(c.Gaps))
	for i, g := range c.Gaps {
		list[i] = g.Path
	}
	return list
}

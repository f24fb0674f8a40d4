package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/rig"
)

// Report is what all rules say of a rig.
type Report struct {
	Rig      string    `json:"rig"`
	Sentence string    `json:"sentence"`
	Book     string    `json:"book"` // the bundle of rule tables
	Counts   Counts    `json:"counts"`
	Groups   []Group   `json:"groups" nullable:"false"`   // by danger, the worst first; each by place
	Outcomes []Outcome `json:"outcomes" nullable:"false"` // the worst first, then in the order of the document
	Cautions []Caution `json:"cautions" nullable:"false"` // each once, for the dangers that the findings deal with
	Local    string    `json:"local"`                     // what stands with every caution
	Missing  []Missing `json:"missing" nullable:"false"`  // what the file must say before all rules can judge
	Places   []Ends    `json:"places" nullable:"false"`   // the ends of temperature that entered
	Stale    []Stale   `json:"stale" nullable:"false"`    // acceptances in the file that no finding answers to
	Silent   []string  `json:"silent" nullable:"false"`   // rules that found nothing in this rig to judge
}

// Stale is an acceptance that no finding answers to.
type Stale struct {
	Rule   string `json:"rule"`
	Place  string `json:"place"`
	Reason string `json:"reason"`
	Why    string `json:"why"`
}

// Counts is how many outcomes there are of each kind. An accepted finding counts as accepted alone.
type Counts struct {
	Stop      int `json:"stop"`
	Fail      int `json:"fail"`
	Undecided int `json:"undecided"`
	Warn      int `json:"warn"`
	Note      int `json:"note"`
	Pass      int `json:"pass"`
	Accepted  int `json:"accepted"`
}

// Group is the outcomes of one verdict.
type Group struct {
	Verdict Verdict      `json:"verdict" enum:"STOP,FAIL,UNDECIDED,WARN,NOTE,PASS"`
	Meaning string       `json:"meaning"`
	Places  []PlaceGroup `json:"places" nullable:"false"`
}

// PlaceGroup is the outcomes of one verdict at one place, by their number in Report.Outcomes.
type PlaceGroup struct {
	Place    string `json:"place"`
	Part     string `json:"part"`
	Outcomes []int  `json:"outcomes" nullable:"false"`
}

// Missing is a value that no part of the program can guess.
type Missing struct {
	Path string `json:"path"`
	What string `json:"what"`
	Hint string `json:"hint"`
}

// Ends is what one place adds to the checks. A figure that is not known is null.
type Ends struct {
	Place      string   `json:"place"` // path
	Name       string   `json:"name"`
	RecordLowC *float64 `json:"recordLowC"`
	Basis      string   `json:"basis"` // what the record low rests on
	AnnualLowC *float64 `json:"annualLowC"`
	HighC      *float64 `json:"highC"`
	ElevationM *float64 `json:"elevationM"`
	Problem    string   `json:"problem"` // why its climate is not known; empty when it is
}

// Judge runs rules on a case.
func Judge(c Case, rules []Rule) Report {
	r := Report{Rig: c.Doc.Name, Book: c.Doc.Book, Local: Local, Outcomes: []Outcome{}, Groups: []Group{}, Cautions: []Caution{}, Missing: []Missing{}, Places: []Ends{}, Stale: []Stale{}, Silent: []string{}}
	for i := range rules {
		list := c.unsettle(&rules[i], run(c, &rules[i]))
		if len(list) == 0 {
			r.Silent = append(r.Silent, rules[i].ID)
		}
		r.Outcomes = append(r.Outcomes, list...)
	}
	order := placeOrder(c.Doc)
	slices.SortStableFunc(r.Outcomes, func(a, b Outcome) int {
		switch {
		case a.Verdict != b.Verdict:
			return int(b.Verdict) - int(a.Verdict)
		case (a.Accepted == "") != (b.Accepted == ""):
			if a.Accepted == "" {
				return -1
			}
			return 1
		case order(a.Place) != order(b.Place):
			return order(a.Place) - order(b.Place)
		}
		return strings.Compare(a.Rule, b.Rule)
	})
	r.count()
	r.group()
	r.caution()
	for _, g := range c.Gaps {
		r.Missing = append(r.Missing, Missing{g.Path, g.What, g.Hint})
	}
	if c.Fault != nil {
		r.Missing = append(r.Missing, Missing{"rig", "parts that agree with each other: " + c.Fault.Error(), "what hangs on them is judged without the figures that disagree, or not at all, until they do"})
	}
	for i := range c.Sites {
		s := &c.Sites[i]
		r.Places = append(r.Places, Ends{s.Path, s.Name, known(s.RecordLowC), s.LowBasis, known(s.AnnualLowC), known(s.RecordHiC), known(s.ElevationM), s.Problem})
	}
	r.stale(c.Doc.Accepted, rules)
	r.Sentence = r.sentence()
	return r
}

// stale lists the acceptances that no finding answers to.
func (r *Report) stale(list []rig.Acceptance, rules []Rule) {
	for _, a := range list {
		s := Stale{Rule: a.Rule, Place: a.Place, Reason: strings.TrimSpace(a.Reason), Why: "nothing is found there any more"}
		if !slices.ContainsFunc(rules, func(x Rule) bool { return x.ID == a.Rule }) {
			s.Why = "this rule was not judged"
		}
		if !slices.ContainsFunc(r.Outcomes, func(o Outcome) bool { return o.Accepted != "" && answers(a, &o) }) {
			r.Stale = append(r.Stale, s)
		}
	}
}

// answers tells whether an outcome is what an acceptance is about.
func answers(a rig.Acceptance, o *Outcome) bool {
	return a.Rule == o.Rule && (a.Place == "" || a.Place == o.Place || strings.HasPrefix(o.Place, a.Place+"/"))
}

func known(x float64) *float64 {
	if math.IsNaN(x) {
		return nil
	}
	return &x
}

// run judges one rule and fills in what its record says.
func run(c Case, rule *Rule) []Outcome {
	list := rule.Run(c)
	for i := range list {
		o := &list[i]
		o.Rule = rule.ID
		if o.Source == "" {
			o.Source = rule.Source
		}
		if o.Sure == "" {
			o.Sure = rule.Sure
		}
		if o.Consequence == "" && o.Verdict >= Warn {
			o.Consequence = rule.Why
		}
		if o.Title == "" {
			o.Title = rule.Title
			if o.Verdict == Pass {
				o.Title = rule.Holds
			}
		}
		if o.Verdict >= Warn {
			o.Caution = rule.Caution
		}
		if o.Verdict == Pass || o.Verdict == Note || o.Verdict == Undecided {
			o.Tries = nil
		}
		if o.Measure == nil {
			o.Measure = []string{}
		}
		if o.Ways == nil || o.Verdict == Pass {
			o.Ways = []string{}
		}
		o.Working = Show(o.Numbers, c.Units)
		o.accept(c.Doc.Accepted)
	}
	return list
}

// accept looks for the owner's written reason. A STOP cannot be accepted, and a question is not answered by accepting it.
func (o *Outcome) accept(list []rig.Acceptance) {
	for _, a := range list {
		if !answers(a, o) {
			continue
		}
		switch o.Verdict {
		case Warn, Fail:
			o.Accepted = strings.TrimSpace(a.Reason)
		case Stop:
			o.Detail = strings.TrimSpace(o.Detail + " The reason in the file does not lift it: a STOP cannot be accepted.")
		}
	}
}

// placeOrder returns a number by which places sort in the order of the document.
func placeOrder(doc *rig.Rig) func(path string) int {
	sections := []string{"rig", "modules", "controllers", "arrays", "bank", "inverters", "vehicle", "charge line", "shore", "generators", "appliances", "stores", "home", "trip", "aims"}
	names := map[string]int{}
	rig.Members(doc, func(list string, members []string) {
		for i, m := range members {
			names[list+"/"+m] = i + 1
		}
	})
	return func(path string) int {
		head, rest, _ := strings.Cut(path, "/")
		for i, s := range sections {
			if s == head {
				member := names[path]
				if member == 0 {
					_, _ = fmt.Sscanf(rest, "%d", &member)
				}
				return i*1000 + member
			}
		}
		return len(sections) * 1000
	}
}

func (r *Report) count() {
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		n := map[Verdict]*int{Stop: &r.Counts.Stop, Fail: &r.Counts.Fail, Undecided: &r.Counts.Undecided, Warn: &r.Counts.Warn, Note: &r.Counts.Note, Pass: &r.Counts.Pass}[o.Verdict]
		if o.Accepted != "" {
			n = &r.Counts.Accepted
		}
		*n++
	}
}

func (r *Report) group() {
	for _, v := range Verdicts() {
		g := Group{Verdict: v, Meaning: v.Meaning()}
		for i := range r.Outcomes {
			o := &r.Outcomes[i]
			if o.Verdict != v {
				continue
			}
			at := slices.IndexFunc(g.Places, func(p PlaceGroup) bool { return p.Place == o.Place })
			if at < 0 {
				g.Places = append(g.Places, PlaceGroup{Place: o.Place, Part: o.Part})
				at = len(g.Places) - 1
			}
			g.Places[at].Outcomes = append(g.Places[at].Outcomes, i)
		}
		if len(g.Places) > 0 {
			r.Groups = append(r.Groups, g)
		}
	}
}

func (r *Report) caution() {
	for i := range r.Outcomes {
		kind := r.Outcomes[i].Caution
		if kind == "" || slices.ContainsFunc(r.Cautions, func(c Caution) bool { return c.Kind == kind }) {
			continue
		}
		if c, ok := CautionFor(kind); ok {
			r.Cautions = append(r.Cautions, c)
		}
	}
}

// sentence says in one breath how the rig stands.
func (r *Report) sentence() string {
	n := r.Counts
	var open []string
	for _, part := range []struct {
		count int
		one   string
		many  string
	}{{n.Stop, "STOP", "STOPs"}, {n.Fail, "FAIL", "FAILs"}} {
		if part.count > 0 {
			open = append(open, plural(part.count, part.one, part.many))
		}
	}
	rest := []string{}
	if n.Undecided > 0 {
		rest = append(rest, plural(n.Undecided, "question is open", "questions are open"))
	}
	if n.Warn > 0 {
		rest = append(rest, plural(n.Warn, "warning", "warnings"))
	}
	rest = append(rest, plural(n.Pass, "check passes", "checks pass")+" with a margin")
	if n.Pass+n.Undecided+n.Warn+n.Note+n.Accepted == 0 && n.Stop+n.Fail == 0 {
		if len(r.Missing) > 0 {
			return "Nothing could be judged yet: " + plural(len(r.Missing), "value is missing", "values are missing") + "."
		}
		return "Nothing could be judged yet."
	}
	head := "No STOP and no FAIL"
	if len(open) > 0 {
		head = "Not in order: " + strings.Join(open, ", ")
	}
	if len(r.Missing) > 0 {
		missing := plural(len(r.Missing), "value is missing, and what hangs on it is open", "values are missing, and what hangs on them is open")
		if len(open) > 0 {
			rest = append(rest, missing)
		} else {
			head = missing + "; in the rest no STOP and no FAIL"
		}
	}
	return head + "; " + strings.Join(rest, ", ") + "."
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

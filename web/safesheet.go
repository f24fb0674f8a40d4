package web

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// accepted is the word for a finding that the owner lives with.
const accepted = "ACCEPTED"

// fill writes a report into the sheet.
func (t *SafeSheet) fill(c *check.Case, r *check.Report) {
	t.State, t.Sentence, t.Book, t.Local = "answered", r.Sentence, r.Book, r.Local
	if len(r.Outcomes) == 0 { // a rig of which nothing is known must not read as one in order
		t.Sentence = "Nothing could be judged yet."
	}
	t.Cautions = append(t.Cautions, r.Cautions...)
	t.Later = check.Later()
	if c.Fault != nil {
		t.Fault = c.Fault.Error()
	}
	said := map[string]bool{}
	for i := range r.Outcomes {
		said[r.Outcomes[i].Rule] = true
	}
	for _, rule := range rules.All() {
		t.Rules++
		if !said[rule.ID] {
			t.Silent = append(t.Silent, SilentRule{rule.ID, rule.Title})
		}
	}
	t.Scope = scope(t.Rules, t.Later)
	for _, v := range []VerdictCount{
		{"STOP", r.Counts.Stop}, {"FAIL", r.Counts.Fail}, {"UNDECIDED", r.Counts.Undecided}, {"WARN", r.Counts.Warn}, {"NOTE", r.Counts.Note},
		{accepted, r.Counts.Accepted}, {"PASS", r.Counts.Pass},
	} {
		if v.N > 0 {
			t.Counts = append(t.Counts, v)
		}
	}
	t.findings(r)
	t.settle(valueTexts(c.Said))
	for _, p := range r.Places {
		t.Places = append(t.Places, endsRow(p))
	}
}

// scope says how much was judged, and how much no rule can judge or does so far.
func scope(judged int, later []check.LaterRule) string {
	yours, coming := 0, 0
	for _, l := range later {
		if l.Kind == "to come" {
			coming++
		} else {
			yours++
		}
	}
	text := strconv.Itoa(judged) + " rules judged"
	if yours > 0 {
		text += "; " + counted(yours, "thing") + " only a look, an answer or a meter can tell"
	}
	if coming > 0 {
		text += "; " + counted(coming, "mistake") + " of the trade no rule judges yet"
	}
	return text
}

func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}

// findings sorts the outcomes into groups and passes.
func (t *SafeSheet) findings(r *check.Report) {
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		switch {
		case o.Verdict == check.Pass:
			t.Passes = joinFinding(t.Passes, o, func(f *Finding) bool { return f.Rule == o.Rule && f.Title == o.Title })
		default:
			t.group(o)
		}
	}
	for g := range t.Groups {
		for p := range t.Groups[g].Places {
			for i := range t.Groups[g].Places[p].Findings {
				f := &t.Groups[g].Places[p].Findings[i]
				f.Measure = together(f.Measure)
			}
		}
	}
	for i := range t.Passes {
		slices.SortStableFunc(t.Passes[i].Cases, tighter)
	}
	slices.SortStableFunc(t.Passes, func(a, b Finding) int { return tighter(a.Cases[0], b.Cases[0]) })
	for g := range t.Groups {
		for p := range t.Groups[g].Places {
			t.Groups[g].Places[p].name()
		}
	}
	slices.SortStableFunc(t.Groups, func(a, b SafeGroup) int { return weight(a.Verdict) - weight(b.Verdict) })
}

// group puts an outcome into the group of its verdict, at its place.
func (t *SafeSheet) group(o *check.Outcome) {
	verdict, meaning := o.Verdict.String(), o.Verdict.Meaning()
	if o.Accepted != "" {
		verdict, meaning = accepted, "breaks a rule, and you live with it for the reason written in the file"
	}
	at := slices.IndexFunc(t.Groups, func(g SafeGroup) bool { return g.Verdict == verdict })
	if at < 0 {
		at = len(t.Groups)
		t.Groups = append(t.Groups, SafeGroup{Verdict: verdict, Meaning: meaning})
	}
	g := &t.Groups[at]
	place := slices.IndexFunc(g.Places, func(p SafeParts) bool { return p.Place == o.Place })
	if place < 0 {
		place = len(g.Places)
		g.Places = append(g.Places, SafeParts{Place: o.Place, Part: plainWords(o.Part)})
	}
	p := &g.Places[place]
	p.Findings = joinFinding(p.Findings, o, func(f *Finding) bool {
		return f.Rule == o.Rule && f.Key == o.Title && f.Consequence == inBoth(figure.Sentence(o.Consequence)) && f.Accepted == o.Accepted
	})
}

// weight orders the groups: the worst first, what is accepted before what is only worth knowing.
func weight(verdict string) int {
	return slices.Index([]string{"STOP", "FAIL", "UNDECIDED", "WARN", accepted, "NOTE"}, verdict)
}

// joinFinding adds an outcome to the finding that says the same, or begins one.
func joinFinding(list []Finding, o *check.Outcome, same func(*Finding) bool) []Finding {
	at := slices.IndexFunc(list, func(f Finding) bool { return same(&f) })
	if at < 0 {
		at = len(list)
		rule, _ := rules.Find(o.Rule)
		list = append(list, Finding{
			Rule: o.Rule, Verdict: o.Verdict.String(), Place: o.Place, Title: o.Title, Key: o.Title, Consequence: inBoth(figure.Sentence(o.Consequence)), Measure: []Both{}, Settle: []WiredValue{},
			Ways: []Both{}, Caution: o.Caution, Source: o.Source, Sure: inBoth(o.Sure), What: inBoth(rule.What), Except: inBoth(rule.Except), Accepted: o.Accepted,
		})
	}
	f := &list[at]
	f.Measure, f.Ways = joinTexts(f.Measure, inBothAll(o.Measure)), joinTexts(f.Ways, inBothAll(o.Ways))
	f.Cases = append(f.Cases, safeCase(o))
	if len(o.Measure) > 0 {
		f.Settle = settling(f.Settle, o.Numbers.Terms)
	}
	return list
}

// settle says of the values that would settle a finding what stands in the file.
func (t *SafeSheet) settle(texts map[string]string) {
	for _, g := range t.Groups {
		for _, at := range g.Places {
			for _, f := range at.Findings {
				for i := range f.Settle {
					f.Settle[i].Raw = texts[f.Settle[i].Path]
				}
			}
		}
	}
}

// settling adds the values of the rig among terms that are not stated: those which, once they are known, decide what hangs on them.
func settling(list []WiredValue, terms []figure.Term) []WiredValue {
	for _, t := range terms {
		f := &t.Figure
		if f.Working != nil {
			list = settling(list, f.Working.Terms)
		}
		if _, ok := rig.FieldOf(f.Source); !ok || f.State >= figure.Plain || slices.ContainsFunc(list, func(v WiredValue) bool { return v.Path == f.Source }) {
			continue
		}
		list = append(list, WiredValue{Key: f.Name, Path: f.Source})
	}
	return list
}

// joinTexts adds the texts that are not there yet.
func joinTexts[T comparable](list, more []T) []T {
	for _, text := range more {
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// name gives a place its words. Where its findings speak of several ends of it, what they have in common is named, and each case says
// which end.
func (p *SafeParts) name() {
	common, every := p.Part, true
	for _, f := range p.Findings {
		for _, c := range f.Cases {
			if len(c.Part) < len(common) {
				common = c.Part
			}
		}
	}
	for _, f := range p.Findings {
		for _, c := range f.Cases {
			every = every && (c.Part == common || strings.HasPrefix(c.Part, common+" "))
		}
	}
	if p.Part = common; !every {
		p.Part = strings.ReplaceAll(p.Place, "/", " ")
	}
	for _, f := range p.Findings {
		for i := range f.Cases {
			f.Cases[i].Part = strings.TrimPrefix(strings.TrimPrefix(f.Cases[i].Part, p.Part), " ")
		}
	}
}

// tighter orders cases by what is to spare, those without a margin last.
func tighter(a, b SafeCase) int {
	end := func(c SafeCase) float64 {
		if c.Margin == nil {
			return math.Inf(1)
		}
		return *c.Margin
	}
	return cmp.Compare(end(a), end(b))
}

func endsRow(p check.Ends) EndsRow {
	row := EndsRow{
		Name: p.Name, Home: p.Place == "home", Low: degrees(p.RecordLowC), Annual: degrees(p.AnnualLowC), High: degrees(p.HighC),
		LowC: p.RecordLowC, AnnualC: p.AnnualLowC, HighC: p.HighC, Basis: inBoth(p.Basis), Problem: p.Problem,
	}
	if p.ElevationM != nil {
		row.Height = in(math.Round(*p.ElevationM), quantity.Length, "ft", "m")
	}
	return row
}

// degrees is an air temperature in whole degrees: nobody knows the tenth of a record. It is empty where it is not known.
func degrees(c *float64) Both {
	if c == nil {
		return Both{}
	}
	write := func(unit string) string {
		x, err := quantity.Number(quantity.Quantity{Base: *c, Kind: quantity.Temperature}, unit)
		if err != nil {
			panic("web: internal error: " + err.Error())
		}
		return quantity.Digits(x, 1, 0) + " °" + unit
	}
	return Both{US: write("F"), Metric: write("C")}
}

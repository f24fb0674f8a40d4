package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"

	"github.com/danielgtaylor/huma/v2"
)

// CuresView is what can be done about a finding in the file.
type CuresView struct {
	Cures  []CureView `json:"cures" nullable:"false"`
	Accept bool       `json:"accept"` // it may be accepted with a written reason
	On     string     `json:"on"`     // the day on which that would be
}

// CureView is one way out and what the rig is judged after it.
type CureView struct {
	Words    string      `json:"words"`
	Edits    []rig.Edit  `json:"edits" nullable:"false"`
	Lines    []FileEdit  `json:"lines" nullable:"false"` // the same in the lines of the file
	Sentence string      `json:"sentence"`               // how the whole rig then stands
	Effects  []CureShift `json:"effects" nullable:"false"`
}

// FileEdit is lines of the rig file before and after.
type FileEdit struct {
	Line int      `json:"line"` // number of the first
	Old  []string `json:"old" nullable:"false"`
	New  []string `json:"new" nullable:"false"`
}

// CureShift is what a cure does to one thing that is checked: the finding itself first, then whatever else gets another verdict.
type CureShift struct {
	Rule   string   `json:"rule"`
	Part   string   `json:"part"`
	Title  string   `json:"title"`
	Before string   `json:"before" doc:"verdict, or empty where there was nothing to judge"`
	After  string   `json:"after" doc:"verdict, or empty where there is nothing to judge any more"`
	Now    SafeCase `json:"now"`
}

// CuresInput names a finding.
type CuresInput struct {
	Rule  string `query:"rule" required:"true" maxLength:"8" doc:"number of the rule"`
	Place string `query:"place" required:"true" maxLength:"400" doc:"path in the document"`
	Title string `query:"title" maxLength:"400" doc:"where a rule says several things of one place: which"`
}

type curesOutput struct{ Body CuresView }

func (s *Server) curesOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "cures", Method: http.MethodGet, Path: "/api/safe/cures", Summary: "What would cure it?",
		Description: "Edits of the rig file after which the finding is gone, each judged anew over the whole rig.", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *CuresInput) (*curesOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("cures", err)
		}
		v := CuresView{Cures: []CureView{}, On: s.options.Now().Format(time.DateOnly)}
		if len(r.faults) > 0 {
			return &curesOutput{v}, nil
		}
		c, report, err := judged(r)
		if err != nil {
			return nil, s.fail("cures", refused{err})
		}
		at := slices.IndexFunc(report.Outcomes, func(o check.Outcome) bool {
			return o.Rule == in.Rule && o.Place == in.Place && (in.Title == "" || o.Title == in.Title)
		})
		if at < 0 {
			return nil, s.fail("cures", refused{fmt.Errorf("nothing is found by rule %q at %q any more", in.Rule, in.Place)})
		}
		o := &report.Outcomes[at]
		for _, cure := range check.Cures(c, *o, rules.All()) {
			if view, ok := tried(&r, &report, o, cure); ok {
				v.Cures = append(v.Cures, view)
			}
		}
		v.Accept = (o.Verdict == check.Fail || o.Verdict == check.Warn) && o.Accepted == "" // a STOP stands, and a question is answered
		return &curesOutput{v}, nil
	})
}

// tried makes the edits of a cure and judges the rig that comes of it; false where they cannot be made in the owner's text.
func tried(r *reading, before *check.Report, o *check.Outcome, cure check.Cure) (CureView, bool) {
	view := CureView{Words: cure.Words, Edits: cure.Edits, Lines: []FileEdit{}, Effects: []CureShift{}}
	text := r.text.Bytes
	for _, e := range cure.Edits {
		next, err := rig.Apply(text, []rig.Edit{e})
		if err != nil {
			return CureView{}, false
		}
		view.Lines = joinLines(view.Lines, changedLines(text, next))
		text = next
	}
	said, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		return CureView{}, false
	}
	_, after, err := judged(reading{said: said})
	if err != nil {
		return CureView{}, false
	}
	view.Sentence, view.Effects = after.Sentence, shifts(before, &after, o)
	return view, true
}

// shifts compares two reports: what becomes of a finding, where one is meant, then everything else whose verdict is another, the worst first.
func shifts(before, after *check.Report, cured *check.Outcome) []CureShift {
	type key struct{ rule, place string }
	worst := func(r *check.Report) map[key]*check.Outcome {
		all := map[key]*check.Outcome{}
		for i := range r.Outcomes { // the worst stands first
			o := &r.Outcomes[i]
			if k := (key{o.Rule, o.Place}); all[k] == nil {
				all[k] = o
			}
		}
		return all
	}
	was, is := worst(before), worst(after)
	shift := func(k key) CureShift {
		v := CureShift{Rule: k.rule}
		if o := was[k]; o != nil {
			v.Before, v.Part, v.Title = o.Verdict.String(), plainWords(o.Part), o.Title
		}
		if o := is[k]; o != nil {
			v.After, v.Part, v.Title, v.Now = o.Verdict.String(), plainWords(o.Part), o.Title, safeCase(o)
		}
		v.Now.Working.Terms = []TermRow{} // the arithmetic is told where the finding stands
		return v
	}
	list := []CureShift{}
	if cured != nil {
		list = append(list, shift(key{cured.Rule, cured.Place}))
	}
	for _, r := range []*check.Report{after, before} {
		for i := range r.Outcomes {
			k := key{r.Outcomes[i].Rule, r.Outcomes[i].Place}
			v := shift(k)
			if appears := v.Before == "" || v.After == ""; v.Before == v.After || appears && (v.Before == "PASS" || v.After == "PASS") {
				continue // one more thing to look at, or one less, changes nothing for the owner
			}
			if !slices.ContainsFunc(list, func(s CureShift) bool { return s.Rule == v.Rule && s.Part == v.Part }) {
				list = append(list, v)
			}
		}
	}
	return list
}

// changedLines tells two texts apart by their lines.
func changedLines(before, after []byte) FileEdit {
	was, is := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	head := 0
	for head < min(len(was), len(is)) && was[head] == is[head] {
		head++
	}
	tail := 0
	for tail < min(len(was), len(is))-head && was[len(was)-1-tail] == is[len(is)-1-tail] {
		tail++
	}
	return FileEdit{Line: head + 1, Old: bare(was[head : len(was)-tail]), New: bare(is[head : len(is)-tail])}
}

// joinLines adds a change of lines to those before it: a line that is changed a second time is told once.
func joinLines(list []FileEdit, next FileEdit) []FileEdit {
	if n := len(list); n > 0 && list[n-1].Line == next.Line && slices.Equal(list[n-1].New, next.Old) {
		list[n-1].New = next.New
		return list
	}
	return append(list, next)
}

// bare takes the ends off lines that came from another system.
func bare(lines []string) []string {
	list := []string{}
	for _, l := range lines {
		list = append(list, strings.TrimSuffix(l, "\r"))
	}
	return list
}

package check

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"campwright/rig"
)

// Explanation is what can be told of a word: a rule, a term or a common rule of thumb.
type Explanation struct {
	Kind  string    `json:"kind" enum:"rule,term,rule of thumb"`
	Name  string    `json:"name"`
	Parts []Passage `json:"parts" nullable:"false"`
	Here  []string  `json:"here" nullable:"false"` // what it comes to for a rig, where one is asked about
}

// Passage is one part of an explanation.
type Passage struct {
	Head string `json:"head"` // empty for the meaning of a term
	Text string `json:"text"`
}

// Explain finds what a word or words mean: the id or title of a rule, a term, a common rule of thumb. Where nothing goes by that name the
// explanation is empty and near holds the names most like it.
func Explain(word string, rules []Rule) (x Explanation, near []string) {
	w := folded(word)
	for i := range rules {
		if r := &rules[i]; w == folded(r.ID) || w == folded(r.Title) {
			return explainRule(r), nil
		}
	}
	for i := range thumbs {
		if t := &thumbs[i]; t.is(w) {
			return t.explain(), nil
		}
	}
	for i := range terms {
		t := &terms[i]
		if w == folded(t.Name) || slices.ContainsFunc(t.Also, func(a string) bool { return folded(a) == w }) {
			return explainTerm(t), nil
		}
	}
	for _, l := range later {
		if w == folded(l.ID) {
			return Explanation{Kind: "rule", Name: l.ID + ": " + l.Title, Parts: []Passage{{"Not judged yet", l.Why}}, Here: []string{}}, nil
		}
	}
	if x, ok := explainTerminal(word); ok {
		return x, nil
	}
	return Explanation{Parts: []Passage{}, Here: []string{}}, nearest(w, rules)
}

func explainRule(r *Rule) Explanation {
	x := Explanation{Kind: "rule", Name: r.ID + ": " + r.Title, Here: []string{}, Parts: []Passage{
		{"What it looks at", r.What}, {"Why", r.Why}, {"Where not", r.Except}, {"Inequality", r.Formula},
		{"Worst verdict", r.Worst.String() + ": " + r.Worst.Meaning()}, {"Source", r.Source}, {"How sure", r.Sure},
	}}
	for _, q := range r.Questions {
		x.Parts = append(x.Parts, Passage{"It asks", q})
	}
	if c, ok := CautionFor(r.Caution); ok {
		x.Parts = append(x.Parts, Passage{"Caution", c.Text})
	}
	return x
}

// explainTerminal explains the word terminal, and the name of one: "block 1 +", "controller x pv".
func explainTerminal(text string) (Explanation, bool) {
	if folded(text) == "terminal" {
		words, docs := rig.PartWords()
		x := Explanation{Kind: "term", Name: "terminal", Here: []string{}, Parts: []Passage{{"", "A place where a run of the wiring may end: a word for the part, its name where there are several, its side where it has several, " +
			"and + or − for one conductor. Without a sign a run is a pair, plus and minus alike. Examples: block 1 +, controller closet pv, bus bar main, dc-dc out."}}}
		for i, w := range words {
			x.Parts = append(x.Parts, Passage{w, docs[i]})
		}
		return x, true
	}
	word, doc, sides, ok := rig.TerminalWord(text)
	if !ok {
		return Explanation{}, false
	}
	x := Explanation{Kind: "term", Name: "terminal " + strings.TrimSpace(text), Here: []string{}, Parts: []Passage{{"", upper(doc)}}}
	if len(sides) > 0 {
		x.Parts = append(x.Parts, Passage{"Sides of a " + word, strings.Join(sides, " or ")})
	}
	x.Parts = append(x.Parts, Passage{"Sign", "+ or − behind it is one conductor; none is both"})
	return x, true
}

func explainTerm(t *Entry) Explanation {
	x := Explanation{Kind: "term", Name: t.Name, Parts: []Passage{{"", upper(t.Text)}}, Here: []string{}}
	if len(t.Also) > 0 {
		x.Parts = append(x.Parts, Passage{"Also said", strings.Join(t.Also, ", ")})
	}
	return x
}

// upper begins a text with a capital and ends it with a full stop.
func upper(s string) string {
	r := []rune(s)
	r[0] = unicode.ToUpper(r[0])
	if s = string(r); !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// Here tells what an explanation comes to for a rig: what a rule says of it, or where, when and at what bank voltage a rule of thumb holds.
func Here(x Explanation, c Case, rules []Rule) []string {
	switch x.Kind {
	case "rule":
		id, _, _ := strings.Cut(x.Name, ":")
		for i := range rules {
			if rules[i].ID != id {
				continue
			}
			lines := []string{}
			for _, o := range run(c, &rules[i]) {
				line := fmt.Sprintf("%s at %s: %s", o.Verdict, o.Part, o.Title)
				if text := o.Working.Line(); text != "" {
					line += ". " + text
				}
				lines = append(lines, strings.TrimSpace(line+". "+o.Detail))
			}
			return lines
		}
	case "term":
		if strings.HasPrefix(x.Name, "terminal") {
			return []string{"Its terminals: " + strings.Join(c.Said.Terminals(), ", ") + "."}
		}
	case "rule of thumb":
		for i := range thumbs {
			if thumbs[i].Name == x.Name && thumbs[i].here != nil {
				return thumbs[i].here(c)
			}
		}
	}
	return []string{}
}

// folded writes a word as it is compared: small letters and digits, one space between words, no plural s at the end of a long word.
func folded(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return ' '
	}, s)
	words := strings.Fields(s)
	for i, w := range words {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			words[i] = strings.TrimSuffix(w, "s")
		}
	}
	return strings.Join(words, " ")
}

// mostNear is how many near names are offered.
const mostNear = 3

// nearest returns the names most like a folded word: those that hold all of its words first, then those with the fewest letters to change.
func nearest(w string, rules []Rule) []string {
	type known struct {
		name string
		off  int
	}
	var all []known
	add := func(show, name string) {
		n := folded(name)
		off := distance(w, n)
		switch {
		case w != "" && (strings.Contains(n, w) || strings.Contains(w, n) && len(n) > 2):
			off = min(off, 1)
		case off > max(1, len([]rune(w))/3):
			return
		}
		all = append(all, known{show, off})
	}
	for i := range rules {
		add(rules[i].ID, rules[i].ID)
		add(rules[i].Title, rules[i].Title)
	}
	for i := range thumbs {
		add(thumbs[i].Name, thumbs[i].Name)
		for _, a := range thumbs[i].Also {
			add(thumbs[i].Name, a)
		}
	}
	for i := range terms {
		add(terms[i].Name, terms[i].Name)
		for _, a := range terms[i].Also {
			add(terms[i].Name, a)
		}
	}
	slices.SortStableFunc(all, func(a, b known) int { return a.off - b.off })
	var names []string
	for _, k := range all {
		if len(names) < mostNear && !slices.Contains(names, k.name) {
			names = append(names, k.name)
		}
	}
	return names
}

// distance counts the letters to add, drop or change to get from a to b. Textbook edit distance, row by row.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := diagonal
			if x[i-1] != y[j-1] {
				change++
			}
			diagonal = row[j]
			row[j] = min(row[j]+1, row[j-1]+1, change)
		}
	}
	return row[len(y)]
}

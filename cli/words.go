package cli

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"campwright/catalogue"
	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// storeWord is a word about what is carried besides charge, which no rule judges. The meanings are common use among campers.
type storeWord struct {
	name string
	also []string
	text string
	key  string // of the rig file
}

var storeWords = []storeWord{
	{"grey water tank", []string{"grey", "gray", "grey water", "gray water", "grey tank", "gray tank", "gray water tank", "sullage"},
		"Holds what runs off from sinks and shower. Four fifths of the fresh water end there, so a grey tank smaller than that is full before the fresh water is gone, and often ends a stay before the battery does. Dump it where that is allowed, or wash up with less.", "stores/grey"},
	{"black water tank", []string{"black", "black tank", "black water", "sewage tank"}, "Holds what the toilet flushes. Dump it at a station, before the grey tank, whose water rinses the hose.", "stores/black"},
	{"fresh water tank", []string{"fresh water", "fresh", "fresh tank", "water", "water tank", "potable water"}, "Holds drinking and washing water. Careful campers use 2 to 8 gallons a day each.", "stores/fresh water"},
	{"propane", []string{"LP", "LPG", "LP gas", "gas bottle", "cylinder", "propane cylinder", "propane tank"},
		"Fuel of furnace, refrigerator, water heater and stove. Cylinders go by the weight that they hold when full, which is 80 % of their room.", "stores/propane"},
}

// explainWord finds what check does not know: words about the stores, keys of the rig file, appliances of the catalogue.
func explainWord(word string) (check.Explanation, bool) {
	w := foldWord(word)
	for _, s := range storeWords {
		if !slices.ContainsFunc(append([]string{s.name}, s.also...), func(n string) bool { return foldWord(n) == w }) {
			continue
		}
		parts := []check.Passage{{Text: s.text}, {Head: "Also said", Text: strings.Join(s.also, ", ")}, {Head: "In the rig file", Text: s.key}}
		return check.Explanation{Kind: "term", Name: s.name, Parts: parts, Here: []string{}}, true
	}
	var keys []check.Passage
	for _, f := range rig.Fields() {
		if foldWord(f.Key) == w && f.Doc != "" {
			text := f.Doc
			if len(f.Words) > 0 {
				text += ": " + figure.Or(f.Words)
			}
			if len(f.Limits) > 0 {
				text += "; " + strings.Join(f.Limits, " or ")
			}
			keys = append(keys, check.Passage{Head: f.Path, Text: text})
		}
	}
	if len(keys) > 0 {
		return check.Explanation{Kind: "key of the rig file", Name: word, Parts: keys, Here: []string{}}, true
	}
	if a, ok := catalogue.Find(word); ok {
		return explainAppliance(a), true
	}
	return check.Explanation{}, false
}

// explainAppliance tells what an appliance usually takes.
func explainAppliance(a catalogue.Appliance) check.Explanation {
	x := check.Explanation{Kind: "appliance", Name: a.Name, Parts: []check.Passage{}, Here: []string{}}
	add := func(head string, t catalogue.Typical) {
		if t.Kind == quantity.None {
			return
		}
		low, high := quantity.Quantity{Base: t.Low, Kind: t.Kind}, quantity.Quantity{Base: t.High, Kind: t.Kind}
		text := quantity.Format(quantity.Quantity{Base: t.Value, Kind: t.Kind}, quantity.US)
		if t.High > t.Low {
			text += " (" + quantity.Span(low, high, quantity.US) + ")"
		}
		if t.Source != "" {
			text += "; " + t.Source
		}
		x.Parts = append(x.Parts, check.Passage{Head: head, Text: text})
	}
	if a.Why != "" {
		x.Parts = append(x.Parts, check.Passage{Text: a.Why})
	}
	x.Parts = append(x.Parts, check.Passage{Head: "Runs on", Text: figure.Or(a.Runs)})
	add("Usually takes", a.Power.Rate)
	add("Usually burns", a.Propane.Rate)
	add("In a day", a.PerDay)
	if len(a.Called) > 0 {
		x.Parts = append(x.Parts, check.Passage{Head: "Also said", Text: strings.Join(a.Called, ", ")})
	}
	return x
}

// nearWords adds the words that explainWord knows to those that are near already: names that hold the word, or come within a letter or two.
func nearWords(word string, near []string) []string {
	w := foldWord(word)
	type known struct {
		name string
		off  int
	}
	var list []known
	add := func(show, name string) {
		n := foldWord(name)
		switch off := lettersApart(w, n); {
		case len(w) > 2 && slices.Contains(strings.Fields(n), w):
			list = append(list, known{show, 0})
		case off <= max(1, len(w)/4):
			list = append(list, known{show, off})
		}
	}
	for _, s := range storeWords {
		for _, n := range append([]string{s.name}, s.also...) {
			add(s.name, n)
		}
	}
	for _, t := range check.Terms() {
		for _, n := range append([]string{t.Name}, t.Also...) {
			add(t.Name, n)
		}
	}
	for _, f := range rig.Fields() {
		add(f.Key, f.Key)
	}
	for _, a := range catalogue.Appliances() {
		for _, n := range append([]string{a.Name}, a.Called...) {
			add(a.Name, n)
		}
	}
	slices.SortStableFunc(list, func(a, b known) int { return cmp.Compare(a.off, b.off) })
	out := near[:len(near):len(near)]
	for _, k := range list {
		if len(out) < 5 && !slices.Contains(out, k.name) {
			out = append(out, k.name)
		}
	}
	return out
}

// foldWord writes a word as it is compared.
func foldWord(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ")
}

// lettersApart counts the letters to add, drop, change or swap with their neighbour to get from a to b.
func lettersApart(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := rows[i-1][j-1]
			if x[i-1] != y[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}

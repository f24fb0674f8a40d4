package rig

import (
	"strconv"
	"strings"
)

// Terminal is one place where a run may end.
type Terminal struct {
	Part string // what it belongs to, one of the words of PartWords
	Name string // the part's own name, or the number of a block; empty for a part of which there is one
	Port string // which side of the part: "pv" or "bank" of a controller, "ac" of an inverter or charger, "in" or "out" of a dc-dc unit or relay
	Sign string // "+" or "-" for one conductor, empty for both
}

// port is a side of a part that a terminal can name.
type port struct {
	name  string
	usual bool // taken when the text names none
}

// partWord is a word with which a terminal begins.
type partWord struct {
	word  string
	doc   string
	ports []port
	names func(r *Rig) []string // the names that may follow; nil for a part of which there is one
	free  bool                  // any name may follow
	only  string                // the one sign it has; empty for both
	mains bool                  // on the AC side, where runs have no sign
}

var partWords = []partWord{
	{word: "bank", doc: "posts of the whole bank, where its blocks are already joined"},
	{word: "block", doc: "posts of one block, by number from 1; of a string of blocks in series, its ends", names: blockNames},
	{word: "bus bar", doc: "a bus bar of the wiring", names: func(r *Rig) []string { return namesOf(r.Wiring.bars(), func(b Bar) string { return b.Name }) }},
	{word: "fuse block", doc: "the feed of a fuse block", names: func(r *Rig) []string {
		return namesOf(r.Wiring.blocks(), func(b FuseBlock) string { return b.Name })
	}},
	{word: "combiner", doc: "the output of a combiner", names: func(r *Rig) []string {
		return namesOf(r.Wiring.combiners(), func(b Combiner) string { return b.Name })
	}},
	{word: "array", doc: "the ends of an array's strings", names: func(r *Rig) []string { return namesOf(r.Arrays, func(a Array) string { return a.Name }) }},
	{word: "controller", doc: "a charge controller, pv or bank side", ports: []port{{"pv", false}, {"bank", false}}, names: func(r *Rig) []string {
		return namesOf(r.Controllers, func(c Controller) string { return c.Name })
	}},
	{word: "inverter", doc: "an inverter, its DC side unless ac is added", ports: []port{{"dc", true}, {"ac", false}}, names: func(r *Rig) []string {
		return namesOf(r.Inverters, func(v Inverter) string { return v.Name })
	}},
	{word: "charger", doc: "a shore charger, its DC side unless ac is added", ports: []port{{"dc", true}, {"ac", false}}, names: chargerNames},
	{word: "dc-dc", doc: "the dc-dc unit, in or out", ports: []port{{"in", false}, {"out", false}}},
	{word: "relay", doc: "the charge relay, in or out", ports: []port{{"in", false}, {"out", false}}},
	{word: "vehicle", doc: "posts of the vehicle's battery"},
	{word: "chassis", doc: "the frame, as a return", only: "-"},
	{word: "appliance", doc: "an appliance fed by a run of its own", names: func(r *Rig) []string {
		return namesOf(r.Appliances, func(a Appliance) string { return a.Name })
	}},
	{word: "sense", doc: "a thin wire that only measures, by any name", free: true},
	{word: "inlet", doc: "the shore inlet", mains: true},
	{word: "transfer", doc: "the transfer switch", mains: true},
	{word: "ac panel", doc: "the breaker panel", mains: true},
	{word: "generator", doc: "a generator", mains: true, names: func(r *Rig) []string { return namesOf(r.Generators, func(g Generator) string { return g.Name }) }},
}

func namesOf[T any](list []T, name func(T) string) []string {
	names := make([]string, 0, len(list))
	for _, x := range list {
		names = append(names, name(x))
	}
	return names
}

func blockNames(r *Rig) []string {
	if r.Bank == nil {
		return nil
	}
	n := 1
	if v := r.Bank.Blocks; v.Known() && v.Quantity.Base >= 1 {
		n = int(v.Quantity.Base)
	}
	names := make([]string, n)
	for i := range names {
		names[i] = strconv.Itoa(i + 1)
	}
	return names
}

func chargerNames(r *Rig) []string {
	if r.Shore == nil {
		return nil
	}
	return namesOf(r.Shore.Chargers, func(c Charger) string { return c.Name })
}

func (w *Wiring) bars() []Bar {
	if w == nil {
		return nil
	}
	return w.Bars
}

func (w *Wiring) blocks() []FuseBlock {
	if w == nil {
		return nil
	}
	return w.FuseBlocks
}

func (w *Wiring) combiners() []Combiner {
	if w == nil {
		return nil
	}
	return w.Combiners
}

// PartWords returns the words with which a terminal begins, with what each means, for help.
func PartWords() (words, docs []string) {
	for _, p := range partWords {
		words, docs = append(words, p.word), append(docs, p.doc)
	}
	return words, docs
}

// String writes the terminal as a run does.
func (t Terminal) String() string {
	s := t.Part
	for _, more := range []string{t.Name, t.Port, t.Sign} {
		if more != "" && more != "dc" {
			s += " " + more
		}
	}
	return s
}

// Terminal reads the name of a terminal of a rig. The error says what is not known, and what is.
func (r *Rig) Terminal(text string) (Terminal, error) {
	t, bad := r.terminal(text, true)
	if bad != nil {
		return Terminal{}, bad
	}
	return t, nil
}

// terminal reads a terminal; sided asks for the side of a part that has several.
func (r *Rig) terminal(text string, sided bool) (Terminal, *flaw) {
	body, sign := cutSign(text)
	word, rest := partOf(body)
	if word == nil {
		words, _ := PartWords()
		head, _, _ := strings.Cut(body, " ")
		hint := "a terminal begins with " + oneOf(words)
		if near := nearest(head, words); near != "" {
			hint = "did you mean \"" + near + "\"?"
		}
		return Terminal{}, &flaw{problem: "no such terminal", value: short(text), hint: hint}
	}
	t := Terminal{Part: word.word, Sign: sign}
	if word.mains && sign != "" {
		return Terminal{}, &flaw{problem: "plus or minus on the AC side", value: short(text)}
	}
	if word.only != "" {
		if sign != "" && sign != word.only {
			return Terminal{}, &flaw{problem: "the " + word.word + " is " + word.only + " only", value: short(text)}
		}
		t.Sign = word.only
	}
	if bad := t.named(word, rest, r); bad != nil {
		bad.value = short(text)
		return Terminal{}, bad
	}
	if t.Port == "" && sided && len(word.ports) > 0 {
		var names []string
		for _, p := range word.ports {
			names = append(names, p.name)
			if p.usual {
				t.Port = p.name
			}
		}
		if t.Port == "" {
			return Terminal{}, &flaw{problem: "which side of it?", value: short(text), hint: "add " + oneOf(names)}
		}
	}
	if t.Port == "ac" && sign != "" {
		return Terminal{}, &flaw{problem: "plus or minus on the AC side", value: short(text)}
	}
	return t, nil
}

// named reads what follows the word: a name, a side, both or neither.
func (t *Terminal) named(word *partWord, rest string, r *Rig) *flaw {
	known := []string{""}
	if word.names != nil {
		known = word.names(r)
	}
	if word.free {
		if rest == "" {
			return &flaw{problem: "a " + word.word + " wire needs a name"}
		}
		known = []string{rest}
	}
	for _, name := range known {
		if rest == name {
			t.Name = name
			return nil
		}
	}
	for _, p := range word.ports {
		for _, name := range known {
			if rest == p.name && name == "" || name != "" && rest == name+" "+p.name {
				t.Name, t.Port = name, p.name
				return nil
			}
		}
	}
	if word.names == nil {
		return &flaw{problem: "nothing known follows \"" + word.word + "\""}
	}
	hint := "there is none of that kind"
	if near := nearest(rest, known); near != "" {
		hint = "did you mean \"" + word.word + " " + near + "\"?"
	} else if len(known) > 0 {
		hint = "known: " + oneOf(known)
	}
	return &flaw{problem: "no " + word.word + " of that name", hint: hint}
}

// cutSign takes the sign off the end of a terminal.
func cutSign(text string) (body, sign string) {
	body = strings.TrimSpace(text)
	for _, s := range []struct{ written, sign string }{{"+", "+"}, {"-", "-"}, {"\u2212", "-"}} {
		if rest, ok := strings.CutSuffix(body, s.written); ok && strings.HasSuffix(rest, " ") {
			return strings.TrimSpace(rest), s.sign
		}
	}
	return body, ""
}

// partOf finds the word with which a terminal begins, the longest first.
func partOf(body string) (*partWord, string) {
	var best *partWord
	for i := range partWords {
		w := &partWords[i]
		if (body == w.word || strings.HasPrefix(body, w.word+" ")) && (best == nil || len(w.word) > len(best.word)) {
			best = w
		}
	}
	if best == nil {
		return nil, ""
	}
	return best, strings.TrimSpace(strings.TrimPrefix(body, best.word))
}

// Mains tells whether the terminal is on the AC side.
func (t Terminal) Mains() bool {
	if t.Port == "ac" {
		return true
	}
	for i := range partWords {
		if partWords[i].word == t.Part {
			return partWords[i].mains
		}
	}
	return false
}

// SamePart tells whether a name, with or without side and sign, belongs to the part of a terminal. A block is part of the bank.
func (r *Rig) SamePart(name string, t Terminal) bool {
	o, bad := r.terminal(name, false)
	if bad != nil {
		return false
	}
	bank := func(part string) bool { return part == "bank" || part == "block" }
	return o.Part == t.Part && o.Name == t.Name || bank(o.Part) && bank(t.Part) && (o.Part == "bank" || t.Part == "bank")
}

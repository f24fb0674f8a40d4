package catalogue

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"campwright/quantity"
)

// nameIndex finds appliances by what people call them.
type nameIndex struct {
	byName map[string]int // folded name to the appliance's place
	names  []string       // all folded names, the longest first
}

var names = sync.OnceValue(func() nameIndex {
	x := nameIndex{byName: map[string]int{}}
	for i, a := range appliances() {
		for _, name := range append([]string{a.Name}, a.Called...) {
			f := foldName(name)
			if _, taken := x.byName[f]; !taken {
				x.byName[f] = i
				x.names = append(x.names, f)
			}
		}
	}
	slices.SortFunc(x.names, func(a, b string) int { return cmp.Or(cmp.Compare(len(b), len(a)), strings.Compare(a, b)) })
	return x
})

// foldName writes a name as it is compared: small letters and digits, one space between words, each word in the singular.
func foldName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '/' || r > 127)
	})
	for i, w := range words {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			words[i] = strings.TrimSuffix(w, "s")
		}
	}
	return strings.Join(words, " ")
}

// Find returns the generic appliance that people mean by a name: by its own name or one of those it goes by, singular or plural, and
// otherwise by the longest of them that stands in the name as whole words: "our old microwave oven". False where none does.
func Find(name string) (Appliance, bool) {
	x, f := names(), foldName(name)
	if i, ok := x.byName[f]; ok {
		return appliances()[i], true
	}
	padded := " " + f + " "
	for _, known := range x.names {
		if strings.Contains(padded, " "+known+" ") {
			return appliances()[x.byName[known]], true
		}
	}
	return Appliance{}, false
}

// mostSuggested is how many names Suggest returns at most.
const mostSuggested = 5

// Suggest returns names of generic appliances that a name may have been meant to be, the likeliest first: those a slip of the pen away,
// then those that share a word with it. Empty where nothing comes close.
func Suggest(name string) []string {
	x, f := names(), foldName(name)
	if f == "" || len(f) > 60 {
		return nil
	}
	type near struct {
		entry, off int
		known      string
	}
	var list []near
	for _, known := range x.names {
		off := slips(f, known)
		if off > max(1, len(f)/3) {
			off = 100
			for _, w := range strings.Fields(f) {
				if len(w) >= 3 && slices.Contains(strings.Fields(known), w) || len(f) >= 3 && strings.HasPrefix(known, f) {
					off = 50 + max(0, len(known)-len(f))/10
				}
			}
		}
		if off < 100 {
			list = append(list, near{x.byName[known], off, known})
		}
	}
	slices.SortFunc(list, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(a.entry, b.entry), strings.Compare(a.known, b.known))
	})
	var out []string
	for _, n := range list {
		if name := appliances()[n.entry].Name; !slices.Contains(out, name) && len(out) < mostSuggested {
			out = append(out, name)
		}
	}
	return out
}

// slips counts the letters to add, drop, change or swap with their neighbour to get from a to b.
func slips(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// ForUnknown returns the span to take for what an appliance draws on a circuit ("dc", "ac" or "propane") while it runs, when its owner
// does not know it, and whether the name told which appliance it is. A name that lists several things ("radio memory and control
// boards") is their sum, when each is known. Otherwise it is the wide span for a thing of which nothing is known.
func ForUnknown(name, circuit string) (Typical, bool) {
	if t, ok := drawnBy(name, circuit); ok {
		return t, true
	}
	listed := strings.FieldsFunc(listing.Replace(strings.ToLower(name)), func(r rune) bool { return r == ',' })
	if len(listed) < 2 {
		return unknownOn(circuit), false
	}
	sum := Typical{Kind: quantity.Power, Why: "by their names, the sum of what each usually takes", Source: practice}
	for _, part := range listed {
		t, ok := drawnBy(part, circuit)
		if !ok {
			return unknownOn(circuit), false
		}
		sum.Value, sum.Low, sum.High = sum.Value+t.Value, sum.Low+t.Low, sum.High+t.High
	}
	return sum, true
}

// listing makes commas of all that lists things.
var listing = strings.NewReplacer(" and ", ",", " with ", ",", " plus ", ",", "&", ",", "+", ",", ";", ",")

// drawnBy returns what the one appliance of a name takes on a circuit. A name that says "and" and is not itself the name of something is
// not one appliance.
func drawnBy(name, circuit string) (Typical, bool) {
	a, ok := Find(name)
	if _, whole := names().byName[foldName(name)]; !ok || !whole && strings.Contains(listing.Replace(name), ",") {
		return Typical{}, false
	}
	d, ok := a.Drawn(circuit)
	if !ok {
		return Typical{}, false
	}
	t := d.Rate
	t.Why = "by its name, a usual " + a.Name
	if a.Count.Kind != quantity.None {
		// The entry is for one of several: "lights" are a rig's lights.
		t.Value, t.High = t.Value*a.Count.Value, t.High*a.Count.Value
		t.Why = "by its name, usual " + a.Name
	}
	return t, true
}

func unknownOn(circuit string) Typical {
	switch circuit {
	case "ac":
		return UnknownAC
	case "propane":
		return UnknownBurn
	}
	return UnknownDC
}

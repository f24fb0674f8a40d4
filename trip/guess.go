package trip

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"campwright/quantity"
	"campwright/rig"
	"campwright/system"

	"gonum.org/v1/gonum/stat/distuv"
)

// sitePath is the path under which the shade of a site is drawn as a guess.
func sitePath(i int) string { return fmt.Sprintf("trip/%d/site", i+1) }

// shares draws a Latin hypercube: for each path a permutation of the members' strata with a place inside each, so that every guess is
// covered evenly however few the members. The stream of a path depends on the seed and the path alone: a new guess does not move the
// others. The unit at the end of the charge line keeps its stream however many links stand before it.
//
// Source: [MCKAY-1979].
func shares(paths []string, members int, seed uint64) map[string][]float64 {
	out := make(map[string][]float64, len(paths))
	for _, path := range paths {
		h := fnv.New64a()
		h.Write([]byte(unnumbered(path)))
		r := rand.New(rand.NewPCG(seed, h.Sum64()))
		col := make([]float64, members)
		for m, stratum := range r.Perm(members) {
			col[m] = (float64(stratum) + r.Float64()) / float64(members)
		}
		out[path] = col
	}
	return out
}

// unnumbered is the path of a value without the place in the charge line, for parts of which the line has one.
func unnumbered(path string) string {
	rest, ok := strings.CutPrefix(path, "charge line/")
	if _, part, found := strings.Cut(rest, "/"); ok && found && (strings.HasPrefix(part, "dc-dc/") || strings.HasPrefix(part, "relay/")) {
		return "charge line/" + part
	}
	return path
}

// widest ranks the guesses by the share of an answer's variance that they explain alone, widest first, from the same members that gave the
// answer: sort the members by a guess, cut them into groups, and hold the variance of the groups' means against the whole. What chance
// alone would explain in so few members is taken off, and a guess is left out that chance alone might have named.
//
// Source: given-data estimate of the first-order index, [PLISCHKE-2013]; the correction is that of a one-way analysis of variance.
func widest(guesses []rig.Value, draws map[string][]float64, target []float64) []Guess {
	total := variance(target)
	least := math.Max(leastShare, chanceShare(len(target), len(guesses)))
	list := []Guess{}
	for _, g := range guesses {
		col := draws[g.At.Path]
		if len(col) != len(target) || total <= 0 {
			continue
		}
		share := explained(col, target) / total
		if share < least {
			continue
		}
		list = append(list, Guess{Path: g.At.Path, Name: nameOf(g.At.Path), Value: figureOf(g), Share: share, Reading: reading(g)})
	}
	slices.SortStableFunc(list, func(a, b Guess) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	return list
}

// leastShare is the smallest share of an answer's spread that is worth naming, and falseAlarm how often a list may name a guess that does
// nothing.
const (
	leastShare = 0.02
	falseAlarm = 0.05
)

// chanceShare returns the share that the luckiest of so many guesses that do nothing stays under in all but falseAlarm of answers. The
// variance between groups, over the whole and times the members, is then chi-squared with one degree of freedom less than groups.
func chanceShare(members, guesses int) float64 {
	if members < 3 || guesses < 1 {
		return 1
	}
	free := float64(groupsOf(members) - 1)
	return (distuv.ChiSquared{K: free}.Quantile(1-falseAlarm/float64(guesses)) - free) / float64(members)
}

// groupsOf is how many groups members are cut into.
func groupsOf(members int) int { return max(2, min(10, members/10)) }

// explained returns the variance of the target that a guess explains alone.
func explained(col, target []float64) float64 {
	n := len(col)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case col[a] < col[b]:
			return -1
		case col[a] > col[b]:
			return 1
		}
		return 0
	})
	groups := groupsOf(n)
	mean := meanOf(target)
	between, within := 0.0, 0.0
	for g := range groups {
		part := order[g*n/groups : (g+1)*n/groups]
		m := 0.0
		for _, i := range part {
			m += target[i]
		}
		m /= float64(len(part))
		between += float64(len(part)) * (m - mean) * (m - mean)
		for _, i := range part {
			within += (target[i] - m) * (target[i] - m)
		}
	}
	if n <= groups {
		return 0
	}
	return math.Max(0, (between-float64(groups-1)*within/float64(n-groups))/float64(n))
}

func meanOf(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

func variance(v []float64) float64 {
	m, sum := meanOf(v), 0.0
	for _, x := range v {
		sum += (x - m) * (x - m)
	}
	return sum / float64(len(v))
}

// reading says what would settle a guess.
func reading(v rig.Value) string {
	path := v.At.Path
	switch {
	case hasTail(path, "/site"):
		return "after a clear day at the camp, compare the array's best watts with its rating"
	case hasTail(path, "/soiling"):
		return "wash the modules, or compare amps before and after wiping one"
	case hasTail(path, "/mismatch"):
		return "read the controller's watts at a clear noon against the expected reading"
	case hasTail(path, "/heat loss"):
		return "note the furnace's running hours over one cold night"
	case hasTail(path, "block/capacity"), hasTail(path, "bank/health"):
		return "a capacity test: from full, a constant load, to a fixed stop, counting amp-hours"
	case hasTail(path, "/idle"):
		return "a clamp meter on the inverter's lead with nothing plugged in"
	case hasTail(path, "/duty"):
		return "count its running minutes over an hour, warm and cold"
	case hasTail(path, "stores/water per person"):
		return "note the tank's level on two days"
	}
	switch v.Quantity.Kind {
	case quantity.Power, quantity.Current:
		return "a clamp meter or a plug-in watt meter while it runs"
	case quantity.Length:
		return "a tape measure along the cable's way"
	case quantity.Temperature, quantity.TempDifference:
		return "a thermometer left there overnight"
	case quantity.Duration:
		return "a note of its hours over two ordinary days"
	}
	return "a reading, or its data sheet"
}

func hasTail(path, tail string) bool {
	return len(path) >= len(tail) && path[len(path)-len(tail):] == tail
}

// guessesOf returns the document's guesses and those of the sites.
func guessesOf(doc *rig.Rig, sites []Site) []rig.Value {
	list := system.Guesses(doc)
	for i, s := range sites {
		if shades(s.Sky) {
			list = append(list, shadeGuess(sitePath(i)))
		}
	}
	for i := range doc.Arrays {
		if shades(doc.Arrays[i].Site) {
			list = append(list, shadeGuess(arrayPath(doc.Arrays[i].Name)))
		}
	}
	return list
}

package place

import (
	"bytes"
	"cmp"
	"fmt"
	"iter"
	"math/bits"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Limits of an answer and of a question.
const (
	mostFound = 20
	mostNear  = 8
	longest   = 100 // bytes of a name asked for
)

// Find returns the places of a name, the largest first, at most 20. Where there is none it returns the names nearest to it instead, at
// most 8, the likeliest first; both are empty where nothing comes close. The name may be followed by region or country, with a comma or
// without, by code or name, and led by an offset: "Moab UT", "Halifax, CA", "paris, france", "12 mi N of Moab", "near Moab". Case, accents and
// punctuation do not matter. A name of nothing, of more than 100 bytes, or with an offset over 300 km is an error.
func Find(text string) (found, near []Place, err error) {
	text = strings.TrimSpace(text)
	if len(text) > longest {
		return nil, nil, fmt.Errorf("place: name of %d bytes, at most %d", len(text), longest)
	}
	o, rest, err := cutOffset(text)
	if err != nil {
		return nil, nil, err
	}
	if Fold(rest) == "" {
		return nil, nil, fmt.Errorf("place: %q holds no name", text)
	}
	t := readTable()
	for q := range t.readings(rest) {
		list := t.exact(q)
		if len(list) == 0 { // "Salt Lake", "New York"
			list = t.exact(query{q.name + " city", q.in})
		}
		if len(list) > 0 {
			return o.shift(list), nil, nil
		}
	}
	if town := vague.ReplaceAllString(rest, ""); town != rest && Fold(town) != "" {
		rest = town
		for q := range t.readings(rest) {
			if list := t.exact(q); len(list) > 0 {
				return o.shift(list), nil, nil
			}
		}
	}
	for q := range t.readings(rest) {
		for _, p := range o.shift(t.close(q)) {
			if !slices.Contains(near, p) {
				near = append(near, p)
			}
		}
		if len(near) > 0 && len(q.in) > 0 {
			break // a reading with region that comes close beats the rest
		}
	}
	return nil, near[:min(len(near), mostNear)], nil
}

// vague are words before a name that say no more than that the place is thereabouts: the town itself is the best that is known.
var vague = regexp.MustCompile(`(?i)^(?:(?:somewhere|just|right|mostly)\s+)*(?:near(?:by)?|around|about|by|close\s+to|next\s+to|outside(?:\s+of)?|in|at)\s+`)

// query is one reading of what was asked for.
type query struct {
	name string   // fold
	in   []region // any of these; empty for anywhere
}

// readings yields what a text may mean: as a whole, then with its last words as region or country. Where there is a comma what follows
// it is a region or country first.
func (t *table) readings(text string) iter.Seq[query] {
	return func(yield func(query) bool) {
		if i := strings.LastIndexByte(text, ','); i >= 0 {
			name, tail := Fold(text[:i]), Fold(text[i+1:])
			in := t.regions(tail)
			if j := strings.LastIndexByte(text[:i], ','); j >= 0 { // "Moab, UT, USA"
				in = both(t.regions(Fold(text[j+1:i])), in)
				name = Fold(text[:j])
			}
			if name != "" && len(in) > 0 && !yield(query{name, in}) {
				return
			}
		}
		words := strings.Fields(Fold(text))
		if len(words) > 0 && !yield(query{name: strings.Join(words, " ")}) {
			return
		}
		for n := 1; n <= 4 && n < len(words); n++ {
			in := t.regions(strings.Join(words[len(words)-n:], " "))
			if len(in) == 0 && n > 1 { // "Moab UT USA"
				in = both(t.regions(strings.Join(words[len(words)-n:len(words)-1], " ")), t.regions(words[len(words)-1]))
			}
			if len(in) > 0 && !yield(query{strings.Join(words[:len(words)-n], " "), in}) {
				return
			}
		}
	}
}

// both returns the regions of a that lie in a country of b, all of a where b says nothing.
func both(a, b []region) []region {
	if len(b) == 0 {
		return a
	}
	var out []region
	for _, r := range a {
		if slices.ContainsFunc(b, func(c region) bool { return c.country == r.country && (c.code == "" || c.code == r.code) }) {
			out = append(out, r)
		}
	}
	return out
}

// regions returns what the fold of a region or country may mean.
func (t *table) regions(fold string) []region {
	list := append([]region(nil), regionNames[fold]...)
	if code, ok := countryNames[fold]; ok {
		list = append(list, region{country: code})
	}
	if len(fold) == 2 {
		if code := strings.ToUpper(fold); t.countries[code] != "" {
			list = append(list, region{country: code})
		}
	} else if len(fold) > 2 {
		for code, name := range t.countries {
			if Fold(name) == fold {
				list = append(list, region{country: code})
			}
		}
	}
	return list
}

// inside reports whether entry i lies in the query's regions.
func (t *table) inside(q query, i int) bool {
	if len(q.in) == 0 {
		return true
	}
	g := t.group(i)
	code := g.region
	if c, ok := regionCodes[g.country+"."+g.region]; ok {
		code = c
	}
	return slices.ContainsFunc(q.in, func(r region) bool { return r.country == g.country && (r.code == "" || r.code == code) })
}

// exact returns the entries of the query's very name, the largest first.
func (t *table) exact(q query) []Place {
	buffer := make([]byte, 0, 128)
	want := []byte(q.name)
	low, high := 0, t.count
	for low < high {
		middle := (low + high) / 2
		if bytes.Compare(fold(buffer[:0], t.name(middle)), want) < 0 {
			low = middle + 1
		} else {
			high = middle
		}
	}
	var list []Place
	for i := low; i < t.count && len(list) < mostFound; i++ {
		if !bytes.Equal(fold(buffer[:0], t.name(i)), want) {
			break
		}
		if t.inside(q, i) {
			list = append(list, t.place(i))
		}
	}
	return list
}

// close returns the entries whose names come near the query's, the nearest first and among them the largest: one slip of the pen for
// short names, two for those of six letters and more; and names that begin so.
func (t *table) close(q query) []Place {
	slips := 1
	if len(q.name) >= 6 {
		slips = 2
	}
	type candidate struct{ entry, off, size int } // off: 1 for a first word, 2 for each slip and for a beginning
	var list []candidate
	want := []byte(q.name)
	letters := letterSet(want)
	buffer := make([]byte, 0, 128)
	var rows distanceRows
	for i, set := range readLetters() {
		// Of the letters asked for no more may be missing than there are slips; more may be there only behind a beginning.
		if bits.OnesCount32(letters&^set) > slips {
			continue
		}
		begins := len(want) >= 4 && letters&^set == 0
		if !begins && bits.OnesCount32(set&^letters) > slips {
			continue
		}
		name := t.name(i)
		folded := fold(buffer[:0], name)
		off := 2 * (slips + 1)
		if begins && len(folded) > len(want) && bytes.HasPrefix(folded, want) {
			off = 1
			if folded[len(want)] != ' ' {
				off = 2
			}
		} else if n := len(folded) - len(want); n <= slips && -n <= slips {
			off = 2 * rows.distance(want, folded, slips)
		}
		if off <= 2*slips && t.inside(q, i) {
			list = append(list, candidate{i, off, t.size(i)})
		}
	}
	slices.SortFunc(list, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(b.size, a.size), cmp.Compare(a.entry, b.entry))
	})
	var out []Place
	for _, c := range list[:min(len(list), mostNear)] {
		out = append(out, t.place(c.entry))
	}
	return out
}

// letterSet is the set of letters of a fold.
func letterSet(name []byte) uint32 {
	set := uint32(0)
	for _, c := range name {
		if c >= 'a' && c <= 'z' {
			set |= 1 << (c - 'a')
		}
	}
	return set
}

// readLetters makes the sets of letters of all names once; they never change.
var readLetters = sync.OnceValue(func() []uint32 {
	t := readTable()
	sets := make([]uint32, t.count)
	var wait sync.WaitGroup
	const parts = 4
	for part := range parts {
		wait.Go(func() {
			buffer := make([]byte, 0, 128)
			for i := part * t.count / parts; i < (part+1)*t.count/parts; i++ {
				sets[i] = letterSet(fold(buffer, t.name(i)))
			}
		})
	}
	wait.Wait()
	return sets
})

// distanceRows is the memory of distance.
type distanceRows struct {
	rows [3][160]int
}

// distance returns how many letters must be put in, left out, changed or swapped with their neighbour to make one word of the other; limit
// + 1 where it is more than limit. Words of more than 150 bytes are never near.
func (d *distanceRows) distance(a, b []byte, limit int) int {
	if len(a) > 150 || len(b) > 150 {
		return limit + 1
	}
	before, last, this := &d.rows[0], &d.rows[1], &d.rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		this[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			change := last[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			v := min(change, last[j]+1, this[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				v = min(v, before[j-2]+1)
			}
			this[j] = v
			least = min(least, v)
		}
		if least > limit {
			return limit + 1
		}
		before, last, this = last, this, before
	}
	return min(last[len(b)], limit+1)
}

// Nearest returns the place nearest to a point, and the way from the place to the point [km] and its bearing [deg]. Of places much alike
// in distance the larger is not preferred. A point outside -90 to 90 and -180 to 180 is an error.
func Nearest(latitude, longitude float64) (p Place, km, bearing float64, err error) {
	if err := checkPoint(latitude, longitude); err != nil {
		return Place{}, 0, 0, err
	}
	t := readTable()
	best, at := 1e9, 0
	from := Place{Latitude: latitude, Longitude: longitude}
	for i := range t.count {
		lat, lon := t.point(i)
		if d := lat - latitude; d*d > best*best/12000 { // 111 km a degree
			continue
		}
		if d, _ := from.Distance(lat, lon); d < best {
			best, at = d, i
		}
	}
	p = t.place(at)
	km, bearing = p.Distance(latitude, longitude)
	return p, km, bearing, nil
}

// offset is a way from a place.
type offset struct {
	text        string
	km, bearing float64
}

var offsetPattern = regexp.MustCompile(`(?i)^(\d+(?:\.\d+)?)\s*(mi|miles?|km|kilomet(?:er|re)s?)\s+(north|south|east|west|[nesw]{1,3}|(?:north|south)[- ]?(?:east|west))\s+(?:of|from)\s+(.+)$`)

// bearings of the points of the compass [deg].
var bearings = map[string]float64{
	"n": 0, "nne": 22.5, "ne": 45, "ene": 67.5, "e": 90, "ese": 112.5, "se": 135, "sse": 157.5, "s": 180, "ssw": 202.5, "sw": 225, "wsw": 247.5,
	"w": 270, "wnw": 292.5, "nw": 315, "nnw": 337.5,
	"north": 0, "northeast": 45, "east": 90, "southeast": 135, "south": 180, "southwest": 225, "west": 270, "northwest": 315,
}

const (
	kmPerMile  = 1.609344
	farthestKm = 300
)

// cutOffset takes an offset off the front of a text.
func cutOffset(text string) (offset, string, error) {
	m := offsetPattern.FindStringSubmatch(text)
	if m == nil {
		return offset{}, text, nil
	}
	way, err := strconv.ParseFloat(m[1], 64)
	bearing, ok := bearings[strings.NewReplacer("-", "", " ", "").Replace(strings.ToLower(m[3]))]
	if err != nil || !ok {
		return offset{}, text, nil
	}
	if strings.HasPrefix(strings.ToLower(m[2]), "m") {
		way *= kmPerMile
	}
	if way > farthestKm {
		return offset{}, "", fmt.Errorf("place: offset of %.0f km, at most %d", way, farthestKm)
	}
	return offset{text: strings.TrimSpace(text[:len(text)-len(m[4])]), km: way, bearing: bearing}, m[4], nil
}

// shift moves places by the offset. The elevation stays that of the place, for want of a better one.
func (o offset) shift(list []Place) []Place {
	if o.text == "" {
		return list
	}
	for i, p := range list {
		p.Latitude, p.Longitude = p.moved(o.km, o.bearing)
		p.From = o.text
		if zone, err := Zone(p.Latitude, p.Longitude); err == nil {
			p.Zone = zone
		}
		list[i] = p
	}
	return list
}

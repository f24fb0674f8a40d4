package rig

import (
	"sort"
	"strings"
)

// fold writes a key or word as it is compared when someone mistypes it: small letters, one space between words.
func fold(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || r == '.' {
			return ' '
		}
		return r
	}, strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}

// nearest returns the known name that is most like the one written, empty when none is near enough to be meant.
func nearest(written string, known []string) string {
	w := fold(written)
	best, least := "", 0
	for _, k := range known {
		d := distance(w, fold(k))
		if best == "" || d < least {
			best, least = k, d
		}
	}
	if best == "" || len(w) > 60 {
		return ""
	}
	n := len([]rune(w))
	if least <= max(1, n/3) && least < n {
		return best
	}
	for _, k := range known {
		f := fold(k)
		if len(w) >= 3 && (strings.HasPrefix(f, w) || strings.HasSuffix(f, " "+w) || strings.HasPrefix(w, f+" ") || len(f) >= 4 && strings.HasPrefix(w, f)) {
			return k
		}
	}
	return ""
}

// distance counts the letters to add, drop, change or swap with their neighbour to get from a to b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 60 || len(y) > 60 {
		return max(len(x), len(y))
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

// oneOf lists words for a person: "a, b or c".
func oneOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// keyHint says what may have been meant by an unknown key of a group: a key of the group, a key of a group inside it, or the list of
// all keys.
func (s *shape) keyHint(written string) string {
	keys := s.keys()
	for _, f := range s.fields {
		if f.shape != nil && f.form == formGroup && f.shape.byKey[written] != nil {
			return "it belongs under \"" + f.key + "\""
		}
	}
	if near := nearest(written, keys); near != "" {
		return "did you mean \"" + near + "\"?"
	}
	sort.Strings(keys)
	return "known here: " + strings.Join(keys, ", ")
}

// keys returns the keys of a group.
func (s *shape) keys() []string {
	keys := make([]string, 0, len(s.fields))
	for _, f := range s.fields {
		keys = append(keys, f.key)
	}
	return keys
}

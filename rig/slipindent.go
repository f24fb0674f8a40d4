package rig

import (
	"slices"
	"strings"
)

// Where a line belongs is told by the lines above it and by the keys that a document can have: a key that fits nowhere at its own
// indentation is told, and read on where it was likely meant.

// level is an open place of the text: a key, or the hyphen of a list.
type level struct {
	line, indent int
	dash         bool
	valued       bool   // something stands behind the key on its own line
	first        int    // line of what lies first inside; zero for none yet
	inner        int    // indentation of what lies inside
	members      int    // how much lies inside
	before       int    // indentation of the line above it
	among        *shape // the keys that it stands among; nil where any can stand
	holds        *shape // the keys that stand inside it, or inside the members of its list
	named        bool   // names lie inside, and the keys inside those
}

// place puts a key or a hyphen into the order of the lines above it, and tells it where it does not fit there. It returns where it belongs.
func (s *slips) place(line, at int, key string) int {
	dash := key == "-"
	now := level{line: line, indent: at, dash: dash, before: s.indent}
	was := slices.Clone(s.levels)
	s.pop(at, dash)
	if len(s.levels) == 0 {
		s.push(now, key)
		return at
	}
	top := &s.levels[len(s.levels)-1]
	switch {
	case top.line == line || !top.valued && top.first == 0:
		top.first, top.inner = line, at
	case !top.valued && top.inner == at:
	case top.valued && top.before == at && top.line > 1:
		s.odd(top.line, top.indent, at, "indented unlike the lines above and below it")
		s.levels = was
		s.levels[len(s.levels)-1].indent = at
		s.pop(at, dash)
	case top.valued && len(was) == len(s.levels):
		s.odd(line, at, top.indent, "indented deeper than the line above, which has its value already")
		now.indent = top.indent
		s.pop(now.indent, dash)
	case !top.valued && top.members == 1 && s.firstIsOdd(line, at, top):
		s.odd(top.first, top.inner, at, "indented unlike the lines that it stands with")
		top.first, top.inner = line, at
	default:
		s.levels = was
		now.indent = s.home(at, key)
		s.odd(line, at, now.indent, "indented unlike the lines that it stands with")
		s.pop(now.indent, dash)
	}
	s.push(now, key)
	return now.indent
}

// pop closes what cannot hold a place of an indentation.
func (s *slips) pop(at int, dash bool) {
	for len(s.levels) > 0 {
		top := &s.levels[len(s.levels)-1]
		if top.indent < at || top.indent == at && (top.dash && !dash || dash && !top.dash && !top.valued) {
			return
		}
		s.levels = s.levels[:len(s.levels)-1]
	}
}

// push opens a place, with the keys that it stands among and that it can hold.
func (s *slips) push(now level, key string) {
	now.among = document
	if n := len(s.levels); n > 0 {
		top := &s.levels[n-1]
		top.members++
		now.among = top.holds
		if top.named {
			now.among = nil
		}
		if now.dash || top.named {
			now.holds = top.holds
		}
	}
	if now.among != nil && !now.dash {
		if f := now.among.byKey[key]; f != nil {
			now.holds, now.named = f.shape, f.form == formNamed
		}
	}
	s.levels = append(s.levels, now)
}

// home is the indentation that a key belongs at: among keys where it is one that can stand there, else where it is nearest to.
func (s *slips) home(at int, key string) int {
	best, cost := at, 1<<20
	for _, l := range s.levels {
		if l.dash != (key == "-") {
			continue
		}
		c := 2 * max(l.indent-at, at-l.indent)
		switch {
		case l.dash:
		case l.among == nil:
			c++
		case l.among.byKey[key] == nil:
			c += 1000
		}
		if c <= cost {
			best, cost = l.indent, c
		}
	}
	return best
}

// firstIsOdd tells whether, of two lines that lie in one part, the first is the one that slipped.
func (s *slips) firstIsOdd(line, at int, top *level) bool {
	if at <= top.indent && !s.levels[len(s.levels)-1].dash {
		return false
	}
	if at%2 != top.inner%2 {
		return at%2 == 0
	}
	for _, next := range s.lines[line:] {
		if strings.TrimSpace(withoutComment(next)) != "" {
			return indentOf(next) == at
		}
	}
	return false
}

func (s *slips) odd(line, at, belongs int, problem string) {
	s.add(line, at+1, problem, "begin it below the line above, or below those of the same part", s.moved(line, at, belongs))
}

// moved is a line with another indentation.
func (s *slips) moved(line, from, to int) map[int]string {
	l := s.lines[line-1]
	first := indentOf(l)
	return map[int]string{line: strings.Repeat(" ", max(first+to-from, 0)) + l[first:]}
}

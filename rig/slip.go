package rig

import (
	"regexp"
	"slices"
	"strings"
)

// A parser tells where it could go no further, which is seldom where the slip of the pen is: a bracket that is not closed is found lines
// below, and what it swallowed is then missed elsewhere. So where the parser fails, the lines are looked through here for the slips that
// people make, each with its own line, in words without the parser's grammar, and with the line as it was likely meant. The text is then
// read as if it were mended, so that one slip is one fault.
//
// Only the layout is read. A text that the parser understands never comes here, so what is rare and correct (a text over several lines)
// may be taken for a slip at worst where something else is wrong as well.

// slip is one slip of the pen.
type slip struct {
	line, column  int // of the slip, from 1
	problem, hint string
	mended        map[int]string // lines, from 1, as they were likely meant
}

func (s slip) fault(lines []string) Fault {
	return Fault{Line: s.line, Column: s.column, Value: short(withoutComment(lines[s.line-1])), Problem: s.problem, Hint: s.hint}
}

// apply returns the lines with a slip mended.
func (s slip) apply(lines []string) []string {
	out := slices.Clone(lines)
	for line, text := range s.mended {
		out[line-1] = text
	}
	return out
}

// mostSlips is how many slips are tried for one fault of the parser.
const mostSlips = 3

// nearestSlips returns those that can be behind a fault that the parser tells in a line: the last ones before it, and the next one
// below.
func nearestSlips(all []slip, broken int) []slip {
	var near []slip
	for i := len(all) - 1; i >= 0 && len(near) < mostSlips; i-- {
		if all[i].line <= broken {
			near = append(near, all[i])
		}
	}
	for _, s := range all {
		if s.line > broken {
			return append(near, s)
		}
	}
	return near
}

// bracket is one that is open.
type bracket struct {
	sign         byte
	line, column int
	indent       int // of the line that it stands in
}

// slips looks a text through.
type slips struct {
	lines  []string
	found  []slip
	levels []level
	open   []bracket
	block  int // indentation of the key whose text of several lines is being read; -1 for none
	last   int // line, from 1, of the last one with something in it
	indent int // of that line
}

var (
	slipKey   = regexp.MustCompile(`^("(?:[^"\\]|\\.)*"|'[^']*'|[^\s#{}\[\],"'][^#{}\[\]"']*?)\s*:(?:\s+|$)`)
	slipTight = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9 -]*?):([^\s:/].*)$`)
	slipLoose = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9 -]*?)\s*([{\[])`)
)

// findSlips returns the slips of a text in the order of their lines.
func findSlips(lines []string) []slip {
	s := &slips{lines: lines, block: -1}
	for i := range lines {
		s.read(i + 1)
	}
	if len(s.open) > 0 {
		s.unclosed()
	}
	return s.found
}

func (s *slips) add(line, column int, problem, hint string, mended map[int]string) {
	s.found = append(s.found, slip{line, column, problem, hint, mended})
}

// mend is a line with another text from one sign to another.
func (s *slips) mend(line, from, to int, text string) map[int]string {
	l := s.lines[line-1]
	return map[int]string{line: l[:from] + text + l[to:]}
}

// read looks one line through.
func (s *slips) read(line int) {
	l := s.lines[line-1]
	body := strings.TrimRight(withoutComment(l), " \t")
	indent := indentOf(body)
	if strings.TrimSpace(body) == "" || s.block >= 0 && indent > s.block {
		return
	}
	s.block = -1
	if len(s.open) > 0 {
		outer := s.open[0]
		if key := keyAt(body[indent:]); !(key > 0 && (indent <= outer.indent || s.endsWhole())) && !strings.HasPrefix(body[indent:], "- ") {
			s.flow(line, indent)
			s.last, s.indent = line, indent
			return
		}
		s.unclosed()
	}
	s.entry(line, body, indent)
	s.last, s.indent = line, indent
}

// endsWhole tells whether the line above, inside brackets, ends without the comma or bracket after which another key may follow.
func (s *slips) endsWhole() bool {
	above := strings.TrimRight(withoutComment(s.lines[s.last-1]), " \t")
	return above != "" && strings.IndexByte(",{[:", above[len(above)-1]) < 0
}

// keyAt is the length of a key with its colon at the beginning of a text; zero where there is none.
func keyAt(text string) int { return len(slipKey.FindString(text)) }

// entry reads a line outside of brackets.
func (s *slips) entry(line int, body string, indent int) {
	at := indent
	for body[at:] == "-" || strings.HasPrefix(body[at:], "- ") {
		s.place(line, at, "-")
		next := at + 1
		for next < len(body) && body[next] == ' ' {
			next++
		}
		if next >= len(body) {
			return
		}
		at = next
	}
	rest := body[at:]
	if n := keyAt(rest); n > 0 {
		value := rest[n:]
		s.place(line, at, strings.Trim(strings.TrimSpace(strings.TrimRight(rest[:n], ": ")), `"'`))
		s.levels[len(s.levels)-1].valued = value != ""
		s.value(line, at+n, value, s.levels[len(s.levels)-1].indent)
		return
	}
	if strings.IndexByte(`{["'`, rest[0]) >= 0 {
		s.value(line, at, rest, at)
		return
	}
	if at > indent || s.continues(at) {
		return // a member of a list that is a text, or a text that goes on
	}
	s.keyless(line, at, rest)
}

// continues tells whether a line without a key can be the rest of the value above it.
func (s *slips) continues(indent int) bool {
	return len(s.levels) > 0 && s.levels[len(s.levels)-1].valued && indent > s.levels[len(s.levels)-1].indent
}

// keyless is a line that should hold a key and holds none.
func (s *slips) keyless(line, at int, rest string) {
	switch tight, loose := slipTight.FindStringSubmatchIndex(rest), slipLoose.FindStringSubmatchIndex(rest); {
	case tight != nil && (isKnownKey(rest[tight[2]:tight[3]]) || knownKey(rest) == 0):
		s.add(line, at+tight[4]+1, "no blank after the colon", "write a blank between the colon and the value", s.mend(line, at+tight[4], at+tight[4], " "))
	case loose != nil:
		s.add(line, at+loose[3]+1, "a colon is missing", "write a colon and a blank after “"+rest[loose[2]:loose[3]]+"”", s.mend(line, at+loose[3], at+loose[3], ":"+blankBefore(rest[loose[3]:])))
		s.flow(line, at+loose[4])
	default:
		hint := "a line holds a key, a colon and a value"
		mended := map[int]string{line: ""}
		n := knownKey(rest)
		if n == 0 && s.inside(line, at) {
			n = len(rest)
		}
		if n > 0 {
			hint = "write a colon after “" + short(rest[:n]) + "”"
			mended = s.mend(line, at+n, at+n, ":")
			s.place(line, at, rest[:n])
			s.levels[len(s.levels)-1].valued = n < len(rest)
		}
		s.add(line, at+1, "a colon is missing", hint, mended)
	}
}

// inside tells whether the next line lies inside the part that a line begins.
func (s *slips) inside(line, indent int) bool {
	for _, next := range s.lines[line:] {
		if strings.TrimSpace(withoutComment(next)) != "" {
			return indentOf(next) > indent
		}
	}
	return false
}

func blankBefore(rest string) string {
	if strings.HasPrefix(rest, " ") {
		return ""
	}
	return " "
}

// value reads what stands behind a key.
func (s *slips) value(line, at int, text string, indent int) {
	if text == "" {
		return
	}
	switch text[0] {
	case '|', '>':
		s.block = indent
	case '{', '[':
		s.flow(line, at)
	case '"', '\'':
		s.quote(line, at, text)
	default:
		s.plain(line, at, text)
	}
}

// quote reads a text in quotes. One that is not closed in its line may go on in lines that are indented and hold no key.
func (s *slips) quote(line, at int, text string) {
	end := closing(text)
	if end < 0 {
		for i := line; i < len(s.lines); i++ {
			next := s.lines[i]
			if strings.TrimSpace(next) == "" || indentOf(next) == 0 || keyAt(next[indentOf(next):]) > 0 {
				break
			}
			if strings.IndexByte(next, text[0]) >= 0 {
				return
			}
		}
		body := strings.TrimRight(withoutComment(s.lines[line-1]), " \t")
		s.add(line, at+1, "a quote that is opened here is not closed", "close it at the end of the text, or take it away", s.mend(line, len(body), len(body), string(text[0])))
		return
	}
	if rest := strings.TrimSpace(text[end+1:]); rest != "" {
		s.add(line, at+end+2, "text behind the closing quote", "put all of the text in the quotes, or none of it", s.mend(line, at+end+1, at+len(text), ""))
	}
}

// closing is where a text in quotes ends; -1 where it does not.
func closing(text string) int {
	for i := 1; i < len(text); i++ {
		switch {
		case text[0] == '"' && text[i] == '\\':
			i++
		case text[i] == text[0] && text[0] == '\'' && i+1 < len(text) && text[i+1] == '\'':
			i++
		case text[i] == text[0]:
			return i
		}
	}
	return -1
}

// plain reads a text without quotes: a colon with a blank in it begins a key, which cannot stand there.
func (s *slips) plain(line, at int, text string) {
	colon := strings.Index(text, ": ")
	if colon < 0 && !strings.HasSuffix(text, ":") {
		return
	}
	if within := keyWithin(text); within != "" {
		from := strings.Index(text, " "+within+": ")
		s.add(line, at+from+2, "“"+within+"” begins in the middle of a value", ownLine, s.mend(line, at+from, at+len(text), ""))
		return
	}
	last := text[len(text)-1]
	if last == '}' || last == ']' {
		opener := map[byte]string{'}': "{", ']': "["}[last]
		s.add(line, at+len(text), "a bracket that is closed here was never opened", "write "+opener+" before “"+short(text)+"”", s.mend(line, at, at, opener))
		return
	}
	quoted := `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
	s.add(line, at+max(colon, 0)+1, "a second colon in one line", "write one key a line; a text with a colon in it goes in quotes", s.mend(line, at, at+len(text), quoted))
}

// unclosed tells the innermost bracket that is still open, and closes all of them behind the last line.
func (s *slips) unclosed() {
	b := s.open[len(s.open)-1]
	closers := ""
	for i := len(s.open) - 1; i >= 0; i-- {
		closers += string(closerOf(s.open[i].sign))
	}
	body := strings.TrimRight(withoutComment(s.lines[s.last-1]), " \t")
	mended := s.mend(s.last, len(strings.TrimRight(body, ",")), len(body), closers)
	s.add(b.line, b.column, "a bracket that is opened here is not closed", "write "+string(closerOf(b.sign))+" where it ends", mended)
	s.open = nil
}

func closerOf(sign byte) byte {
	if sign == '{' {
		return '}'
	}
	return ']'
}

// flow reads a line inside brackets, from a sign on.
func (s *slips) flow(line, at int) {
	l := withoutComment(s.lines[line-1])
	for i := at; i < len(l); i++ {
		switch c := l[i]; c {
		case '"', '\'':
			if i > 0 && strings.IndexByte(" [{,:", l[i-1]) < 0 {
				continue // a sign for feet or inches, or an apostrophe
			}
			end := closing(l[i:])
			if end < 0 {
				to := strings.IndexAny(l[i:], ",}]")
				if to < 0 {
					to = len(strings.TrimRight(l[i:], " \t"))
				}
				s.add(line, i+1, "a quote that is opened here is not closed", "close it at the end of the text, or take it away", s.mend(line, i+to, i+to, string(c)))
				i += to - 1
				continue
			}
			i += end
		case '{', '[':
			s.open = append(s.open, bracket{c, line, i + 1, indentOf(l)})
		case '}', ']':
			if b := s.open[len(s.open)-1]; closerOf(b.sign) != c {
				s.add(line, i+1, "a bracket "+string(b.sign)+" is closed with "+string(c), "write "+string(closerOf(b.sign)), s.mend(line, i, i+1, string(closerOf(b.sign))))
			}
			if s.open = s.open[:len(s.open)-1]; len(s.open) == 0 {
				if rest := strings.TrimSpace(l[i+1:]); rest != "" {
					s.add(line, i+2, "something stands behind the closing bracket", "take it away, or put it inside", s.mend(line, i+1, len(l), ""))
				}
				return
			}
		}
	}
}

// withoutComment is a line up to its comment.
func withoutComment(l string) string {
	quote := byte(0)
	for i := range len(l) {
		c := l[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '"' || c == '\'') && i > 0 && strings.IndexByte(" [{", l[i-1]) >= 0 && strings.IndexByte(l[i+1:], c) >= 0:
			quote = c
		case c == '#' && (i == 0 || l[i-1] == ' ' || l[i-1] == '\t'):
			return l[:i]
		}
	}
	return l
}

func indentOf(l string) int { return len(l) - len(strings.TrimLeft(l, " ")) }

// knownKey is the length of the longest key of the document that a text begins with as a word; zero for none.
func knownKey(text string) int {
	for i := len(text); i > 0; i-- {
		if (i == len(text) || text[i] == ' ') && isKnownKey(text[:i]) {
			return i
		}
	}
	return 0
}

// isKnownKey tells whether a text is a key that can stand anywhere in the document.
func isKnownKey(text string) bool { return hasKey(document, text) }

func hasKey(s *shape, key string) bool {
	for i := range s.fields {
		f := &s.fields[i]
		if f.key == key || f.shape != nil && hasKey(f.shape, key) {
			return true
		}
	}
	return false
}

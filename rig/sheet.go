package rig

import (
	"bytes"
	"errors"
	"strings"
	"unicode/utf8"
)

// sheet is a document's text while it is edited: lines with the very ends they came with, so that what is not edited stays byte for
// byte.
type sheet struct {
	mark  string // byte order mark, if any
	lines []string
	ends  []string // "\n", "\r\n", "\r" or, for the last line, nothing
	root  *node
}

// openSheet reads a text for editing. A text that is not well formed YAML is refused: its lines could not be told apart safely.
func openSheet(data []byte) (*sheet, error) {
	src, faults := prepare(data)
	if faults != nil {
		return nil, faults
	}
	s := &sheet{}
	if rest, ok := bytes.CutPrefix(data, []byte("\ufeff")); ok {
		s.mark, data = "\ufeff", rest
	}
	for text := string(data); ; {
		i := strings.IndexAny(text, "\r\n")
		if i < 0 {
			s.lines, s.ends = append(s.lines, text), append(s.ends, "")
			break
		}
		end := text[i : i+1]
		if strings.HasPrefix(text[i:], "\r\n") {
			end = "\r\n"
		}
		s.lines, s.ends = append(s.lines, text[:i]), append(s.ends, end)
		text = text[i+len(end):]
	}
	if len(s.lines) != len(src.lines) {
		return nil, errors.New("the lines of the text cannot be told apart")
	}
	if err := s.parse(); err != nil {
		return nil, err
	}
	return s, nil
}

// parse reads the tree of the present lines.
func (s *sheet) parse() error {
	if f, bad := unreadable(s.lines); bad {
		return f
	}
	root, faults, _ := parseOnce(strings.Join(s.lines, "\n"))
	if faults != nil {
		return faults
	}
	if root == nil || root.kind != groupNode {
		return errors.New("the text is not a rig file")
	}
	s.root = root
	return nil
}

func (s *sheet) bytes() []byte {
	var b bytes.Buffer
	b.WriteString(s.mark)
	for i, l := range s.lines {
		b.WriteString(l)
		b.WriteString(s.ends[i])
	}
	return b.Bytes()
}

// pos is a place in the lines: line from 0, byte from 0.
type pos struct{ line, byte int }

// at turns the tree's line and column into a place.
func (s *sheet) at(line, column int) (pos, error) {
	if line < 1 || line > len(s.lines) {
		return pos{}, errLost
	}
	l := s.lines[line-1]
	i := 0
	for n := 1; n < column; n++ {
		if i >= len(l) {
			return pos{}, errLost
		}
		_, size := utf8.DecodeRuneInString(l[i:])
		i += size
	}
	return pos{line - 1, i}, nil
}

// errLost means that the text is laid out in a way whose places we cannot be sure of. Nothing is changed then.
var errLost = errors.New("this part of the text is laid out in a way that cannot be edited safely; change it by hand")

// end finds where the text of a node ends. indent is the byte at which its key or dash stands; flow tells that it stands in brackets.
func (s *sheet) end(n *node, indent int, flow bool) (pos, error) {
	p, err := s.at(n.line, n.column)
	if err != nil {
		return pos{}, err
	}
	switch {
	case n.kind == textNode && (n.style == '"' || n.style == '\''):
		return s.quotedEnd(p, n.style)
	case n.kind == textNode && n.style == '|':
		return s.blockEnd(p, indent)
	case n.kind == textNode:
		return s.plainEnd(p, n, flow)
	case n.kind == groupNode || n.kind == listNode:
		return s.nestEnd(p, n, indent, flow)
	}
	return pos{}, errLost
}

// quotedEnd finds the end of a quoted text that begins at p.
func (s *sheet) quotedEnd(p pos, quote byte) (pos, error) {
	if p.byte >= len(s.lines[p.line]) || s.lines[p.line][p.byte] != quote {
		return pos{}, errLost
	}
	i := p.byte + 1
	for line := p.line; line < len(s.lines); line, i = line+1, 0 {
		for l := s.lines[line]; i < len(l); i++ {
			switch {
			case l[i] == '\\' && quote == '"':
				i++
			case l[i] == quote && quote == '\'' && i+1 < len(l) && l[i+1] == quote:
				i++
			case l[i] == quote:
				return pos{line, i + 1}, nil
			}
		}
	}
	return pos{}, errLost
}

// blockEnd finds the end of a block text whose sign | or > is at p.
func (s *sheet) blockEnd(p pos, indent int) (pos, error) {
	end := pos{p.line, len(s.lines[p.line])}
	for i := p.line + 1; i < len(s.lines); i++ {
		l := s.lines[i]
		if strings.TrimSpace(l) == "" {
			continue
		}
		if len(l)-len(strings.TrimLeft(l, " ")) <= indent {
			break
		}
		end = pos{i, len(l)}
	}
	return end, nil
}

// plainEnd finds the end of an unquoted text, and makes sure that it is the text of the node.
func (s *sheet) plainEnd(p pos, n *node, flow bool) (pos, error) {
	want := strings.Join(strings.Fields(n.text), " ")
	got := ""
	for line, i := p.line, p.byte; line < len(s.lines) && len(got) <= len(want); line, i = line+1, 0 {
		l := s.lines[line]
		stop := len(l)
		for j := i; j < len(l); j++ {
			if l[j] == '#' && (j == 0 || l[j-1] == ' ' || l[j-1] == '\t') || flow && strings.IndexByte(",[]{}", l[j]) >= 0 {
				stop = j
				break
			}
		}
		text := strings.TrimRight(l[i:stop], " \t")
		got = strings.Join(strings.Fields(got+" "+text), " ")
		if got == want {
			return pos{line, i + len(text)}, nil
		}
	}
	return pos{}, errLost
}

// nestEnd finds the end of a group or list: its closing bracket, or the end of its last member.
func (s *sheet) nestEnd(p pos, n *node, indent int, flow bool) (pos, error) {
	last := p
	if n.flow {
		last.byte++
	}
	if len(n.entries) > 0 {
		e := n.entries[len(n.entries)-1]
		var err error
		if last, err = s.entryEnd(e, n.flow || flow); err != nil {
			return pos{}, err
		}
	} else if len(n.items) > 0 {
		item := n.items[len(n.items)-1]
		dash := indent
		if !n.flow {
			dash = p.byte
		}
		var err error
		if last, err = s.end(item, dash, n.flow || flow); err != nil {
			return pos{}, err
		}
	}
	if !n.flow {
		return last, nil
	}
	closing := byte('}')
	if n.kind == listNode {
		closing = ']'
	}
	for line, i := last.line, last.byte; line < len(s.lines); line, i = line+1, 0 {
		for l := s.lines[line]; i < len(l); i++ {
			switch {
			case l[i] == closing:
				return pos{line, i + 1}, nil
			case l[i] == '#' && (i == 0 || l[i-1] == ' '):
				i = len(l)
			case l[i] != ' ' && l[i] != '\t' && l[i] != ',':
				return pos{}, errLost
			}
		}
	}
	return pos{}, errLost
}

// entryEnd finds where an entry ends: the end of its value, or its colon when it has none.
func (s *sheet) entryEnd(e entry, flow bool) (pos, error) {
	key, err := s.at(e.line, e.column)
	if err != nil {
		return pos{}, err
	}
	if e.value.kind != emptyNode {
		return s.end(e.value, key.byte, flow)
	}
	p, err := s.keyEnd(key, e.key)
	if err != nil {
		return pos{}, err
	}
	l := s.lines[p.line]
	for p.byte < len(l) && (l[p.byte] == ' ' || l[p.byte] == '\t') {
		p.byte++
	}
	if p.byte >= len(l) || l[p.byte] != ':' {
		return pos{}, errLost
	}
	return pos{p.line, p.byte + 1}, nil
}

// keyEnd finds the end of a key that begins at p.
func (s *sheet) keyEnd(p pos, key string) (pos, error) {
	l := s.lines[p.line]
	if p.byte < len(l) && (l[p.byte] == '"' || l[p.byte] == '\'') {
		return s.quotedEnd(p, l[p.byte])
	}
	if !strings.HasPrefix(l[p.byte:], key) {
		return pos{}, errLost
	}
	return pos{p.line, p.byte + len(key)}, nil
}

// replace puts a text of one line between two places.
func (s *sheet) replace(from, to pos, text string) {
	joined := s.lines[from.line][:from.byte] + text + s.lines[to.line][to.byte:]
	end := s.ends[to.line]
	s.cut(from.line+1, to.line+1)
	s.lines[from.line], s.ends[from.line] = joined, end
}

// cut takes out the lines from..to, to not included.
func (s *sheet) cut(from, to int) {
	s.lines = append(s.lines[:from:from], s.lines[to:]...)
	s.ends = append(s.ends[:from:from], s.ends[to:]...)
}

// insert puts lines behind a line, with ends like those around them.
func (s *sheet) insert(after int, lines []string) {
	end := s.ends[after]
	if end == "" {
		end = "\n"
		if len(s.ends) > 1 {
			end = s.ends[0]
		}
	}
	ends := make([]string, len(lines))
	for i := range ends {
		ends[i] = end
	}
	if s.ends[after] == "" && len(lines) > 0 {
		s.ends[after], ends[len(ends)-1] = end, ""
	}
	s.lines = append(s.lines[:after+1:after+1], append(append([]string(nil), lines...), s.lines[after+1:]...)...)
	s.ends = append(s.ends[:after+1:after+1], append(ends, s.ends[after+1:]...)...)
}

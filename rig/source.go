package rig

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// What we read at most. The parser below grows slower than its input, so all of this is refused before it sees anything.
const (
	mostBytes  = 1 << 20
	mostLines  = 20000
	mostLevels = 32
)

// source is a document's text made ready for the parser: no byte order mark, lines ended by "\n" alone.
type source struct {
	text  string
	lines []string // of text, without their ends
}

// readSource takes the text from r. The faults say why it cannot be read at all, or which lines are indented with tabs; a source with
// tabs is still usable.
func readSource(r io.Reader) (source, Faults) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return source{}, Faults{{Problem: "the file cannot be read: " + err.Error()}}
	}
	return prepare(data)
}

func prepare(data []byte) (source, Faults) {
	if len(data) > mostBytes {
		return source{}, Faults{{Problem: "the file is too large", Limit: "1 MB", Hint: "is this a rig file?"}}
	}
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return source{}, Faults{{Line: 1, Column: 1, Problem: "the text is in UTF-16", Hint: "save it as UTF-8"}}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data))
	lines := strings.Split(text, "\n")
	if len(lines) > mostLines {
		return source{}, Faults{{Problem: fmt.Sprintf("the file has %d lines", len(lines)), Limit: fmt.Sprintf("%d lines", mostLines), Hint: "is this a rig file?"}}
	}
	if f, bad := unreadable(lines); bad {
		return source{}, Faults{f}
	}
	if line := tooDeep(lines); line > 0 {
		return source{}, Faults{{Line: line, Column: 1, Problem: "nested too deeply", Limit: fmt.Sprintf("%d levels", mostLevels)}}
	}
	var faults Faults
	for i, l := range lines {
		indent := l[:len(l)-len(strings.TrimLeft(l, " \t"))]
		at := strings.IndexByte(indent, '\t')
		if at < 0 || strings.TrimSpace(l) == "" {
			continue
		}
		faults = append(faults, Fault{Line: i + 1, Column: at + 1, Problem: "tab in the indentation", Hint: "indent with spaces"})
		lines[i] = strings.ReplaceAll(indent, "\t", "  ") + l[len(indent):]
	}
	if faults != nil {
		text = strings.Join(lines, "\n")
	}
	return source{text: text, lines: lines}, faults
}

// unreadable finds the first byte that is not UTF-8 and the first control character.
func unreadable(lines []string) (Fault, bool) {
	for i, l := range lines {
		column := 0
		for at := 0; at < len(l); {
			r, size := utf8.DecodeRuneInString(l[at:])
			column++
			at += size
			if r == utf8.RuneError && size == 1 {
				return Fault{Line: i + 1, Column: column, Problem: "not UTF-8 text", Hint: "save the file as UTF-8"}, true
			}
			if control(r) {
				return Fault{Line: i + 1, Column: column, Problem: fmt.Sprintf("control character U+%04X", r), Hint: "remove it"}, true
			}
		}
	}
	return Fault{}, false
}

// tooDeep returns the first line that lies deeper than mostLevels, by indentation, list marks and brackets; zero when none does. It
// only guards the parser, so it may count text that is not structure; no rig comes near the limit.
func tooDeep(lines []string) int {
	var indents []int
	brackets := 0
	for i, l := range lines {
		content := strings.TrimLeft(l, " \t-?:")
		if content == "" && strings.TrimSpace(l) == "" || strings.HasPrefix(strings.TrimSpace(l), "#") {
			continue
		}
		column := len(l) - len(strings.TrimLeft(l, " \t"))
		for len(indents) > 0 && indents[len(indents)-1] > column {
			indents = indents[:len(indents)-1]
		}
		if len(indents) == 0 || indents[len(indents)-1] < column {
			indents = append(indents, column)
		}
		marks := 0
		for _, c := range l[column : len(l)-len(content)] {
			if c != ' ' && c != '\t' {
				marks++
			}
		}
		net, deepest := openBrackets(content)
		if len(indents)+marks+brackets+deepest > mostLevels || manyMarks(content) {
			return i + 1
		}
		brackets = max(0, brackets+net)
	}
	return 0
}

// openBrackets counts the brackets that a line opens beyond those it closes, at its end and at its deepest; quotes and comments are
// left out as far as one line shows them.
func openBrackets(l string) (depth, deepest int) {
	quote := byte(0)
	for i := 0; i < len(l); i++ {
		c := l[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			} else if c == '\\' && quote == '"' {
				i++
			}
		case (c == '"' || c == '\'') && (i == 0 || strings.IndexByte(" [{,:", l[i-1]) >= 0):
			quote = c
		case c == '#' && (i == 0 || l[i-1] == ' '):
			i = len(l)
		case c == '[' || c == '{':
			depth++
			deepest = max(deepest, depth)
		case c == ']' || c == '}':
			depth--
		}
	}
	return depth, deepest
}

// manyMarks tells whether a line stacks up tags, anchors or aliases, which the parser takes one inside the other.
func manyMarks(l string) bool {
	n := 0
	for _, word := range strings.Fields(l) {
		if strings.IndexByte("!&*<?|>", word[0]) >= 0 {
			n++
		}
	}
	return n > mostLevels
}

package rig

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// shapeOf a node.
type nodeKind uint8

const (
	emptyNode nodeKind = iota // nothing written, or null
	textNode
	listNode
	groupNode   // a mapping
	refusedNode // something whose fault is already told
)

// node is one place of the document's tree: what the parser found, without the parts of YAML that a rig does not use.
type node struct {
	kind    nodeKind
	text    string // of a text node, quotes taken away
	style   byte   // '"' or '\'' when quoted, '|' or '>' for a block, 0 for plain
	flow    bool   // a list or group in brackets
	line    int    // of the first sign of the value
	column  int    // in characters, from 1
	items   []*node
	entries []entry
}

// entry is one key of a group with its value.
type entry struct {
	key    string
	line   int
	column int
	value  *node
}

// get returns the first value under a key, nil when there is none.
func (n *node) get(key string) *node {
	for _, e := range n.entries {
		if e.key == key {
			return e.value
		}
	}
	return nil
}

// mostTries is how many slips and broken top-level parts we step over to find the other faults.
const mostTries = 12

// parseTree reads the text into a tree. Where the text is not YAML, the slip of the pen behind that is told and the text read on as if it
// were mended. Where none is found, the top-level part around the fault is left out and the rest read again, so that it does not hide
// what is wrong elsewhere; then lost is true, since names may be missing that stand in that part.
func parseTree(src source) (root *node, faults Faults, lost bool) {
	lines := append([]string(nil), src.lines...)
	root, some, broken := parseOnce(strings.Join(lines, "\n"))
	for range mostTries {
		if broken == 0 {
			return root, append(faults, some...), lost
		}
		candidates := nearestSlips(findSlips(lines), broken)
		mended := false
		for _, s := range candidates {
			tried := s.apply(lines)
			again, told, next := parseOnce(strings.Join(tried, "\n"))
			if next == 0 || next > max(broken, s.line) {
				faults = append(faults, s.fault(lines))
				lines, root, some, broken, mended = tried, again, told, next, true
				break
			}
		}
		if mended {
			continue
		}
		lost = true
		if len(candidates) > 0 {
			some, broken = Faults{candidates[0].fault(lines)}, candidates[0].line
		}
		faults = append(faults, some...)
		from, to := partAround(lines, broken)
		blank := true
		for i := from; i < to; i++ {
			blank = blank && strings.TrimSpace(lines[i]) == ""
			lines[i] = ""
		}
		if blank || to-from >= len(lines) {
			break
		}
		root, some, broken = parseOnce(strings.Join(lines, "\n"))
	}
	return nil, faults, true
}

// partAround returns the lines, counted from 0, of the top-level part that holds the line counted from 1.
func partAround(lines []string, line int) (from, to int) {
	starts := func(i int) bool {
		l := lines[i]
		return l != "" && strings.IndexByte(" \t#-}]", l[0]) < 0
	}
	from = min(max(line-1, 0), len(lines)-1)
	for from > 0 && !starts(from) {
		from--
	}
	to = from + 1
	for to < len(lines) && !starts(to) {
		to++
	}
	return from, to
}

// parserPlace is the place that the parser puts before its message.
var parserPlace = regexp.MustCompile(`^\[(\d+):(\d+)\] (.*)`)

// parseOnce runs the parser. The last result is the line of a fault that kept it from reading, zero when it read to the end. A panic
// of the parser is a fault of the text: the text comes from outside and the parser is not ours.
func parseOnce(text string) (root *node, faults Faults, broken int) {
	defer func() {
		if r := recover(); r != nil {
			root, broken = nil, 1
			faults = Faults{{Line: 1, Column: 1, Problem: "the text cannot be read as YAML"}}
		}
	}()
	file, err := parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		f := Fault{Line: 1, Column: 1, Problem: "not YAML", Hint: yamlHint}
		first, _, _ := strings.Cut(err.Error(), "\n")
		if m := parserPlace.FindStringSubmatch(first); m != nil {
			f.Line, _ = strconv.Atoi(m[1])
			f.Column, _ = strconv.Atoi(m[2])
			f.Problem = "not YAML: " + m[3]
		}
		return nil, Faults{f}, max(f.Line, 1)
	}
	t := &treeMaker{}
	var bodies []ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil || doc.Body.Type() == ast.CommentType {
			continue
		}
		if doc.Body.Type() == ast.DirectiveType {
			t.refuse(doc.Body.GetToken(), "YAML directive", "take it out")
			continue
		}
		bodies = append(bodies, doc.Body)
	}
	if len(bodies) > 1 {
		t.refuse(bodies[1].GetToken(), "second document", "a rig file holds one document; take out the line ---")
	}
	if len(bodies) == 0 {
		return nil, t.faults, 0
	}
	root = t.node(bodies[0], 1, 1)
	return root, t.faults, 0
}

const yamlHint = "look for a missing space after a colon, an unclosed bracket or quote, or uneven indentation"

// treeMaker turns the parser's tree into ours.
type treeMaker struct{ faults Faults }

func (t *treeMaker) refuse(tk *token.Token, problem, hint string) {
	f := Fault{Line: 1, Column: 1, Problem: problem, Hint: hint}
	if tk != nil && tk.Position != nil {
		f.Line, f.Column = max(tk.Position.Line, 1), max(tk.Position.Column, 1)
	}
	t.faults = append(t.faults, f)
}

// node makes one node; line and column are taken where the parser gives no usable place.
func (t *treeMaker) node(n ast.Node, line, column int) *node {
	out := &node{line: line, column: column}
	if n == nil {
		return out
	}
	tk := n.GetToken()
	if tk != nil && tk.Position != nil && tk.Position.Line > 0 && tk.Position.Column > 0 {
		out.line, out.column = tk.Position.Line, tk.Position.Column
	}
	switch v := n.(type) {
	case *ast.NullNode:
	case *ast.LiteralNode:
		out.kind, out.style = textNode, '|'
		if v.Value != nil {
			out.text = v.Value.Value
		}
	case *ast.StringNode:
		out.kind, out.text = textNode, v.Value
		switch tk.Type {
		case token.SingleQuoteType:
			out.style = '\''
		case token.DoubleQuoteType:
			out.style = '"'
		}
	case *ast.MappingNode:
		out.flow = v.IsFlowStyle
		t.group(out, v.Values)
	case *ast.MappingValueNode:
		t.group(out, []*ast.MappingValueNode{v})
	case *ast.SequenceNode:
		out.kind, out.flow = listNode, v.IsFlowStyle
		for _, item := range v.Values {
			out.items = append(out.items, t.node(item, out.line, out.column))
		}
	case *ast.AnchorNode:
		t.refuse(tk, "anchor", "a rig file repeats the value instead of marking it with &")
		if v.Value != nil {
			return t.node(v.Value, out.line, out.column)
		}
	case *ast.AliasNode:
		out.kind = refusedNode
		t.refuse(tk, "alias", "a rig file repeats the value instead of pointing to it with *; text that begins with * goes in quotes")
	case *ast.TagNode:
		t.refuse(tk, "YAML tag", "take it out; text that begins with ! goes in quotes")
		if v.Value != nil {
			return t.node(v.Value, out.line, out.column)
		}
	case ast.ScalarNode:
		out.kind = textNode
		if tk != nil {
			out.text = strings.TrimSpace(tk.Value)
		}
	default:
		out.kind = refusedNode
		t.refuse(tk, "not a value", yamlHint)
	}
	if r, bad := strange(out.text); bad {
		out.kind, out.text = refusedNode, ""
		t.refuse(tk, fmt.Sprintf("control character U+%04X", r), "take it out")
	}
	return out
}

// strange finds a sign that cannot be part of a text, which an escape in quotes may have brought in.
func strange(s string) (rune, bool) {
	for _, r := range s {
		if r != '\n' && control(r) {
			return r, true
		}
	}
	return 0, false
}

// control tells whether a sign is a control character other than a tab, or not a character at all.
func control(r rune) bool {
	return r < ' ' && r != '\t' || r >= 0x7f && r < 0xa0 || r == '\ufeff' || r == '\ufffd' || r == '\u2028' || r == '\u2029'
}

// group fills a node with the entries of a mapping. Its place is that of its first key, or of its bracket.
func (t *treeMaker) group(out *node, values []*ast.MappingValueNode) {
	out.kind = groupNode
	for i, v := range values {
		if v == nil || v.Key == nil {
			continue
		}
		tk := v.Key.GetToken()
		line, column := out.line, out.column
		if tk != nil && tk.Position != nil && tk.Position.Column > 0 {
			line, column = tk.Position.Line, tk.Position.Column
		}
		if i == 0 && !out.flow {
			out.line, out.column = line, column
		}
		switch v.Key.(type) {
		case *ast.MergeKeyNode:
			t.refuse(tk, "merge key <<", "a rig file repeats the values instead of merging them")
			continue
		case *ast.MappingKeyNode:
			t.refuse(tk, "key marked with ?", "write the key, a colon and the value")
			continue
		case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NullNode, *ast.InfinityNode, *ast.NanNode:
		default:
			t.refuse(tk, "key that is not plain text", "write the key, a colon and the value")
			continue
		}
		key := strings.TrimSpace(tk.Value)
		if s, ok := v.Key.(*ast.StringNode); ok {
			key = s.Value
		}
		if r, bad := strange(key); bad {
			t.refuse(tk, fmt.Sprintf("control character U+%04X", r), "take it out")
			continue
		}
		out.entries = append(out.entries, entry{key: key, line: line, column: column, value: t.node(v.Value, line, column)})
	}
}

// describe says what stands at a node, for faults.
func (n *node) describe() string {
	switch n.kind {
	case textNode:
		return short(n.text)
	case listNode:
		return fmt.Sprintf("a list of %d", len(n.items))
	case groupNode:
		keys := make([]string, 0, 3)
		for _, e := range n.entries[:min(3, len(n.entries))] {
			keys = append(keys, short(e.key))
		}
		if len(n.entries) > 3 {
			keys = append(keys, "...")
		}
		return "a group of " + strings.Join(keys, ", ")
	}
	return ""
}

// short cuts a text for a fault.
func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

package rig

import (
	"reflect"
	"strings"
	"unicode"

	"campwright/figure"
)

// Encode writes a rig as a clean file: keys in the order of document.go, values in the units they were written in, small groups on one
// line. Decode reads the same rig again. What the document does not say, defaults included, is left out.
func Encode(r Rig) []byte {
	if r.Version == 0 {
		r.Version = Format
	}
	root := groupTree(reflect.ValueOf(&r).Elem(), document)
	var b strings.Builder
	for i, e := range root.entries {
		big := e.value.kind != textNode
		if i > 0 && (big || root.entries[i-1].value.kind != textNode) {
			b.WriteByte('\n')
		}
		for _, line := range entryLines(e, 0) {
			b.WriteString(line + "\n")
		}
	}
	return []byte(b.String())
}

// groupTree makes the tree of a group from its struct, without its keyed name.
func groupTree(v reflect.Value, s *shape) *node {
	n := &node{kind: groupNode}
	for i := range s.fields {
		f := &s.fields[i]
		if child := fieldTree(f.at(v), f); child != nil {
			n.entries = append(n.entries, entry{key: f.key, value: child})
		}
	}
	return n
}

// fieldTree makes the tree of a field, nil when there is nothing to write.
func fieldTree(v reflect.Value, f *field) *node {
	switch f.form {
	case formGroup:
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return nil
			}
			return groupTree(v.Elem(), f.shape)
		}
		n := groupTree(v, f.shape)
		if len(n.entries) == 0 && !f.needed {
			return nil
		}
		return n
	case formList, formNamed:
		if v.IsNil() {
			return nil
		}
		n := &node{kind: listNode}
		if f.form == formNamed {
			n.kind = groupNode
		}
		for i := range v.Len() {
			member := groupTree(v.Index(i), f.shape)
			if f.form == formNamed {
				n.entries = append(n.entries, entry{key: f.shape.memberName(v.Index(i)), value: member})
			} else {
				n.items = append(n.items, member)
			}
		}
		return n
	case formNames:
		if v.IsNil() {
			return nil
		}
		n := &node{kind: listNode, flow: true}
		for _, name := range v.Interface().([]string) {
			n.items = append(n.items, &node{kind: textNode, text: name})
		}
		return n
	}
	if text := leafText(v, f); text != "" {
		return &node{kind: textNode, text: text}
	}
	return nil
}

// leafText writes what stands at one place as the document does, empty when nothing does.
func leafText(v reflect.Value, f *field) string {
	switch x := v.Interface().(type) {
	case string:
		return x
	case int:
		if x == 0 {
			return ""
		}
		return Value{Quantity: count(x), State: figure.Plain}.Text()
	case interface{ Text() string }:
		return x.Text()
	}
	return ""
}

// widest is the length up to which a small group goes on one line.
const widest = 72

// small tells whether a node goes on one line in brackets: groups and lists of few plain texts, nothing nested.
func small(n *node) bool {
	switch n.kind {
	case groupNode:
		for _, e := range n.entries {
			if e.value.kind != textNode && !(e.value.kind == groupNode && len(e.value.entries) <= 2 && small(e.value)) {
				return false
			}
		}
		return len(n.entries) <= 3 && len(flowText(n)) <= widest
	case listNode:
		for _, item := range n.items {
			if item.kind != textNode {
				return false
			}
		}
		return true
	}
	return true
}

// entryLines writes a key with its value in block style at an indentation.
func entryLines(e entry, indent int) []string {
	pad := strings.Repeat(" ", indent)
	key := pad + scalar(e.key, false) + ":"
	if small(e.value) {
		if e.value.kind == textNode {
			return []string{key + " " + scalar(e.value.text, false)}
		}
		return []string{key + " " + flowText(e.value)}
	}
	return append([]string{key}, valueLines(e.value, indent+2)...)
}

// valueLines writes a group or list in block style at an indentation.
func valueLines(n *node, indent int) []string {
	var lines []string
	switch n.kind {
	case groupNode:
		for _, e := range n.entries {
			lines = append(lines, entryLines(e, indent)...)
		}
	case listNode:
		for _, item := range n.items {
			lines = append(lines, itemLines(item, indent)...)
		}
	default:
		lines = append(lines, strings.Repeat(" ", indent)+flowText(n))
	}
	return lines
}

// itemLines writes one member of a list with its dash.
func itemLines(item *node, indent int) []string {
	pad := strings.Repeat(" ", indent)
	if small(item) && !(item.kind == groupNode && len(item.entries) == 1) {
		return []string{pad + "- " + flowText(item)}
	}
	lines := valueLines(item, indent+2)
	lines[0] = pad + "- " + lines[0][indent+2:]
	return lines
}

// flowText writes a node on one line, groups and lists in brackets.
func flowText(n *node) string {
	switch n.kind {
	case textNode:
		return scalar(n.text, true)
	case listNode:
		parts := make([]string, len(n.items))
		for i, item := range n.items {
			parts[i] = flowText(item)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case groupNode:
		parts := make([]string, len(n.entries))
		for i, e := range n.entries {
			parts[i] = scalar(e.key, true) + ": " + flowText(e.value)
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return "\"\""
}

// scalar writes a text, in double quotes where YAML would read it as anything else. Inside brackets more signs need quotes.
func scalar(s string, flow bool) string {
	if plainScalar(s, flow) {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch r {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case '\n':
			b.WriteString("\\n")
		case '\t':
			b.WriteString("\\t")
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// plainScalar tells whether a text can stand without quotes. It is stricter than YAML, so that people and other readers take it the
// same way.
func plainScalar(s string, flow bool) bool {
	switch s {
	case "", "~", "null", "Null", "NULL":
		return false
	}
	first := []rune(s)[0]
	digitNext := len(s) > 1 && s[1] >= '0' && s[1] <= '9'
	if !unicode.IsLetter(first) && !unicode.IsDigit(first) && first != '$' && first != '(' && !((first == '-' || first == '+') && digitNext) {
		return false
	}
	if strings.TrimSpace(s) != s || strings.HasSuffix(s, ":") || strings.Contains(s, ": ") || strings.Contains(s, " #") {
		return false
	}
	for _, r := range s {
		if r == '"' || r == '\'' || r == '\\' || r == '`' || !unicode.IsPrint(r) || r == '\u00a0' {
			return false
		}
		if flow && strings.ContainsRune(",[]{}:#", r) && !(r == ':' && !strings.Contains(s, "::") && clockLike(s)) {
			return false
		}
	}
	return true
}

// clockLike tells whether every colon stands between digits, as in 18:00.
func clockLike(s string) bool {
	for i := range len(s) {
		if s[i] == ':' && (i == 0 || i+1 == len(s) || s[i-1] < '0' || s[i-1] > '9' || s[i+1] < '0' || s[i+1] > '9') {
			return false
		}
	}
	return true
}

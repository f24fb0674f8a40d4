package web

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"campwright/rig"
)

// moved puts a part of a list one place up or down, with the remarks above it, line by line, so that nothing else in the text changes.
// A list whose parts share lines is refused: its order is changed in the text.
func moved(text []byte, path string, up bool) ([]byte, error) {
	doc, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		return nil, errors.New("the file has faults; mend them first")
	}
	members := membersOf(&doc, parentOf(text, path))
	at := slices.Index(members, path)
	with := at + 1
	if up {
		with = at - 1
	}
	if at < 0 || with < 0 || with >= len(members) {
		return nil, errors.New("it is at the end of its list already")
	}
	a, b := min(at, with), max(at, with)
	lines := strings.SplitAfter(string(text), "\n")
	from, err := firstLine(&doc, lines, members[a])
	if err != nil {
		return nil, err
	}
	between, err := firstLine(&doc, lines, members[b])
	if err != nil {
		return nil, err
	}
	end := lastLine(lines, between)
	if from >= between || indent(lines[from]) != indent(lines[between]) {
		return nil, errors.New("these parts share lines; change their order in the text")
	}
	from, between = above(lines, from), above(lines, between)
	if from >= between || between >= end {
		return nil, errors.New("these parts share lines; change their order in the text")
	}
	if last := lines[end-1]; !strings.HasSuffix(last, "\n") { // the last line of the file gets an end, and the new last loses nothing
		lines[end-1] = last + "\n"
	}
	swapped := slices.Concat(lines[:from], lines[between:end], lines[from:between], lines[end:])
	out := []byte(strings.Join(swapped, ""))
	again, faults := rig.Decode(bytes.NewReader(out))
	if len(faults) > 0 || len(membersOf(&again, parentOf(text, path))) != len(members) {
		return nil, errors.New("this part of the text is laid out in a way that cannot be moved safely; change it by hand")
	}
	return out, nil
}

// membersOf lists the paths of a list's members.
func membersOf(doc *rig.Rig, list string) []string {
	var paths []string
	var look func(path string, parts []Part)
	look = func(path string, parts []Part) {
		for _, p := range parts {
			if path == list && p.Member {
				paths = append(paths, p.Path)
			}
			for _, l := range p.Lists {
				look(l.Path, l.Parts)
			}
		}
	}
	for _, s := range sectionsOf(doc, doc) {
		look(s.Path, s.Parts)
	}
	return paths
}

// firstLine is where a member begins: the line of its dash, or of its name. It is found from its first value, upwards.
func firstLine(doc *rig.Rig, lines []string, path string) (int, error) {
	first := 0
	for _, s := range sectionsOf(doc, doc) {
		eachRow(s.Parts, func(r *Row) {
			if r.Line > 0 && strings.HasPrefix(r.Path, path+"/") && (first == 0 || r.Line < first) {
				first = r.Line
			}
		})
	}
	if first == 0 {
		return 0, errors.New("this part says nothing that could be found in the text; change the order by hand")
	}
	name := path[strings.LastIndexByte(path, '/')+1:]
	for i := first - 1; i >= 0; i-- {
		line := strings.TrimSpace(lines[i])
		if strings.HasPrefix(line, "- ") || line == "-" || strings.HasPrefix(line, name+":") || strings.HasPrefix(line, `"`+name+`":`) {
			return i, nil
		}
	}
	return 0, errors.New("this part could not be found in the text; change the order by hand")
}

// lastLine is the line after a member that begins at a line: the next one that is indented no deeper and is no remark.
func lastLine(lines []string, first int) int {
	deep := indent(lines[first])
	end := first + 1
	for i := first + 1; i < len(lines); i++ {
		line := strings.TrimSpace(lines[i])
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if indent(lines[i]) <= deep {
			break
		}
		end = i + 1
	}
	return end
}

// above is the first line of the remarks that stand directly above a line, at its own depth.
func above(lines []string, at int) int {
	for at > 0 && strings.HasPrefix(strings.TrimSpace(lines[at-1]), "#") && indent(lines[at-1]) == indent(lines[at]) {
		at--
	}
	return at
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

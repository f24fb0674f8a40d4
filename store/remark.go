package store

import (
	"strconv"
	"strings"

	"campwright/rig"
)

// A first sheet remarks what was taken and not answered: "# taken: usual for a van" beside a value, or beside the line that a part begins
// with, for all of the part. What an owner puts in place of such a value is theirs, and the remark must not outlive it: beside the value
// it goes; of a part it is kept for the rest, and the value is marked as the owner's own.
//
// Only the layout is read here, line by line, so that a remark can be told even in a file that is not in order. A text of several lines
// that looks like keys and remarks can be misread; then a remark stays, or a value is counted as taken, and nothing else is lost.

const (
	takenWord = "taken"
	yoursWord = "yours"
	allOfIt   = ", all of it"
	butYours  = "taken, but for what says yours"
)

// remarkLine is one line of a rig file as far as remarks go.
type remarkLine struct {
	left   int    // where it begins, with the hyphen of a list
	member bool   // it begins a member of a list
	key    string // empty where the line holds none
	value  string
	remark string // behind the number sign
	at     int    // of the number sign; length of the line where there is none [bytes]
}

// readRemarkLine reads a line; false for one that is empty or nothing but a comment.
func readRemarkLine(line string) (remarkLine, bool) {
	r := remarkLine{at: commentAt(line)}
	if r.at < len(line) {
		r.remark = strings.TrimSpace(line[r.at+1:])
	}
	body := strings.TrimRight(line[:r.at], " \t\r")
	rest := strings.TrimLeft(body, " ")
	if rest == "" {
		return r, false
	}
	r.left = len(body) - len(rest)
	for rest == "-" || strings.HasPrefix(rest, "- ") {
		r.member = true
		rest = strings.TrimLeft(rest[1:], " ")
	}
	key, value, found := strings.Cut(rest, ": ")
	switch {
	case strings.HasPrefix(rest, "{") || strings.HasPrefix(rest, "["):
		r.value = rest
	case found:
		r.key, r.value = unquoted(key), strings.TrimSpace(value)
	case strings.HasSuffix(rest, ":"):
		r.key = unquoted(strings.TrimSuffix(rest, ":"))
	default:
		r.value = rest
	}
	return r, true
}

// commentAt is where the comment of a line begins, outside of quotes; the length of the line where there is none.
func commentAt(line string) int {
	quote := byte(0)
	for i := range len(line) {
		c := line[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '"' || c == '\'') && i > 0 && strings.IndexByte(" [{", line[i-1]) >= 0:
			quote = c
		case c == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
			return i
		}
	}
	return len(line)
}

func unquoted(s string) string { return strings.Trim(strings.TrimSpace(s), `"'`) }

func (r remarkLine) taken() bool {
	return hasWord(r.remark, takenWord) || strings.HasPrefix(r.remark, "figures taken")
}
func (r remarkLine) yours() bool { return hasWord(r.remark, yoursWord) }

func hasWord(remark, word string) bool {
	rest, ok := strings.CutPrefix(remark, word)
	return ok && (rest == "" || strings.IndexByte(" ,:;", rest[0]) >= 0)
}

// covers tells whether the remark of a line is for all of the part that begins there, and not for its value alone.
func (r remarkLine) covers() bool {
	return r.value == "" || r.member && (r.key == "name" || r.key == "" || strings.Contains(r.remark, allOfIt))
}

// holds tells whether the part or list that begins in this line holds another line further down.
func (r remarkLine) holds(below remarkLine) bool {
	return r.left < below.left || r.left == below.left && !r.member && r.value == "" && below.member
}

// with writes a line with another remark; an empty one takes it away.
func (r remarkLine) with(line, remark string) string {
	end := ""
	if strings.HasSuffix(line, "\r") {
		end = "\r"
	}
	body := strings.TrimRight(line[:r.at], " \t\r")
	if remark == "" {
		return body + end
	}
	gap := 2
	if r.remark != "" {
		gap = max(r.at-len(body), 1)
	}
	return body + strings.Repeat(" ", gap) + "# " + remark + end
}

// changedLines returns the lines that differ between two texts, as a range of each.
func changedLines(before, after []string) (from, toBefore, toAfter int) {
	for from < len(before) && from < len(after) && before[from] == after[from] {
		from++
	}
	toBefore, toAfter = len(before), len(after)
	for toBefore > from && toAfter > from && before[toBefore-1] == after[toAfter-1] {
		toBefore--
		toAfter--
	}
	return from, toBefore, toAfter
}

// ownRemarks mends the remarks that one edit has made untrue, in the text after it.
func ownRemarks(before, after []byte) []byte {
	if !strings.Contains(string(before), takenWord) {
		return after
	}
	lines := strings.Split(string(after), "\n")
	from, toBefore, to := changedLines(strings.Split(string(before), "\n"), lines)
	added := toBefore == from
	for i := from; i < to; i++ {
		if r, ok := readRemarkLine(lines[i]); !ok || r.taken() && r.covers() {
			continue // a part with another name is still what was taken
		}
		own(lines, i, added)
		if added {
			break // the first line of what was added stands for the rest of it
		}
	}
	return []byte(strings.Join(lines, "\n"))
}

// own marks the value that begins in a line as the owner's.
func own(lines []string, i int, added bool) {
	r, _ := readRemarkLine(lines[i])
	if r.taken() {
		lines[i], r.remark = r.with(lines[i], ""), ""
		r.at = commentAt(lines[i])
	}
	around := partAround(lines, i, r)
	if around < 0 {
		return
	}
	head, _ := readRemarkLine(lines[around])
	if !strings.HasPrefix(head.remark, butYours) {
		lines[around] = head.with(lines[around], butYours+strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(head.remark, "figures "), takenWord), allOfIt))
	}
	if !r.yours() {
		lines[i] = r.with(lines[i], yours(lines, i, r, added))
	}
}

// confirmed marks the value at a place as the owner's, who looked at what was taken and found it right. A part that stands whole in the
// line is theirs with all its values.
func confirmed(text []byte, path string) ([]byte, error) {
	line, err := rig.LineOf(text, path)
	if err != nil || line == 0 || !Taken(text)(path) {
		return text, err
	}
	lines := strings.Split(string(text), "\n")
	own(lines, line-1, false)
	return []byte(strings.Join(lines, "\n")), nil
}

// yours is the remark of a line that is the owner's own, before what is remarked there already. Of an added part it is for all of it.
func yours(lines []string, i int, r remarkLine, added bool) string {
	remark := yoursWord
	if added && i+1 < len(lines) {
		if next, ok := readRemarkLine(lines[i+1]); ok && r.holds(next) && !next.member {
			remark += allOfIt
		}
	}
	if r.remark != "" {
		remark += "; " + r.remark
	}
	return remark
}

// partAround returns the line above whose remark covers line i; -1 where there is none, or the nearest is the owner's own.
func partAround(lines []string, i int, r remarkLine) int {
	for j := i - 1; j >= 0; j-- {
		above, ok := readRemarkLine(lines[j])
		if !ok || !above.holds(r) {
			continue
		}
		switch {
		case above.yours() && above.covers():
			return -1
		case above.taken() && above.covers():
			return j
		}
		r = above
	}
	return -1
}

// Taken reads the remarks of a rig file: the function tells of a path of the rig whether its value was taken by the program and not said
// by the owner.
func Taken(text []byte) func(path string) bool {
	own := map[string]bool{} // true: taken; false: the owner's
	type level struct {
		line    remarkLine
		path    string
		members int
	}
	stack := []level{{line: remarkLine{left: -1}}}
	lines := strings.Split(string(text), "\n")
	for i, line := range lines {
		r, ok := readRemarkLine(line)
		if !ok {
			continue
		}
		for !stack[len(stack)-1].line.holds(r) {
			stack = stack[:len(stack)-1]
		}
		above := &stack[len(stack)-1]
		path := above.path
		if r.member {
			above.members++
			path = joinPath(path, strconv.Itoa(above.members))
			if name := memberName(lines, i, r); name != "" {
				path = joinPath(above.path, name)
			}
			stack = append(stack, level{line: r, path: path})
		}
		if r.key != "" && !(r.member && r.covers() && r.value != "") {
			path = joinPath(path, r.key)
		}
		if r.taken() || r.yours() {
			own[path] = r.taken()
		}
		if r.value == "" && !r.member {
			stack = append(stack, level{line: r, path: path})
		} else if r.value == "" && r.key != "" { // "- dc-dc:" with its values further in than the key
			inner := r
			inner.left, inner.member = r.left+1, false
			stack = append(stack, level{line: inner, path: path})
		}
	}
	return func(path string) bool {
		for {
			if taken, said := own[path]; said {
				return taken
			}
			cut := strings.LastIndexByte(path, '/')
			if cut < 0 {
				return false
			}
			path = path[:cut]
		}
	}
}

// memberName is the name that a member of a list goes by; empty where it has none.
func memberName(lines []string, i int, r remarkLine) string {
	if r.key == "name" {
		return unquoted(r.value)
	}
	if at := strings.Index(r.value, "name: "); strings.HasPrefix(r.value, "{") && at >= 0 {
		name, _, _ := strings.Cut(r.value[at+len("name: "):], ",")
		return unquoted(strings.TrimSuffix(name, "}"))
	}
	inner := -1
	for _, line := range lines[i+1:] {
		next, ok := readRemarkLine(line)
		if !ok {
			continue
		}
		if !r.holds(next) {
			break
		}
		if inner < 0 {
			inner = next.left
		}
		if next.left == inner && next.key == "name" {
			return unquoted(next.value)
		}
	}
	return ""
}

func joinPath(path, key string) string {
	if path == "" {
		return key
	}
	return path + "/" + key
}

// MarkTaken remarks, beside the line in which the part begins that one text has more than the other, that its figures were taken.
func MarkTaken(before, after []byte, why string) []byte {
	lines := strings.Split(string(after), "\n")
	from, _, to := changedLines(strings.Split(string(before), "\n"), lines)
	for i := from; i < to; i++ {
		r, ok := readRemarkLine(lines[i])
		if !ok || i == from && r.value == "" && !r.member && to-from > 1 && strings.HasPrefix(lines[i], r.key) {
			continue // the head of a list that was not there before
		}
		lines[i] = r.with(lines[i], "taken, all of it: "+why)
		break
	}
	return []byte(strings.Join(lines, "\n"))
}

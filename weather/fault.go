package weather

import (
	"errors"
	"fmt"
	"strings"
)

// maxFaults is how many faults of a file are kept; the rest is counted.
const maxFaults = 20

// ErrFormat is wrapped by the error for a file that is none of the known formats.
var ErrFormat = errors.New("not a weather file of a known format (" + knownFormats + ")")

// ErrNoSite is wrapped by the error for a plain table read without a site.
var ErrNoSite = errors.New("a plain table carries no site: give latitude, longitude, elevation and clock beside it")

// Fault is one thing wrong in a weather file.
type Fault struct {
	Line int    // counted from 1; 0 when it concerns the file as a whole
	Text string // what is wrong, with the value and the limit
}

func (f Fault) String() string {
	if f.Line == 0 {
		return f.Text
	}
	return fmt.Sprintf("line %d: %s", f.Line, f.Text)
}

// Faults is the error for a file whose format was recognised but whose contents are not in order.
type Faults struct {
	Name   string // of the file, as the caller gave it
	Format Format
	List   []Fault // in the order of lines, at most twenty
	More   int     // how many further ones were counted
}

func (f *Faults) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "weather file %q (%s): ", f.Name, f.Format)
	for i, one := range f.List {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(one.String())
	}
	if f.More > 0 {
		fmt.Fprintf(&b, "; and %d more", f.More)
	}
	return b.String()
}

// add keeps one fault, or counts it when enough are kept.
func (f *Faults) add(line int, format string, args ...any) {
	if len(f.List) >= maxFaults {
		f.More++
		return
	}
	f.List = append(f.List, Fault{Line: line, Text: fmt.Sprintf(format, args...)})
}

func (f *Faults) any() bool { return len(f.List) > 0 }

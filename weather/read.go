package weather

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

const knownFormats = "EPW, TMY3 CSV, TMY2, NSRDB/PSM CSV, JRC TMY CSV, plain table of intervals"

const (
	maxBytes = 64 << 20 // a year of minutes in the widest format is below this
	maxLines = 366*24*60 + 100
)

// text is a file cut into lines, without their ends.
type text struct {
	lines []string
}

func read(r io.Reader, name string, site *Site) (Year, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return Year{}, fmt.Errorf("weather file %q: %w", name, err)
	}
	if len(raw) > maxBytes {
		return Year{}, fmt.Errorf("weather file %q: larger than %d MB", name, maxBytes>>20)
	}
	t, err := cut(raw)
	if err != nil {
		return Year{}, fmt.Errorf("weather file %q: %w", name, err)
	}
	parse := recognise(t)
	if parse == nil {
		first := ""
		if len(t.lines) > 0 {
			first = clip(t.lines[0])
		}
		return Year{}, fmt.Errorf("weather file %q begins with %q: %w", name, first, ErrFormat)
	}
	d := &draft{given: site}
	d.faults.Name = name
	parse(d, t)
	if d.noSite {
		return Year{}, fmt.Errorf("weather file %q: %w", name, ErrNoSite)
	}
	return d.year()
}

// cut splits a file into lines. Bytes that are not UTF-8 are taken as Latin-1, which old files use for the names of places.
func cut(raw []byte) (text, error) {
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	if bytes.IndexByte(raw, 0) >= 0 {
		return text{}, fmt.Errorf("holds binary data: %w", ErrFormat)
	}
	if n := bytes.Count(raw, []byte("\n")); n > maxLines {
		return text{}, fmt.Errorf("%d lines above limit %d", n, maxLines)
	}
	s := string(raw)
	if !utf8.ValidString(s) {
		runes := make([]rune, len(raw))
		for i, b := range raw {
			runes[i] = rune(b)
		}
		s = string(runes)
	}
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.ReplaceAll(s, "\r", "\n")
	s = strings.TrimSuffix(s, "\n")
	return text{lines: strings.Split(s, "\n")}, nil
}

// recognise tells the format by the contents of the first lines, or returns nil.
func recognise(t text) func(*draft, text) {
	line := func(i int) string {
		if i < len(t.lines) {
			return t.lines[i]
		}
		return ""
	}
	switch {
	case strings.HasPrefix(line(0), "LOCATION,"):
		return parseEPW
	case strings.HasPrefix(line(1), "Date (MM/DD/YYYY),"):
		return parseTMY3
	case strings.HasPrefix(line(0), "Source,") && strings.Contains(line(0), "Latitude"):
		return parsePSM
	case strings.HasPrefix(line(0), "Latitude (decimal degrees)"):
		return parseJRC
	case strings.HasPrefix(line(0), "interval_start_local,"):
		return parseTable
	case looksLikeTMY2(line(0), line(1)):
		return parseTMY2
	}
	return nil
}

// fields splits a comma-separated line; quotation marks may enclose a field with commas.
func fields(line string) []string {
	if !strings.Contains(line, `"`) {
		return strings.Split(line, ",")
	}
	var out []string
	var b strings.Builder
	quoted := false
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == ',' && !quoted:
			out = append(out, b.String())
			b.Reset()
		default:
			b.WriteRune(r)
		}
	}
	return append(out, b.String())
}

// find returns the index of each wanted name in a header line, or -1.
func find(header []string, names ...string) []int {
	at := make([]int, len(names))
	for i, name := range names {
		at[i] = -1
		for j, h := range header {
			if strings.EqualFold(strings.TrimSpace(h), name) {
				at[i] = j
				break
			}
		}
	}
	return at
}

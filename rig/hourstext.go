package rig

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"campwright/figure"
)

// day is the length of a day in minutes.
const day = 24 * 60

var spanText = regexp.MustCompile(`^(\d{1,2}):(\d{2})\s*(?:-|to)\s*(\d{1,2}):(\d{2})$`)

// readHours reads one of the words, or spans such as "18:00-22:30, 06:00-07:00", "about" before them when guessed.
func readHours(text string, words []string) (Hours, *flaw) {
	s := strings.TrimSpace(strings.NewReplacer("\u2013", "-", "\u2014", "-", "\u2212", "-", "\u00a0", " ").Replace(text))
	if strings.EqualFold(s, "unknown") {
		return Hours{State: figure.Unknown}, nil
	}
	for _, w := range words {
		if s == w {
			return Hours{Word: w, State: figure.Plain}, nil
		}
	}
	h := Hours{State: figure.Plain}
	if rest, ok := cutWord(s, "about"); ok {
		s, h.State = rest, figure.About
	}
	offset := 0
	for _, piece := range strings.Split(s, ",") {
		p := trimmed(piece, offset)
		offset += len(piece) + 1
		span, bad := readSpan(p.text, words)
		if bad != nil {
			return Hours{}, p.flawIn(bad)
		}
		for _, other := range h.Spans {
			if overlap(span, other) {
				return Hours{}, p.flawIn(&flaw{problem: "this time is already in another span"})
			}
		}
		h.Spans = append(h.Spans, span)
	}
	return h, nil
}

func readSpan(s string, words []string) (Span, *flaw) {
	hint := "write hours such as 18:00-22:30, 06:00-07:00"
	if len(words) > 0 {
		hint = "write " + oneOf(words) + ", or hours such as 18:00-22:30"
		if near := nearest(s, words); near != "" {
			hint = "did you mean \"" + near + "\"?"
		}
	}
	m := spanText.FindStringSubmatch(s)
	if m == nil {
		return Span{}, &flaw{problem: "not a time of day from and to", hint: hint}
	}
	var minutes [2]int
	for i := range minutes {
		hour, _ := strconv.Atoi(m[1+2*i])
		minute, _ := strconv.Atoi(m[2+2*i])
		minutes[i] = hour*60 + minute
		if minute > 59 || minutes[i] > day {
			return Span{}, &flaw{problem: "no such time of day", limit: "00:00 to 24:00"}
		}
	}
	span := Span{From: minutes[0] % day, Until: minutes[1]}
	if span.From == span.Until || span.From == span.Until%day && minutes[0] != 0 {
		return Span{}, &flaw{problem: "begins and ends at the same time", hint: "write always for all day"}
	}
	return span, nil
}

// pieces splits a span at midnight into parts of one day.
func (s Span) pieces() []Span {
	if s.Until > s.From {
		return []Span{s}
	}
	return []Span{{s.From, day}, {0, s.Until}}
}

// overlap tells whether two spans share a minute.
func overlap(a, b Span) bool {
	for _, x := range a.pieces() {
		for _, y := range b.pieces() {
			if x.From < y.Until && y.From < x.Until {
				return true
			}
		}
	}
	return false
}

// Minutes returns how long the spans are together, in minutes; zero for a word.
func (h Hours) Minutes() int {
	sum := 0
	for _, s := range h.Spans {
		for _, p := range s.pieces() {
			sum += p.Until - p.From
		}
	}
	return sum
}

// Text writes the hours as the document does; empty when it says nothing.
func (h Hours) Text() string {
	switch {
	case h.State == figure.Unknown:
		return "unknown"
	case h.State < figure.About:
		return ""
	case h.Word != "":
		return h.Word
	}
	parts := make([]string, len(h.Spans))
	for i, s := range h.Spans {
		parts[i] = fmt.Sprintf("%02d:%02d-%02d:%02d", s.From/60, s.From%60, s.Until/60, s.Until%60)
	}
	text := strings.Join(parts, ", ")
	if h.State == figure.About {
		return "about " + text
	}
	return text
}

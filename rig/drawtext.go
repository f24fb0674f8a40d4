package rig

import (
	"strings"

	"campwright/figure"
	"campwright/quantity"
)

// percent is the range of a duty.
var percent = field{kinds: []quantity.Kind{quantity.Share}, doc: "share of the time for which it runs",
	limits: []limit{{quantity.Quantity{Kind: quantity.Share}, quantity.Quantity{Base: 1, Kind: quantity.Share}, "0 % to 100 %"}}}

// part is a piece of a text and where it begins.
type part struct {
	text   string
	offset int
}

// flawIn moves a flaw of a part to its place in the whole text.
func (p part) flawIn(bad *flaw) *flaw {
	if bad == nil {
		return nil
	}
	moved := *bad
	moved.offset += p.offset
	if moved.value == "" {
		moved.value = strings.TrimSpace(p.text)
	}
	return &moved
}

// cutAt splits a text at a mark into two parts, spaces trimmed.
func cutAt(s, mark string) (before, after part, ok bool) {
	i := strings.Index(s, mark)
	if i < 0 {
		return trimmed(s, 0), part{}, false
	}
	return trimmed(s[:i], 0), trimmed(s[i+len(mark):], i+len(mark)), true
}

// trimmed makes a part of a text that begins at an offset.
func trimmed(s string, offset int) part {
	return part{strings.TrimSpace(s), offset + len(s) - len(strings.TrimLeft(s, " \t\n"))}
}

// readDraw reads "300 W at 60 %" or a rate alone. Rate and duty are checked against the field.
func readDraw(text string, f *field) (Draw, *flaw) {
	before, after, both := cutAt(text, " at ")
	rate, bad := readValue(before.text, f.kinds)
	if bad == nil {
		bad = f.flawOf(rate)
	}
	if bad != nil {
		return Draw{}, before.flawIn(bad)
	}
	d := Draw{Rate: rate}
	if !both {
		return d, nil
	}
	d.Duty, bad = readValue(after.text, percent.kinds)
	if bad == nil {
		bad = percent.flawOf(d.Duty)
	}
	if bad != nil {
		return Draw{Rate: rate}, after.flawIn(bad)
	}
	return d, nil
}

// Text writes the draw as the document does; empty when it says nothing.
func (d Draw) Text() string {
	rate, duty := d.Rate.Text(), d.Duty.Text()
	if rate == "" || duty == "" {
		return rate
	}
	return rate + " at " + duty
}

// times replaces the multiplication sign by the letter and keeps lengths, so that places stay right.
func times(s string) string { return strings.ReplaceAll(s, "\u00d7", "x ") }

// readSize reads "58.7 in x 26.8 in"; the first side may leave its unit out.
func readSize(text string, f *field) (Size, *flaw) {
	if strings.EqualFold(strings.TrimSpace(text), "unknown") {
		u := Value{State: figure.Unknown}
		return Size{Length: u, Width: u}, nil
	}
	first, second, ok := cutAt(times(text), "x")
	if !ok || strings.Contains(second.text, "x") {
		return Size{}, &flaw{problem: "expected length x width", hint: "such as 58.7 in x 26.8 in"}
	}
	width, bad := readValue(second.text, f.kinds)
	if bad == nil {
		bad = f.flawOf(width)
	}
	if bad != nil {
		return Size{}, second.flawIn(bad)
	}
	length, bad := readValue(first.text, f.kinds)
	if bad != nil && bad.problem == "no unit" {
		if unit, _, _ := strings.Cut(width.Quantity.Unit, " "); unit != "" {
			length, bad = readValue(first.text+" "+unit, f.kinds)
		}
	}
	if bad == nil {
		bad = f.flawOf(length)
	}
	if bad != nil {
		return Size{}, first.flawIn(bad)
	}
	return Size{Length: length, Width: width}, nil
}

// Text writes the size as the document does; empty when it says nothing.
func (s Size) Text() string {
	length, width := s.Length.Text(), s.Width.Text()
	switch {
	case length == "unknown" && width == "unknown":
		return "unknown"
	case length == "" && width == "":
		return ""
	}
	return length + " x " + width
}

// readCylinders reads "2 x 30 lb" and "20 gal".
func readCylinders(text string, f *field) (Cylinders, *flaw) {
	if strings.EqualFold(strings.TrimSpace(text), "unknown") {
		u := Value{State: figure.Unknown}
		return Cylinders{Count: u, Each: u}, nil
	}
	first, second, ok := cutAt(times(text), "x")
	c := Cylinders{Count: one()}
	if ok {
		var bad *flaw
		if c.Count, bad = readValue(first.text, cylinderCount.kinds); bad == nil {
			bad = cylinderCount.flawOf(c.Count)
		}
		if bad != nil {
			return Cylinders{}, first.flawIn(bad)
		}
	} else {
		second = first
	}
	var bad *flaw
	if c.Each, bad = readValue(second.text, f.kinds); bad == nil {
		bad = f.flawOf(c.Each)
	}
	if bad != nil {
		return Cylinders{}, second.flawIn(bad)
	}
	return c, nil
}

// cylinderCount is the range of the number of cylinders.
var cylinderCount = field{kinds: []quantity.Kind{quantity.Count}, whole: true, doc: "how many cylinders or tanks",
	limits: []limit{{quantity.Quantity{Base: 1, Kind: quantity.Count}, quantity.Quantity{Base: 12, Kind: quantity.Count}, "1 to 12"}}}

// Text writes the cylinders as the document does; empty when it says nothing.
func (c Cylinders) Text() string {
	count, each := c.Count.Text(), c.Each.Text()
	switch {
	case count == "unknown" && each == "unknown":
		return "unknown"
	case count == "" || each == "" || count == "1" && each != "unknown":
		return each
	}
	return count + " x " + each
}

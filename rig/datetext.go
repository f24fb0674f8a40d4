package rig

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
)

var (
	isoDate    = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
	otherDate  = regexp.MustCompile(`^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}$`)
	chanceText = regexp.MustCompile(`^([0-9.]+)\s+in\s+([0-9.,]+)$`)
)

// Years that a date may have.
const (
	firstYear = 1900
	lastYear  = 2199
)

// ParseDate reads a calendar day such as 2027-01-05.
func ParseDate(text string) (Date, error) {
	d, bad := readDate(text)
	if bad != nil {
		return Date{}, bad
	}
	return d, nil
}

func readDate(text string) (Date, *flaw) {
	s := strings.TrimSpace(text)
	if strings.EqualFold(s, "unknown") {
		return Date{State: figure.Unknown}, nil
	}
	state := figure.Plain
	if rest, ok := cutWord(s, "about"); ok {
		s, state = rest, figure.About
	}
	m := isoDate.FindStringSubmatch(s)
	if m == nil {
		bad := &flaw{problem: "not a date", hint: "write year-month-day, such as 2027-01-05"}
		if otherDate.MatchString(s) {
			bad.problem = "not a date we can be sure of"
		}
		return Date{}, bad
	}
	d := Date{State: state}
	d.Year, _ = strconv.Atoi(m[1])
	d.Month, _ = strconv.Atoi(m[2])
	d.Day, _ = strconv.Atoi(m[3])
	switch {
	case d.Year < firstYear || d.Year > lastYear:
		return Date{}, &flaw{problem: "year out of range", limit: fmt.Sprintf("%d to %d", firstYear, lastYear)}
	case d.Month < 1 || d.Month > 12:
		return Date{}, &flaw{problem: "no such month", limit: "01 to 12", hint: "write year-month-day, such as 2027-01-05"}
	case d.Day < 1 || d.Day > daysIn(d.Year, d.Month):
		return Date{}, &flaw{problem: "no such day", limit: fmt.Sprintf("01 to %02d", daysIn(d.Year, d.Month))}
	}
	return d, nil
}

// daysIn returns the days of a month of the Gregorian calendar.
func daysIn(year, month int) int {
	switch {
	case month == 2 && (year%4 == 0 && year%100 != 0 || year%400 == 0):
		return 29
	case month == 2:
		return 28
	case month == 4 || month == 6 || month == 9 || month == 11:
		return 30
	}
	return 31
}

// Given tells whether there is a day.
func (d Date) Given() bool { return d.State >= figure.About }

// Before tells whether the day lies before another. Days that are not given lie before none.
func (d Date) Before(e Date) bool {
	if !d.Given() || !e.Given() {
		return false
	}
	return d.Year*10000+d.Month*100+d.Day < e.Year*10000+e.Month*100+e.Day
}

// Text writes the day as the document does; empty when it says nothing.
func (d Date) Text() string {
	switch d.State {
	case figure.Unknown:
		return "unknown"
	case figure.About:
		return fmt.Sprintf("about %04d-%02d-%02d", d.Year, d.Month, d.Day)
	case figure.Plain, figure.Measured:
		return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
	}
	return ""
}

// readChance reads "at most 1 in 100", "1 in 100", "1 %" and "never".
func readChance(text string) (Chance, *flaw) {
	s := strings.Join(strings.Fields(text), " ")
	if strings.EqualFold(s, "unknown") {
		return Chance{State: figure.Unknown}, nil
	}
	if s == "never" {
		return Chance{State: figure.Plain}, nil
	}
	if rest, ok := strings.CutPrefix(strings.ToLower(s), "at most "); ok {
		s = rest
	}
	c := Chance{State: figure.Plain}
	if m := chanceText.FindStringSubmatch(s); m != nil {
		a, err1 := quantity.ParseNumber(m[1])
		b, err2 := quantity.ParseNumber(m[2])
		if err1 != nil || err2 != nil || !(b > 0) {
			return Chance{}, &flaw{problem: "not a chance", hint: chanceHint}
		}
		c.Of = a / b
	} else {
		q, err := quantity.Parse(s, quantity.Share)
		if err != nil {
			return Chance{}, &flaw{problem: "not a chance", hint: chanceHint}
		}
		c.Of = q.Base
	}
	if !(c.Of >= 0 && c.Of <= 1) {
		return Chance{}, &flaw{problem: "out of range", limit: "0 % to 100 %"}
	}
	return c, nil
}

const chanceHint = "write at most 1 in 100, or 1 %"

// Text writes the chance as the document does; empty when it says nothing.
func (c Chance) Text() string {
	switch {
	case c.State == figure.Unknown:
		return "unknown"
	case c.State < figure.About:
		return ""
	case c.Of == 0:
		return "never"
	}
	if n := 1 / c.Of; n < 1e6 {
		if whole := float64(int(n + 0.5)); 1/whole == c.Of {
			return "at most 1 in " + strconv.Itoa(int(whole))
		}
	}
	if s := (quantity.Quantity{Base: c.Of, Kind: quantity.Share}).String(); s != "" {
		return "at most " + s
	}
	return "at most " + strconv.FormatFloat(c.Of, 'f', -1, 64) + " in 1"
}

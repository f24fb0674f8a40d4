package web

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"campwright/figure"
	"campwright/rig"
)

// dateMeant reads a day as people write it: "October 20", "20 Oct 2026", "10/20/2026", "tomorrow". A day without a year is the next one
// of its name. Where the order of day and month cannot be told, both are offered.
func dateMeant(text string, now time.Time) meaning {
	about, bare := "", text
	if len(text) > 6 && strings.EqualFold(text[:6], "about ") {
		about, bare = "about ", strings.TrimSpace(text[6:])
	}
	m := meaning{text: text}
	if _, err := rig.ParseDate(bare); err == nil {
		m.remark = passed(bare, now)
		return m
	}
	days, problem := daysMeant(bare, now)
	switch {
	case problem != "":
		m.problem = problem
	case len(days) == 0: // the file's own refusal says what to write
		return m
	case len(days) == 1:
		m.text, m.remark = about+days[0].Format(time.DateOnly), passed(days[0].Format(time.DateOnly), now)
		return m
	default:
		words := make([]string, len(days))
		for i, d := range days {
			words[i] = spelled(d)
		}
		m.problem = "“" + bare + "” can be " + figure.Or(words) + ": which?"
	}
	for _, d := range days {
		m.offers = append(m.offers, Offer{about + d.Format(time.DateOnly), spelled(d)})
	}
	return m
}

var (
	numericDay = regexp.MustCompile(`^(\d{1,4})\s*[./-]\s*(\d{1,2})(?:\s*[./-]\s*(\d{4}|\d{2}))?$`)
	ordinal    = regexp.MustCompile(`(?i)(\d)(st|nd|rd|th)\b`)
)

// daysMeant returns the days that a text can mean, or why it means none.
func daysMeant(text string, now time.Time) (days []time.Time, problem string) {
	today := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	switch strings.ToLower(text) {
	case "today":
		return []time.Time{today}, ""
	case "tomorrow":
		return []time.Time{today.AddDate(0, 0, 1)}, ""
	}
	if m := numericDay.FindStringSubmatch(text); m != nil {
		return numericDays(m, today)
	}
	var month, day, year int
	text = strings.NewReplacer(",", " ", ".", " ", "-", " ", "/", " ").Replace(ordinal.ReplaceAllString(text, "$1"))
	for _, word := range strings.Fields(text) {
		n, err := strconv.Atoi(word)
		switch {
		case err == nil && len(word) == 4 && year == 0:
			year = n
		case err == nil && len(word) <= 2 && day == 0:
			day = n
		case err == nil && len(word) == 2 && year == 0:
			year = 2000 + n
		case err != nil && month == 0 && monthNamed(word) > 0:
			month = monthNamed(word)
		case err != nil && (strings.EqualFold(word, "of") || strings.EqualFold(word, "the") || weekday(word)):
		default:
			return nil, ""
		}
	}
	if month == 0 {
		return nil, ""
	}
	if day == 0 {
		first, _ := dayOf(year, month, 1, today)
		return []time.Time{first}, "which day of " + time.Month(month).String() + "?"
	}
	found, ok := dayOf(year, month, day, today)
	if !ok {
		return nil, fmt.Sprintf("%s has no day %d", time.Month(month), day)
	}
	return []time.Time{found}, ""
}

// numericDays reads a day that is all numbers: month and day in either order, with the year behind, before or left out.
func numericDays(m []string, today time.Time) (days []time.Time, problem string) {
	a, _ := strconv.Atoi(m[1])
	b, _ := strconv.Atoi(m[2])
	c, _ := strconv.Atoi(m[3])
	if len(m[1]) > 2 { // the year first: then comes the month
		if m[3] == "" || len(m[1]) != 4 {
			return nil, ""
		}
		if d, ok := dayOf(a, b, c, today); ok {
			days = append(days, d)
		}
		return days, ""
	}
	if len(m[3]) == 2 {
		c += 2000
	}
	monthFirst, ok := dayOf(c, a, b, today)
	if ok {
		days = append(days, monthFirst)
	}
	if dayFirst, ok := dayOf(c, b, a, today); ok && a != b {
		days = append(days, dayFirst)
	}
	if len(days) == 0 {
		return nil, "there is no such day; write year-month-day, such as 2027-01-05"
	}
	return days, ""
}

// dayOf returns a day; without a year, the next one of its name. It is false where the month has no such day.
func dayOf(year, month, day int, today time.Time) (time.Time, bool) {
	next := year == 0
	if next {
		year = today.Year()
	}
	for range 9 { // no leap day is further off than eight years
		d := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
		real := month >= 1 && month <= 12 && d.Day() == day && int(d.Month()) == month
		if real && (!next || !d.Before(today)) {
			return d, true
		}
		if !next {
			return time.Time{}, false
		}
		year++
	}
	return time.Time{}, false
}

// monthNamed is the number of a month by its name or the beginning of it; zero for another word.
func monthNamed(word string) int {
	word = strings.ToLower(word)
	for m := time.January; m <= time.December; m++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), word) || word == "sept" && m == time.September {
			return int(m)
		}
	}
	return 0
}

func weekday(word string) bool {
	word = strings.ToLower(word)
	for d := time.Sunday; d <= time.Saturday; d++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(d.String()), word) {
			return true
		}
	}
	return false
}

// passed remarks on a day that lies in the past; it is empty for any other.
func passed(iso string, now time.Time) string {
	d, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return ""
	}
	today := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	if !d.Before(today) {
		return ""
	}
	return "this day has passed"
}

// dayWritten writes a day of the document as people read it; empty where there is none.
func dayWritten(d rig.Date) string {
	if !d.Given() {
		return d.Text()
	}
	text := time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC).Format("Mon 2 Jan 2006")
	if d.State == figure.About {
		return "about " + text
	}
	return text
}

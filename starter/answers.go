// Package starter makes a first rig file out of six answers: what the rig is, who lives in it, where and when, how many nights without a
// hookup, what feeds refrigerator and heat, and what must run. The file is complete and plausible, every line that was not answered is
// marked as taken, and array and bank are sized for the stay by the program's own sums of energy.
//
// The sizing is simple on purpose and says so in the file: the bank holds up to two days of use without sun, the array carries the rest
// on a mean day of the darkest month of the stay, both within what such a rig usually has room for. It is where planning starts, not its
// end; the trip answers with days, weather and chances.
//
// Left out: the charge line of a towed rig, since nothing is known of the vehicle; wiring, which the program proposes; generators; home.
// What a kind of rig usually carries is common practice, no source. Loads and parts come from package catalogue, light and temperature
// from package climate.
package starter

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"campwright/catalogue"
	"campwright/rig"
)

// Answers are what a person says of a rig. An empty answer is filled by the usual one and marked in the file as taken.
type Answers struct {
	Name         string   `json:"name"`         // what the rig is called
	Kind         string   `json:"kind"`         // as the rig file names it: "travel trailer"
	People       int      `json:"people"`       // who live aboard; 0 for not said
	Place        string   `json:"place"`        // a town, or a position such as 33.5 N 114.2 W
	When         string   `json:"when"`         // a month, or the first day such as 2027-01-05
	Nights       int      `json:"nights"`       // between hookups; 0 for not said
	Refrigerator string   `json:"refrigerator"` // one of Refrigerators
	Heat         string   `json:"heat"`         // one of Heats
	Wishes       []string `json:"wishes"`       // what must run, such as "2 laptops", "microwave"; nil for not said

	Today rig.Date `json:"-"` // from which a month is counted on
}

// What a refrigerator and the heat may run on.
var (
	Refrigerators = []string{"propane", "electric", "household", "none"}
	Heats         = []string{"propane", "diesel", "electric", "none"}
)

// Limits of the answers.
const (
	MostPeople = 20
	MostNights = 365
	mostWishes = 30
	mostOfOne  = 20 // of one thing wished for

	longestWish = 60
	longestName = 80
)

// usual are the answers taken where none is given.
var usual = Answers{
	Name: "First sheet", Kind: "travel trailer", People: 2, Place: "Quartzsite, AZ, US", When: "December", Nights: 14,
	Refrigerator: "propane", Heat: "propane", Wishes: []string{"2 laptops", "internet", "television"},
}

// Usual returns the answers that are taken where none is given.
func Usual() Answers {
	u := usual
	u.Wishes = slices.Clone(usual.Wishes)
	return u
}

// Question is one thing to ask, for a terminal or a form.
type Question struct {
	Key     string   `json:"key"`     // of the answer it fills, as in the JSON of Answers
	Number  int      `json:"number"`  // 1 to 6; two questions of one number belong together
	Ask     string   `json:"ask"`     // the question itself
	Choices []string `json:"choices"` // what may be said; empty where it is free
	Usual   string   `json:"usual"`   // the answer taken where none is given
}

// Questions returns what to ask, in order.
func Questions() []Question {
	kind, _ := rig.FieldOf("kind")
	return []Question{
		{"kind", 1, "What is it?", kind.Words, usual.Kind},
		{"people", 2, "How many live aboard?", nil, strconv.Itoa(usual.People)},
		{"place", 3, "Where will it stand? A town, or a position such as 33.5 N 114.2 W", nil, usual.Place},
		{"when", 3, "From when? A month, or a day such as 2027-01-05", nil, usual.When},
		{"nights", 4, "How many nights between hookups?", nil, strconv.Itoa(usual.Nights)},
		{"refrigerator", 5, "The refrigerator runs on?", Refrigerators, usual.Refrigerator},
		{"heat", 5, "The heat runs on?", Heats, usual.Heat},
		{"wishes", 6, "What else must run? Such as 2 laptops, internet, microwave, breathing machine", nil, strings.Join(usual.Wishes, ", ")},
	}
}

// Set gives the answer to the question of a key, as text. An empty text takes the answer away. The error is a Fault.
func (a *Answers) Set(key, text string) error {
	text = strings.Join(strings.Fields(text), " ")
	whole := func(to *int, most int) error {
		if text == "" {
			*to = 0
			return nil
		}
		n, ok := wholeNumber(text, key == "nights")
		if !ok || n < 1 || n > most {
			return Fault{key, fmt.Sprintf("%q is not a number from 1 to %d", text, most), ""}
		}
		*to = n
		return nil
	}
	switch key {
	case "name":
		a.Name = text
	case "kind":
		a.Kind = text
	case "people":
		return whole(&a.People, MostPeople)
	case "place":
		a.Place = text
	case "when":
		a.When = text
	case "nights":
		return whole(&a.Nights, MostNights)
	case "refrigerator":
		a.Refrigerator = text
	case "heat":
		a.Heat = text
	case "wishes":
		a.Wishes = nil
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
			if w = strings.TrimSpace(w); w != "" && w != "none" && w != "nothing" {
				a.Wishes = append(a.Wishes, w)
			}
		}
		if text != "" && a.Wishes == nil {
			a.Wishes = []string{}
		}
	default:
		return Fault{key, "there is no such question", ""}
	}
	for _, f := range a.check() {
		if f.Question == key {
			return f
		}
	}
	return nil
}

// spelled are numbers as people write them out.
var spelled = map[string]int{
	"a": 1, "an": 1, "one": 1, "two": 2, "couple": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11,
	"twelve": 12, "fourteen": 14, "twenty": 20, "thirty": 30, "just me": 1, "me": 1, "myself": 1, "alone": 1,
}

// wholeNumber reads a number with what is counted behind it: "2", "two", "a couple", "10 nights", "3 people", and where nights are asked
// for "two weeks".
func wholeNumber(text string, nights bool) (n int, ok bool) {
	text = strings.ToLower(strings.Trim(text, " .!"))
	if n, ok := spelled[text]; ok {
		return n, true
	}
	words := strings.Fields(strings.TrimPrefix(strings.ReplaceAll(text, "of us", ""), "about "))
	if len(words) > 1 && words[0] == "a" && words[1] == "couple" {
		words = words[1:]
	}
	if len(words) > 1 && words[1] == "of" {
		words = append(words[:1], words[2:]...)
	}
	if len(words) == 0 || len(words) > 2 {
		return 0, false
	}
	n, err := strconv.Atoi(words[0])
	if err != nil {
		if n, ok = spelled[words[0]]; !ok {
			return 0, false
		}
	}
	if len(words) == 1 {
		return n, true
	}
	switch strings.TrimSuffix(words[1], "s") {
	case "night", "day", "people", "person", "adult":
		return n, true
	case "week":
		return 7 * n, nights && n < 1000
	case "month":
		return 30 * n, nights && n < 1000
	}
	return 0, false
}

// Fault is one answer that cannot be used.
type Fault struct {
	Question string `json:"question"` // its key
	Problem  string `json:"problem"`
	Hint     string `json:"hint"` // what to say instead; may be empty
}

// Error joins the parts of a fault.
func (f Fault) Error() string {
	if f.Hint == "" {
		return f.Question + ": " + f.Problem
	}
	return f.Question + ": " + f.Problem + "; " + f.Hint
}

// Faults are all answers that cannot be used, in the order of the questions.
type Faults []Fault

// Error gives one line for each fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Err returns the faults as an error, nil when there are none.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// wish is one thing that must run.
type wish struct {
	said      string // without its count
	appliance catalogue.Appliance
	count     int
}

// needs is what the answers come to.
type needs struct {
	Answers
	taken  map[string]bool // keys of answers that were not given
	camp   camp
	from   rig.Date
	wishes []wish
}

// check returns every answer that cannot be used.
func (a *Answers) check() Faults {
	_, faults := a.read()
	return faults
}

// read fills what was not said and finds out what the answers mean.
func (a *Answers) read() (needs, Faults) {
	n := needs{Answers: *a, taken: map[string]bool{}}
	n.fill()
	var faults Faults
	bad := func(key, problem, hint string) { faults = append(faults, Fault{key, problem, hint}) }
	word := func(key string, said *string, words []string) {
		w := wordMeant(*said, words)
		if w == "" {
			bad(key, fmt.Sprintf("%q is not one of them", *said), "say "+oneOf(words))
			return
		}
		*said = w
	}
	kind, _ := rig.FieldOf("kind")
	word("kind", &n.Kind, kind.Words)
	if n.People < 1 || n.People > MostPeople {
		bad("people", fmt.Sprintf("%d is not a number from 1 to %d", n.People, MostPeople), "")
	}
	var problem Fault
	if n.camp, problem = findCamp(n.Place); problem.Problem != "" {
		faults = append(faults, problem)
	}
	if n.from, problem = firstDay(n.When, a.Today); problem.Problem != "" {
		faults = append(faults, problem)
	}
	if n.Nights < 1 || n.Nights > MostNights {
		bad("nights", fmt.Sprintf("%d is not a number from 1 to %d", n.Nights, MostNights), "")
	}
	word("refrigerator", &n.Refrigerator, Refrigerators)
	word("heat", &n.Heat, Heats)
	if len(n.Wishes) > mostWishes {
		bad("wishes", fmt.Sprintf("%d wishes, at most %d", len(n.Wishes), mostWishes), "")
		return n, faults
	}
	for _, text := range n.Wishes {
		w, problem := readWish(text)
		if problem.Problem != "" {
			faults = append(faults, problem)
			continue
		}
		n.wishes = append(n.wishes, w)
	}
	if len(n.Name) > longestName || strings.ContainsFunc(n.Name, unicode.IsControl) {
		bad("name", "too long, or of several lines", fmt.Sprintf("at most %d letters", longestName))
	}
	return n, faults
}

// wordMeant returns the one of a few words that is meant: the word itself, or the only one that begins with what was said or has a word
// that does. Empty where none or several are.
func wordMeant(said string, words []string) string {
	said = strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(said, "-", " ")), " "))
	meant := ""
	for _, w := range words {
		if w == said {
			return w
		}
		if said != "" && strings.Contains(" "+w, " "+said) {
			if meant != "" {
				return ""
			}
			meant = w
		}
	}
	return meant
}

// fill takes the usual answer where none is given.
func (n *needs) fill() {
	text := func(key string, said *string, taken string) {
		if *said = strings.TrimSpace(*said); *said == "" {
			*said, n.taken[key] = taken, true
		}
	}
	number := func(key string, said *int, taken int) {
		if *said == 0 {
			*said, n.taken[key] = taken, true
		}
	}
	text("name", &n.Name, usual.Name)
	text("kind", &n.Kind, usual.Kind)
	number("people", &n.People, usual.People)
	text("place", &n.Place, usual.Place)
	text("when", &n.When, usual.When)
	number("nights", &n.Nights, usual.Nights)
	text("refrigerator", &n.Refrigerator, usual.Refrigerator)
	text("heat", &n.Heat, usual.Heat)
	if n.Wishes == nil {
		n.Wishes, n.taken["wishes"] = slices.Clone(usual.Wishes), true
	}
}

// readWish finds the appliance of a wish and how many of it: "2 laptops", "microwave".
func readWish(text string) (wish, Fault) {
	name, count := strings.Join(strings.Fields(text), " "), 1
	if name == "" || len(name) > longestWish || strings.ContainsFunc(name, unicode.IsControl) {
		return wish{}, Fault{"wishes", fmt.Sprintf("%.40q is no name", text), fmt.Sprintf("use a word of at most %d letters", longestWish)}
	}
	if first, rest, ok := strings.Cut(name, " "); ok {
		n, err := strconv.Atoi(strings.TrimSuffix(first, "x"))
		if written, ok := spelled[strings.ToLower(first)]; ok {
			n, err = written, nil
		}
		if err == nil {
			if n < 1 || n > mostOfOne {
				return wish{}, Fault{"wishes", fmt.Sprintf("%q: %d of one thing", text, n), fmt.Sprintf("1 to %d", mostOfOne)}
			}
			if _, whole := catalogue.Find(name); !whole || n < 10 { // "12 volt tv" is one
				name, count = strings.TrimPrefix(rest, "x "), n
			}
		}
	}
	a, ok := catalogue.Find(name)
	if !ok {
		hint := "use a common word for it, or leave it out and add it to the file"
		if near := catalogue.Suggest(name); len(near) > 0 {
			hint = "did you mean " + oneOf(near) + "?"
		}
		return wish{}, Fault{"wishes", fmt.Sprintf("%q is not in the catalogue", name), hint}
	}
	if a.Kind == "furnace" || strings.Contains(a.Kind, "refrigerator") && a.Name != "freezer" && a.Name != "ice maker" {
		return wish{}, Fault{"wishes", fmt.Sprintf("%q is asked for by itself", name), "answer refrigerator and heat"}
	}
	return wish{name, a, count}, Fault{}
}

// firstDay reads a day, or the next first of a month from today on; within the month named it is today.
func firstDay(text string, today rig.Date) (rig.Date, Fault) {
	if d, err := rig.ParseDate(text); err == nil && d.Given() {
		return d, Fault{}
	}
	words := strings.Fields(text)
	month, year := 0, 0
	if len(words) > 0 && len(words) < 3 {
		month = monthNamed(words[0])
	}
	if len(words) == 2 {
		if y, err := strconv.Atoi(words[1]); err == nil && y > 1900 && y < 2200 {
			year = y
		} else {
			month = 0
		}
	}
	if month == 0 {
		return rig.Date{}, Fault{"when", fmt.Sprintf("%q is neither a month nor a day", text), "say January, or a day such as 2027-01-05"}
	}
	day := 1
	switch {
	case year != 0:
	case !today.Given():
		return rig.Date{}, Fault{"when", "a month without its year, and today is not known", "say the day, such as 2027-01-05"}
	case month == today.Month:
		year, day = today.Year, today.Day
	case month > today.Month:
		year = today.Year
	default:
		year = today.Year + 1
	}
	d, err := rig.ParseDate(fmt.Sprintf("%04d-%02d-%02d", year, month, day))
	if err != nil {
		return rig.Date{}, Fault{"when", err.Error(), ""}
	}
	return d, Fault{}
}

// monthNamed returns the month of a name or of its first letters, at least three; 0 for none.
func monthNamed(name string) int {
	name = strings.ToLower(strings.Trim(name, ".,"))
	for m := time.January; m <= time.December; m++ {
		if full := strings.ToLower(m.String()); len(name) >= 3 && strings.HasPrefix(full, name) {
			return int(m)
		}
	}
	return 0
}

// oneOf lists words for a person: "a, b or c".
func oneOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// months returns the months that a stay touches, from its first day on.
func months(from rig.Date, nights int) []time.Month {
	first := time.Date(from.Year, time.Month(from.Month), from.Day, 0, 0, 0, 0, time.UTC)
	var list []time.Month
	for d := range nights {
		if m := first.AddDate(0, 0, d).Month(); !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	slices.SortFunc(list, func(a, b time.Month) int { return cmp.Compare(a, b) })
	return list
}

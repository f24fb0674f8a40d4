package web

import (
	"cmp"
	"errors"
	"regexp"
	"slices"
	"strings"

	"campwright/figure"
	"campwright/place"
	"campwright/quantity"
	"campwright/rig"
)

// What people type is not always what the file holds: a day as they say it, a town with a slip of the pen, half a unit. Where there is one
// thing it can mean, it is that; where there are several, they are offered; where there is none, it is refused before it stands in the
// file.

// Offer is a text that may have been meant.
type Offer struct {
	Text  string `json:"text"`  // as it would be typed
	Words string `json:"words"` // for people
}

// meaning is what a typed text comes to.
type meaning struct {
	text    string // as the file holds it
	problem string // why it cannot stand there
	remark  string // worth knowing about a text that can
	offers  []Offer
}

// meant reads a text as it was typed for a place of the rig.
func (s *Server) meant(path, text string) meaning {
	field, known := rig.FieldOf(path)
	text = strings.TrimSpace(text)
	if !known || text == "" {
		return meaning{text: text}
	}
	switch field.Form {
	case "date":
		return dateMeant(text, s.options.Now())
	case "place":
		return placeMeant(text)
	}
	if gauge := gaugeMeant(path, text); gauge != "" {
		text = gauge
	}
	return meaning{text: text}
}

// asFiled puts edits into the form that the file holds; the error says what is wrong with one of them.
func (s *Server) asFiled(edits []rig.Edit) ([]rig.Edit, error) {
	list := slices.Clone(edits)
	for i, e := range list {
		if e.New == "" {
			continue
		}
		m := s.meant(e.Path, e.New)
		if m.problem != "" {
			return nil, refused{errors.New(m.problem)}
		}
		list[i].New = m.text
	}
	return list, nil
}

// misfit says why a text that was typed cannot stand at a place, with what may have been meant.
func (s *Server) misfit(open OpenRig, e rig.Edit, why error) (problem string, offers []Offer) {
	problem = plainly(why)
	offers = unitsMeant(e.Path, e.New, func(text string) bool {
		_, err := open.Try([]rig.Edit{{Path: e.Path, Old: e.Old, New: text}})
		return err == nil
	})
	if len(offers) > 0 {
		words := make([]string, len(offers))
		for i, o := range offers {
			words[i] = o.Words
		}
		problem, _, _ = strings.Cut(problem, "; ")
		problem += "; did you mean " + figure.Or(words) + "?"
	}
	return problem, offers
}

// mostOffers is how many texts are offered.
const mostOffers = 4

// placeMeant looks a place up. One without a position must be in the list of places.
func placeMeant(text string) meaning {
	m := meaning{text: text}
	doc, _ := rig.Decode(strings.NewReader("campwright: 1\nname: n\nkind: van\nhome: {place: " + quoted(text) + "}\n"))
	if doc.Home == nil || doc.Home.Place.State < figure.About || doc.Home.Place.HasSpot {
		return m // what is no place at all is refused where the file is read
	}
	found, near, err := place.Find(doc.Home.Place.Name)
	switch {
	case err != nil:
		m.problem = strings.TrimPrefix(err.Error(), "place: ")
	case len(found) > 0:
		if found[0].String() != text {
			m.remark = "taken as " + found[0].String()
		}
		near = found[1:]
	case len(near) == 0:
		m.problem = "“" + text + "” is not in the list of places; give a larger town near it, “12 mi N of” a town, or a position such as 33.5 N 114.2 W"
	default:
		names := make([]string, 0, mostOffers)
		for _, p := range near[:min(len(near), mostOffers)] {
			names = append(names, p.String())
		}
		m.problem = "“" + text + "” is not in the list of places; did you mean " + figure.Or(names) + "?"
	}
	for _, p := range near[:min(len(near), mostOffers)] {
		m.offers = append(m.offers, Offer{p.String(), p.String()})
	}
	return m
}

// numberUnit is a number with a word behind it.
var numberUnit = regexp.MustCompile(`(\d\s*)([A-Za-z°µΩ][A-Za-z°µΩ/0-9]*)`)

// bareNumber is a number without its unit.
var bareNumber = regexp.MustCompile(`(?i)^(?:about\s+|~\s*)?-?\d[\d.,]*$`)

// unitsMeant returns the text with a unit that does not fit replaced by those that come nearest to it and fit, the likeliest first. fits
// tells whether a text can stand there.
func unitsMeant(path, text string, fits func(string) bool) []Offer {
	units := unitsAt(path)
	if len(units) == 0 {
		return nil
	}
	type candidate struct {
		text, unit string
		off        int
	}
	var list []candidate
	for _, at := range numberUnit.FindAllStringSubmatchIndex(text, -1) {
		typed := text[at[4]:at[5]]
		for _, u := range units {
			off := unitDistance(strings.ToLower(typed), strings.ToLower(u))
			if off < 0 {
				continue
			}
			head := strings.TrimRight(text[:at[4]], " ") + " "
			if tried := head + u + text[at[5]:]; tried != text && fits(tried) {
				list = append(list, candidate{tried, u, off})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(a.off, b.off) })
	if number := bareNumber.FindString(text); number != "" {
		field, _ := rig.FieldOf(path)
		for _, kind := range field.Kinds { // the first unit of each kind that can stand there
			k, _ := quantity.ParseKind(kind)
			if all := quantity.Units(k); len(all) > 0 && fits(text+" "+all[0]) {
				list = append(list, candidate{text + " " + all[0], all[0], len(list)})
			}
		}
	}
	var offers []Offer
	for _, c := range list[:min(len(list), 2)] {
		offers = append(offers, Offer{c.text, c.text})
	}
	return offers
}

// unitsAt returns the units in which the value at a path may be written, those of its parts included.
func unitsAt(path string) []string {
	field, known := rig.FieldOf(path)
	if !known {
		return nil
	}
	if len(field.Units) > 0 {
		return field.Units
	}
	var units []string
	for _, part := range []string{"rate", "duty", "length", "width", "count", "each"} {
		if f, known := rig.FieldOf(path + "/" + part); known {
			units = append(units, f.Units...)
		}
	}
	return units
}

// unitDistance is how far a typed unit is from one of the program's: 0 where it begins so, 1 for a slip of the pen; below zero for more.
func unitDistance(typed, unit string) int {
	if strings.HasPrefix(unit, typed) {
		return 0
	}
	if len(typed) > 1 && oneSlip(typed, unit) {
		return 1
	}
	return -1
}

// oneSlip tells whether two short words are one slip apart: a letter more, less, changed, or swapped with its neighbour.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	return i == len(a) || a[i+1:] == b[i+1:] || i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

// gaugeShort reads the shorthand for a wire gauge: "10 ga", "10 gauge", "#10".
var gaugeShort = regexp.MustCompile(`(?i)^(about\s+)?(?:#\s*(\d{1,2}|[1-4]/0|0{1,4})(?:\s*(?:ga|gage|gauge)\.?)?|(\d{1,2}|[1-4]/0|0{1,4})\s*(?:ga|gage|gauge)\.?)$`)

// gaugeMeant returns a gauge in shorthand as the file writes it; empty where the place takes no gauge or the text is none.
func gaugeMeant(path, text string) string {
	field, known := rig.FieldOf(path)
	m := gaugeShort.FindStringSubmatch(text)
	if !known || m == nil || !slices.Contains(field.Kinds, quantity.Section.String()) {
		return ""
	}
	number := m[2] + m[3]
	if strings.Trim(number, "0") == "" {
		number = string(rune('0'+len(number))) + "/0"
	}
	return m[1] + number + " AWG"
}

package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"campwright/figure"
	"campwright/rig"
	"campwright/starter"
	"campwright/system"
)

type showCmd struct {
	Rig   string `arg:"" type:"existingfile" help:"Rig file."`
	Units string `help:"Units: both, us, metric, or as-written." enum:"both,us,metric,as-written" default:"both"`
	All   bool   `help:"Also print what goes without saying, such as one of each, and every key of which nothing is said."`
	On    string `help:"The rig as of a day, by the dates of its parts." placeholder:"DATE"`
	JSON  bool   `name:"json" help:"Print all of it as JSON."`
}

func (showCmd) Help() string {
	return "Prints each value with how it is known: measured, stated (nothing beside it), about with its ends, unknown with what is taken meanwhile, or " +
		"taken with the reason, for what the file leaves out.\n\nExample:\n  campwright show examples/northern-van.yaml --units metric"
}

// shown is what show says of a rig.
type shown struct {
	Name    string          `json:"name"`
	Kind    string          `json:"kind"`
	On      string          `json:"on,omitempty"`
	Gaps    []shownGap      `json:"gaps"`
	Parts   []aboardPart    `json:"parts"`
	Counts  shownCounts     `json:"counts"`
	Measure []starter.Worth `json:"measure"` // most first
	Around  string          `json:"around"`  // where and when that was summed
}

// shownGap is a value that no answer can do without.
type shownGap struct {
	Path string `json:"path"`
	What string `json:"what"`
	Hint string `json:"hint"`
}

// shownCounts counts the quantities by how they are known.
type shownCounts struct {
	Stated   int `json:"stated"`
	Measured int `json:"measured"`
	About    int `json:"about"`
	Unknown  int `json:"unknown"`
	Taken    int `json:"taken"`
	Guesses  int `json:"guesses"` // those of the last three that an ensemble varies
}

func (c showCmd) Run(env Env) error {
	doc, err := loadRig(c.Rig)
	if err != nil {
		return err
	}
	text, err := os.ReadFile(c.Rig)
	if err != nil {
		return err
	}
	v := shown{Name: doc.Name, Kind: doc.Kind}
	if c.On != "" {
		day, err := rig.ParseDate(c.On)
		if err != nil {
			return hinted{fmt.Errorf("--on: %w", err), "write year-month-day, such as 2025-01-31"}
		}
		doc, v.On = doc.At(day), day.Text()
	}
	full, gaps := system.Complete(doc)
	for _, g := range gaps {
		v.Gaps = append(v.Gaps, shownGap(g))
	}
	v.Parts = aboard(&doc, &full, text)
	v.Counts = countsOf(&full)
	if len(gaps) == 0 {
		v.Measure, v.Around = starter.WorthMeasuring(&full)
		v.Measure = v.Measure[:min(len(v.Measure), mostReadings)]
	}
	if c.JSON {
		v.fill()
		e := json.NewEncoder(env.Stdout)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(v)
	}
	_, err = env.Stdout.Write(c.page(v))
	return err
}

// fill makes empty lists of missing ones, for JSON.
func (v *shown) fill() {
	if v.Gaps == nil {
		v.Gaps = []shownGap{}
	}
	if v.Measure == nil {
		v.Measure = []starter.Worth{}
	}
	for i := range v.Parts {
		if v.Parts[i].Rows == nil {
			v.Parts[i].Rows = []aboardRow{}
		}
	}
}

func countsOf(full *rig.Rig) shownCounts {
	c := shownCounts{Guesses: len(system.Guesses(full))}
	rig.Walk(full, func(_ string, v *rig.Value) {
		switch v.State {
		case figure.Plain:
			c.Stated++
		case figure.Measured:
			c.Measured++
		case figure.About:
			c.About++
		case figure.Unknown:
			c.Unknown++
		case figure.Default:
			c.Taken++
		}
	})
	return c
}

// mostReadings is how many readings are named.
const mostReadings = 3

// Widths of the page, for a terminal of 80 columns and for mail.
const (
	pageWidth  = 80
	widestKey  = 24
	widestText = 26
)

// page writes all of it for a terminal or a mail.
func (c showCmd) page(v shown) []byte {
	var b bytes.Buffer
	what := ""
	if v.On != "" {
		what = " on " + v.On
	}
	fmt.Fprintf(&b, "%s: what is aboard%s?\n", v.Name, what)
	if len(v.Gaps) > 0 {
		b.WriteString("\nMISSING, and no answer without it\n")
		for _, g := range v.Gaps {
			hanging(&b, "  ", g.Path+": "+g.What+"; "+g.Hint, 4)
		}
	}
	for _, p := range v.Parts {
		c.part(&b, p)
	}
	b.WriteString("\n")
	b.WriteString(strings.Repeat("-", pageWidth) + "\n")
	n := v.Counts
	hanging(&b, "", fmt.Sprintf("%d values are stated, %d measured, %d estimated, %d unknown; %d were left out and taken. Of all these %d are guesses with a span.",
		n.Stated, n.Measured, n.About, n.Unknown, n.Taken, n.Guesses), 0)
	if len(v.Measure) > 0 {
		b.WriteString("\n")
		hanging(&b, "", "Most worth measuring, by what each may change on a mean day ("+v.Around+"):", 0)
		for i, m := range v.Measure {
			hanging(&b, fmt.Sprintf("  %d. ", i+1), fmt.Sprintf("%s (%.0f %% of the %s a day): %s", m.Name, 100*m.PerDay, m.Store, m.Reading), 5)
		}
	}
	return b.Bytes()
}

// part writes one part.
func (c showCmd) part(b *bytes.Buffer, p aboardPart) {
	var rows []aboardRow
	for _, r := range p.Rows {
		if c.All || r.State != notSaid && !(r.State == taken && r.plain) {
			rows = append(rows, r)
		}
	}
	pad := strings.Repeat("  ", p.Depth)
	if p.Depth == 0 {
		fmt.Fprintf(b, "\n%s\n", strings.ToUpper(p.Title))
	} else {
		fmt.Fprintf(b, "%s%s\n", pad, p.Title)
	}
	key, text := 0, 0
	for _, r := range rows {
		key = max(key, min(widestKey, utf8.RuneCountInString(r.Key)))
		text = max(text, min(widestText, utf8.RuneCountInString(c.text(r))))
	}
	for _, r := range rows {
		row(b, pad+"  "+padded(r.Key, key)+"  ", padded(c.text(r), text)+"  ", c.how(r))
	}
}

// text writes a value in the units asked for.
func (c showCmd) text(r aboardRow) string {
	switch r.State {
	case unknown:
		return unknown
	case notSaid:
		return "-"
	}
	return c.both(r.Value)
}

// both writes what is shown in the units asked for; in both systems where they differ, as written first.
func (c showCmd) both(s inUnits) string {
	switch c.Units {
	case "us":
		return s.US
	case "metric":
		return s.Metric
	case "both":
		for _, other := range []string{s.Metric, s.US} {
			if other != s.Written && s.US != s.Metric {
				return s.Written + " (" + other + ")"
			}
		}
	}
	return s.Written
}

// one writes what is shown in one system, the one asked for or else as written.
func (c showCmd) one(s inUnits) string {
	switch c.Units {
	case "us":
		return s.US
	case "metric":
		return s.Metric
	}
	return s.Written
}

// how says how a value is known.
func (c showCmd) how(r aboardRow) string {
	ends := c.one(r.Ends)
	switch r.State {
	case taken:
		return joined(taken, ends, strings.TrimPrefix(r.Why, "taken "))
	case unknown:
		if r.Value.Written == "" || r.Value.Written == unknown {
			return ""
		}
		return joined("taken meanwhile "+c.one(r.Value), ends, r.Why)
	case "about":
		return joined("about", ends, "")
	case stated:
		return ""
	case notSaid:
		return r.Doc
	}
	return r.State
}

// joined writes "taken, 1 W to 2 W: because".
func joined(state, ends, why string) string {
	if ends != "" {
		state += ", " + ends
	}
	if why != "" {
		state += ": " + why
	}
	return state
}

// row writes one row: its key and value, and how it is known behind them, folded within its own column.
func row(b *bytes.Buffer, key, text, how string) {
	lead := utf8.RuneCountInString(key)
	if how == "" {
		hanging(b, key, strings.TrimRight(text, " "), lead)
		return
	}
	if indent := lead + utf8.RuneCountInString(text); indent <= pageWidth-24 {
		hanging(b, key+text, how, indent)
		return
	}
	hanging(b, key, strings.TrimRight(text, " "), lead)
	hanging(b, strings.Repeat(" ", lead), how, lead)
}

// hanging writes a text after a lead, folded at the width of the page with the lines after the first indented.
func hanging(b io.Writer, lead, text string, indent int) {
	line, used := lead, utf8.RuneCountInString(lead)
	for i, w := range strings.Fields(system.Once(text)) {
		n := utf8.RuneCountInString(w)
		if i > 0 && used+1+n > pageWidth {
			fmt.Fprintln(b, strings.TrimRight(line, " "))
			line, used = strings.Repeat(" ", indent), indent
		} else if i > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+w, used+n
	}
	fmt.Fprintln(b, strings.TrimRight(line, " "))
}

// padded fills a text up to a width.
func padded(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

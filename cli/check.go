package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

type checkCmd struct {
	Rig   string `arg:"" type:"existingfile" help:"Rig file."`
	Rule  string `help:"Judge by one rule alone, with the full working, such as M03." placeholder:"ID"`
	Cures bool   `help:"Also look for changes to the file that take a finding away; every one offered has been judged."`
	Units string `help:"Units of the texts: us, metric, or as most of the file is written." enum:"us,metric,file" default:"file"`
	JSON  bool   `name:"json" help:"Print the report as JSON."`
}

func (checkCmd) Help() string {
	return "Judges the rig by every rule, at the bad end of each guess: findings by danger, then what passes with its margin. Exit status 1 says that a STOP, or a " +
		"FAIL that is not accepted in the file, stands, or that a value is missing without which some rules cannot judge.\n\nExample:\n  campwright check examples/northern-van.yaml --cures"
}

// checked is a report with the cures asked for, as JSON.
type checked struct {
	check.Report
	Cures []curesOf `json:"cures,omitempty"`
	units quantity.System
}

// curesOf is the cures of one outcome.
type curesOf struct {
	Outcome int          `json:"outcome"` // number in outcomes
	Cures   []check.Cure `json:"cures"`
}

func (c checkCmd) Run(env Env) error {
	doc, err := loadRig(c.Rig)
	if err != nil {
		return err
	}
	prepared, err := check.Prepare(doc, check.Remember(system.FindClimate))
	if err != nil {
		return err
	}
	switch c.Units {
	case "us":
		prepared = prepared.In(quantity.US)
	case "metric":
		prepared = prepared.In(quantity.Metric)
	}
	judged := rules.All()
	if c.Rule != "" {
		rule, ok := rules.Find(strings.ToUpper(c.Rule))
		if !ok {
			return hinted{fmt.Errorf("rule %q is not there", c.Rule), "campwright explain rules lists them"}
		}
		judged = []check.Rule{rule}
	}
	report := check.Judge(prepared, judged)
	out := checked{Report: report, units: prepared.Units}
	if c.Cures {
		for i := range report.Outcomes {
			if list := check.Cures(prepared, report.Outcomes[i], rules.All()); len(list) > 0 {
				out.Cures = append(out.Cures, curesOf{i, list})
			}
		}
	}
	if c.JSON {
		e := json.NewEncoder(env.Stdout)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		err = e.Encode(out)
	} else {
		c.print(env.Stdout, &out)
	}
	if err != nil {
		return err
	}
	if len(report.Missing) > 0 {
		return errFindings
	}
	for i := range report.Outcomes {
		if report.Outcomes[i].Grave() {
			return errFindings
		}
	}
	return nil
}

// print writes the report for a terminal or a mail.
func (c checkCmd) print(w io.Writer, r *checked) {
	fmt.Fprintf(w, "%s: is it safe?\n\n", r.Rig)
	hanging(w, "", r.Sentence, 0)
	for _, g := range r.Groups {
		c.group(w, r, g)
	}
	c.accepted(w, r)
	if len(r.Missing) > 0 {
		fmt.Fprintln(w, "\nMISSING, and some rules cannot judge without it")
		for _, m := range r.Missing {
			hanging(w, "  ", m.Path+": "+m.What+"; "+m.Hint, 4)
		}
	}
	if len(r.Silent) > 0 && c.Rule == "" {
		fmt.Fprintln(w)
		hanging(w, "", "Nothing in this rig to judge for "+figure.List(r.Silent)+".", 0)
	}
	if len(r.Stale) > 0 {
		fmt.Fprintln(w, "\nACCEPTED IN THE FILE, and no longer needed")
		for _, s := range r.Stale {
			hanging(w, "  ", strings.TrimSpace(s.Rule+" "+s.Place)+": "+s.Why, 4)
		}
	}
	if c.Rule != "" {
		rule, _ := rules.Find(strings.ToUpper(c.Rule))
		fmt.Fprintln(w)
		printRule(w, rule)
	}
	printEnds(w, r.Places, r.units)
	if len(r.Cautions) > 0 {
		fmt.Fprintln(w, "\nCAUTION")
		for _, caution := range r.Cautions {
			hanging(w, "  ", strings.ToUpper(caution.Kind[:1])+caution.Kind[1:]+": "+caution.Text, 4)
		}
		hanging(w, "  ", r.Local, 4)
	}
}

// group writes one verdict's outcomes by place; those that are accepted stand elsewhere.
func (c checkCmd) group(w io.Writer, r *checked, g check.Group) {
	headed := false
	for _, p := range g.Places {
		for _, i := range p.Outcomes {
			o := &r.Outcomes[i]
			if o.Accepted != "" {
				continue
			}
			if !headed {
				fmt.Fprintln(w)
				hanging(w, "", g.Verdict.String()+": "+g.Meaning, 0)
				headed = true
			}
			if g.Verdict == check.Pass && c.Rule == "" {
				hanging(w, "  ", passLine(o), 6)
				continue
			}
			c.finding(w, r, i)
		}
	}
}

// passLine is a pass on one line.
func passLine(o *check.Outcome) string {
	line := fmt.Sprintf("%s %s: %s", o.Rule, o.Part, o.Title)
	switch {
	case o.Margin != nil:
		line += ", " + toSpare(*o.Margin, o.Working.Sense)
		if strings.Contains(o.Detail, "is taken, not read") { // a margin over a rating that nobody read
			line += ". " + o.Detail
		}
		return line
	case o.Detail != "":
		return line + ". " + o.Detail
	}
	return line
}

// toSpare tells a margin.
func toSpare(margin float64, sense string) string {
	percent := math.Floor(100*margin + 1e-9)
	if percent > 100 {
		if sense == "≥" {
			return fmt.Sprintf("%.1f times what is needed", 1+margin)
		}
		return "more than enough to spare"
	}
	return fmt.Sprintf("%.0f %% to spare", percent)
}

// finding writes one outcome: what is wrong, the figures, what can happen, ways out, the rule.
func (c checkCmd) finding(w io.Writer, r *checked, i int) {
	o := &r.Outcomes[i]
	const in = 7
	indent := strings.Repeat(" ", in)
	fmt.Fprintln(w)
	title := o.Title
	if o.Verdict == check.Undecided {
		title = "not decided: " + title
	}
	hanging(w, fmt.Sprintf("  %-4s ", o.Rule), o.Part+": "+title, in)
	if line := o.Working.Line(); line != "" {
		hanging(w, indent, line, in+2)
	}
	for _, text := range []string{o.Consequence, o.Detail} {
		if text != "" {
			hanging(w, indent, figure.Sentence(text), in)
		}
	}
	for k, m := range o.Measure {
		if k == 3 {
			hanging(w, indent, fmt.Sprintf("and %s more (--json lists them)", figure.Plural(len(o.Measure)-k, "reading", "")), in)
			break
		}
		hanging(w, indent+"measure: ", m, in+2)
	}
	for _, way := range o.Ways {
		if o.Verdict >= check.Warn && o.Verdict != check.Undecided {
			hanging(w, indent+"way out: ", way, in+2)
		}
	}
	for _, list := range r.Cures {
		if list.Outcome == i {
			c.cures(w, list.Cures, in)
		}
	}
	if c.Rule != "" {
		for _, line := range o.Working.Lines(r.units) {
			hanging(w, indent, line, in+2)
		}
	}
	if o.Verdict > check.Note {
		hanging(w, indent, fmt.Sprintf("rule %s: %s; how sure: %s", o.Rule, o.Source, o.Sure), in+2)
	}
}

// cures writes the cures of a finding with their edits.
func (c checkCmd) cures(w io.Writer, list []check.Cure, in int) {
	indent := strings.Repeat(" ", in)
	for _, cure := range list {
		hanging(w, indent+"cure: ", cure.Words, in+2)
		for _, e := range cure.Edits {
			switch {
			case e.Old == "":
				hanging(w, indent+"  ", e.Path+": add "+e.New, in+4)
			case e.New == "":
				hanging(w, indent+"  ", e.Path+": take out "+e.Old, in+4)
			default:
				hanging(w, indent+"  ", e.Path+": "+e.Old+" becomes "+e.New, in+4)
			}
		}
	}
}

// accepted writes the findings that the owner has chosen to live with.
func (c checkCmd) accepted(w io.Writer, r *checked) {
	headed := false
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		if o.Accepted == "" {
			continue
		}
		if !headed {
			fmt.Fprintln(w, "\nACCEPTED, each with its written reason")
			headed = true
		}
		hanging(w, "  ", fmt.Sprintf("%s %s: %s (%s). Accepted: %s", o.Rule, o.Part, o.Title, o.Verdict, o.Accepted), 6)
	}
}

// printEnds writes the ends of temperature that entered.
func printEnds(w io.Writer, places []check.Ends, units quantity.System) {
	if len(places) == 0 {
		return
	}
	fmt.Fprintln(w, "\nPlaces that entered")
	for _, p := range places {
		if p.Place == "home" {
			p.Name = "home, " + p.Name
		}
		if p.Problem != "" && p.RecordLowC == nil {
			hanging(w, "  ", p.Name+": its climate is not known: "+p.Problem, 4)
			continue
		}
		line := p.Name + ": " + ends(p.RecordLowC, "record low ", units) + ends(p.AnnualLowC, ", low of a middling year ", units) + ends(p.HighC, ", record high ", units)
		if p.ElevationM != nil {
			line += ", " + quantity.Format(quantity.Quantity{Base: *p.ElevationM, Kind: quantity.Length}, units)
		}
		hanging(w, "  ", line, 4)
	}
}

func ends(x *float64, before string, units quantity.System) string {
	if x == nil {
		return ""
	}
	return before + quantity.Format(quantity.Quantity{Base: *x, Kind: quantity.Temperature}, units)
}

package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/system"
)

type explainCmd struct {
	What []string `arg:"" help:"A rule such as M03, a term, a key of the rig file, an appliance, or a common rule of thumb. The words rules, terms and thumbs list them."`
	Rig  string   `type:"existingfile" help:"Rig file: tell where, when and at what bank voltage a rule of thumb holds for this rig, and what a rule says of it." placeholder:"FILE"`
	JSON bool     `name:"json" help:"Print the explanation as JSON."`
}

func (explainCmd) Help() string {
	return "Examples:\n  campwright explain M03\n  campwright explain five sun hours --rig examples/desert-trailer.yaml"
}

func (e explainCmd) Run(env Env) error {
	what := strings.Join(e.What, " ")
	switch strings.ToLower(what) {
	case "rules", "terms", "thumbs":
		printIndex(env.Stdout, strings.ToLower(what))
		return nil
	}
	x, near := check.Explain(what, rules.All())
	if x.Name == "" {
		word, known := explainWord(what)
		if !known {
			return unknownWord(what, nearWords(what, near))
		}
		x = word
	}
	if e.Rig != "" {
		doc, err := loadRig(e.Rig)
		if err != nil {
			return err
		}
		c, err := check.Prepare(doc, check.Remember(system.FindClimate))
		if err != nil {
			return err
		}
		x.Here = check.Here(x, c, rules.All())
	}
	if e.JSON {
		enc := json.NewEncoder(env.Stdout)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(x)
	}
	printExplanation(env.Stdout, x, e.Rig != "")
	return nil
}

func unknownWord(what string, near []string) error {
	hint := "campwright explain rules, terms or thumbs lists what can be explained"
	if len(near) > 0 {
		quoted := make([]string, len(near))
		for i, n := range near {
			quoted[i] = `"` + n + `"`
		}
		hint = "did you mean " + figure.Or(quoted) + "?"
	}
	return hinted{fmt.Errorf("nothing is known by the name %q", what), hint}
}

// printIndex lists everything of one kind.
func printIndex(w io.Writer, kind string) {
	switch kind {
	case "rules":
		for _, r := range rules.All() {
			hanging(w, "  ", fmt.Sprintf("%s %s (%s)", r.ID, r.Title, r.Worst), 7)
		}
		for _, l := range check.Later() {
			hanging(w, "  ", fmt.Sprintf("%s %s: not judged yet; %s", l.ID, l.Title, l.Why), 7)
		}
	case "terms":
		group := ""
		for _, t := range check.Terms() {
			if t.Group != group {
				group = t.Group
				fmt.Fprintln(w, group)
			}
			fmt.Fprintln(w, "  "+t.Name)
		}
		fmt.Fprintln(w, "Stores")
		for _, s := range storeWords {
			fmt.Fprintln(w, "  "+s.name)
		}
	case "thumbs":
		for _, t := range check.Thumbs() {
			hanging(w, "  ", t.Name+": "+t.Says, 4)
		}
	}
}

// printExplanation writes an explanation for a terminal or a mail.
func printExplanation(w io.Writer, x check.Explanation, forRig bool) {
	hanging(w, "", x.Name+" ("+x.Kind+")", 0)
	for _, p := range x.Parts {
		if p.Head == "" {
			hanging(w, "  ", p.Text, 2)
			continue
		}
		hanging(w, "  "+p.Head+": ", p.Text, 4)
	}
	if !forRig {
		return
	}
	fmt.Fprintln(w, "\nFor this rig")
	if len(x.Here) == 0 {
		hanging(w, "  ", "Nothing in its file to hold it against.", 2)
	}
	for _, line := range x.Here {
		hanging(w, "  ", line, 4)
	}
}

// printRule writes the record of a rule.
func printRule(w io.Writer, r check.Rule) {
	x, _ := check.Explain(r.ID, []check.Rule{r})
	printExplanation(w, x, false)
}

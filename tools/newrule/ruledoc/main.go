// Command ruledoc writes doc/rules.md: every rule by its record, with the rigs of its room, and the cases that no rule judges yet.
//
//	go run ./tools/newrule/ruledoc doc/rules.md
package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"campwright/check"
	"campwright/check/rules"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "ruledoc: error:", err)
		os.Exit(2)
	}
}

func run(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("want the file to write")
	}
	rooms := filepath.Join(filepath.Dir(args[0]), "..", "check", "rules")
	text, err := Page(rooms)
	if err != nil {
		return err
	}
	return os.WriteFile(args[0], text, 0o644)
}

// Page returns the text of doc/rules.md from the records and the folder of the rooms.
func Page(rooms string) ([]byte, error) {
	var b bytes.Buffer
	all := rules.All()
	fmt.Fprintf(&b, "# The rules\n\nWritten by `go generate ./check` from the records of the rules; edit those. %d rules judge; %d cases of the practice list wait or cannot be judged from a\nfile.\n", len(all), len(check.Later()))
	b.WriteString("\nVerdicts, worst first:\n\n")
	for _, v := range check.Verdicts() {
		fmt.Fprintf(&b, "- **%s**: %s\n", v, v.Meaning())
	}
	b.WriteString("\nEvery guess is taken at its bad end. What passes at one end and fails at the other is UNDECIDED, with the reading that settles it. A value that the\nowner marks as unknown never passes.\n")
	for _, r := range all {
		if err := one(&b, rooms, r); err != nil {
			return nil, err
		}
	}
	b.WriteString("\n# Cases without a rule\n")
	for _, k := range []struct{ kind, head string }{
		{"to come", "To come: the file can hold what they need, or soon will"}, {"question", "Questions: only a look or an answer tells"},
		{"commissioning", "Steps of the work and tests"}, {"reading", "Readings at the place"},
	} {
		fmt.Fprintf(&b, "\n## %s\n\n", k.head)
		for _, l := range check.Later() {
			if l.Kind == k.kind {
				fmt.Fprintf(&b, "- %s, %s: %s\n", l.ID, l.Title, l.Why)
			}
		}
	}
	b.WriteString("\n# Cautions\n\nEach stands once beside the findings that deal with its danger.\n\n")
	for _, c := range check.Cautions() {
		fmt.Fprintf(&b, "- **%s**: %s\n", c.Kind, c.Text)
	}
	fmt.Fprintf(&b, "\n%s\n", check.Local)
	return b.Bytes(), nil
}

// one writes one rule.
func one(b *bytes.Buffer, rooms string, r check.Rule) error {
	fmt.Fprintf(b, "\n## %s: %s\n\n%s\n\n", r.ID, r.Title, r.What)
	for _, p := range []struct{ head, text string }{
		{"Why", r.Why}, {"Where not", r.Except}, {"Inequality", "`" + r.Formula + "`"}, {"Worst verdict", r.Worst.String()}, {"Source", r.Source}, {"How sure", r.Sure},
		{"Asks", strings.Join(r.Questions, " ")}, {"Caution", r.Caution},
	} {
		if p.text != "" {
			fmt.Fprintf(b, "- %s: %s\n", p.head, p.text)
		}
	}
	room := strings.ToLower(r.ID)
	files, err := filepath.Glob(filepath.Join(rooms, room, "testdata", "*.yaml"))
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return fmt.Errorf("%s: no rigs in %s", r.ID, rooms)
	}
	b.WriteString("\nRigs that show it:\n\n")
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, says := "", []string{}
		for _, line := range strings.Split(string(text), "\n") {
			if e, ok := strings.CutPrefix(line, "# expect: "); ok {
				says = append(says, e)
			}
			if n, ok := strings.CutPrefix(line, "name: "); ok && name == "" {
				name = n
			}
		}
		if len(says) == 0 {
			says = []string{"nothing to find"}
		}
		fmt.Fprintf(b, "- [%s](../check/rules/%s/testdata/%s): %s\n", name, room, filepath.Base(path), strings.Join(says, "; "))
	}
	return nil
}

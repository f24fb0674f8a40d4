// Command oracle holds the program against a folder of independent answers and prints, for every file and field, how many values were
// compared, the worst of them, its tolerance and its place. It ends with 1 when anything is beyond its tolerance, not understood or
// missing, and with 2 when it is used wrongly.
//
//	go run ./tools/oracle [-json] DIR
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"campwright/internal/oracle"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("oracle", flag.ContinueOnError)
	flags.SetOutput(stderr)
	asJSON := flags.Bool("json", false, "write the whole judgement as JSON")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() != 1 {
		fmt.Fprintln(stderr, "oracle: error: one folder of answers is wanted")
		return 2
	}
	dir := flags.Arg(0)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		fmt.Fprintf(stderr, "oracle: error: %q is not a folder\n", dir)
		return 2
	}
	report := oracle.Run(os.DirFS(dir), dir)
	var err error
	if *asJSON {
		e := json.NewEncoder(stdout)
		e.SetIndent("", " ")
		err = e.Encode(report)
	} else {
		_, err = io.WriteString(stdout, render(report))
	}
	if err != nil {
		fmt.Fprintln(stderr, "oracle: error:", err)
		return 2
	}
	if report.Failed() {
		return 1
	}
	return 0
}

// render writes the judgement for people.
func render(r *oracle.Report) string {
	var b strings.Builder
	for _, file := range r.Files {
		fmt.Fprintf(&b, "%s\n", file)
		for _, l := range r.Lines {
			if l.File == file {
				b.WriteString(line(l))
			}
		}
	}
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "note: %s\n", n)
	}
	for _, f := range r.Faults {
		fmt.Fprintf(&b, "FAULT: %s\n", f)
	}
	beyond := slices.DeleteFunc(slices.Clone(r.Lines), func(l *oracle.Line) bool { return l.Beyond == 0 })
	verdict := "all within tolerance"
	if r.Failed() {
		verdict = fmt.Sprintf("FAILED: %d fields beyond tolerance, %d faults", len(beyond), len(r.Faults))
	}
	fmt.Fprintf(&b, "%d files, %d fields, %d comparisons: %s\n", len(r.Files), len(r.Lines), r.Compared(), verdict)
	return b.String()
}

// line writes one field.
func line(l *oracle.Line) string {
	mark := "  "
	if l.Beyond > 0 {
		mark = "! "
	}
	s := fmt.Sprintf("%s%-42s %8d compared, worst %.3g, allowed %s", mark, l.Field, l.Count, float64(l.Worst), l.Target)
	if l.Suggested != "" {
		s += fmt.Sprintf(" (file suggests %s)", l.Suggested)
	}
	if l.Beyond > 0 {
		s += fmt.Sprintf("; %d BEYOND, got %.12g, want %.12g", l.Beyond, float64(l.Got), l.Want)
	}
	if l.Worst != 0 {
		s += "; at " + l.Place
	}
	return s + "\n"
}

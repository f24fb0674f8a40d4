package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"campwright/design"
	"campwright/figure"
	"campwright/system"
)

type wireCmd struct {
	Rig   string `arg:"" type:"existingfile" help:"Rig file."`
	State string `help:"Show the runs in this state, such as 'full inverter'; the worst of all states when left out." placeholder:"NAME"`
	At    string `help:"Live or dead: what opening this fuse, switch or plug does." placeholder:"DEVICE"`
	JSON  bool   `name:"json" help:"Print the answer as JSON."`
	CSV   bool   `name:"csv" help:"Print runs and devices in every state as comma-separated values."`
	Why   bool   `help:"Print each choice of a proposal with the limit that forced it."`
}

func (c wireCmd) Help() string {
	return "Example:\n  campwright wire examples/desert-trailer.yaml --state 'full inverter'\n  campwright wire examples/desert-trailer.yaml --at 'main fuse'"
}

func (c wireCmd) Run(env Env) error {
	doc, err := loadRig(c.Rig)
	if err != nil {
		return err
	}
	w, err := design.Wire(doc)
	if err != nil {
		return err
	}
	if c.At != "" {
		return c.live(env.Stdout, w)
	}
	a := w.Answer()
	if c.State != "" && !hasState(&a, c.State) {
		return hinted{fmt.Errorf("no state %q", c.State), "the states of this rig: " + strings.Join(stateNames(&a), "; ")}
	}
	switch {
	case c.JSON:
		return printJSON(env.Stdout, a)
	case c.CSV:
		return c.csv(env.Stdout, &a)
	}
	return c.print(env.Stdout, &a)
}

func printJSON(w io.Writer, answer any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(answer)
}

func stateNames(a *design.Answer) []string {
	var names []string
	for i := range a.States {
		names = append(names, a.States[i].Name)
	}
	return names
}

func hasState(a *design.Answer, name string) bool {
	for _, s := range stateNames(a) {
		if s == name {
			return true
		}
	}
	return false
}

// print writes the answer for a terminal or a mail.
func (c wireCmd) print(out io.Writer, a *design.Answer) error {
	fmt.Fprintf(out, "%s: how is it wired?\n\n  %s\n\n", a.Rig, system.Once(a.Sentence))
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	tab := once{table}
	c.printStates(tab, a)
	c.printRuns(tab, a)
	printDevices(tab, a)
	printAC(tab, a)
	if c.Why {
		printChoices(tab, a)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	printRest(once{out}, a)
	_, err := fmt.Fprintf(out, "\nBook: %s. (p) proposed, (g) rests on a guess, (u) unknown, (m) measured.\n%s\n", a.Book, a.Caution)
	return err
}

func (c wireCmd) printStates(tab io.Writer, a *design.Answer) {
	fmt.Fprintln(tab, "STATE\tBANK V\tBANK A\tWHAT HAPPENS")
	for i := range a.States {
		s := &a.States[i]
		if c.State != "" && s.Name != c.State {
			continue
		}
		if s.Problem != "" {
			fmt.Fprintf(tab, "%s\t-\t-\tno operating point: %s\n", s.Name, s.Problem)
			continue
		}
		fmt.Fprintf(tab, "%s\t%.2f\t%+.1f\t%s\n", s.Name, *s.BankV, *s.BankA, s.Words)
		for _, n := range s.Notes {
			fmt.Fprintf(tab, "\t\t\t%s\n", n)
		}
	}
	fmt.Fprintln(tab)
}

// mark says how well a run is known.
func mark(known string) string {
	switch known {
	case "proposed":
		return " (p)"
	case "guess":
		return " (g)"
	case "unknown":
		return " (u)"
	case "measured":
		return " (m)"
	}
	return ""
}

// printAC prints the legs of the AC side, and below them what could not be told or run.
func printAC(tab io.Writer, a *design.Answer) {
	if len(a.AC) == 0 {
		return
	}
	between := func(x, low, high float64) string {
		if high-low < 0.05 {
			return fmt.Sprintf("%.1f", x)
		}
		return fmt.Sprintf("%.1f (%.1f to %.1f)", x, low, high)
	}
	fmt.Fprintln(tab, "AC FROM\tLEG\tA, ALL ON\tA FOR HOURS\tMADE UP A\tNEUTRAL A\tBREAKER A\tCORD A\t")
	for i := range a.AC {
		r := &a.AC[i]
		cord, made := "-", "-"
		if r.CordA > 0 {
			cord = fmt.Sprintf("%.0f", r.CordA)
		}
		if r.MadeUpA > 0 {
			made = fmt.Sprintf("%.1f", r.MadeUpA)
		}
		fmt.Fprintf(tab, "%s\t%s\t%s\t%s\t%s\t%s\t%.0f\t%s\t%s\n", r.Feed, r.Leg, between(r.OnA, r.OnLow, r.OnHigh), between(r.HoursA, r.HoursLow, r.HoursHigh), made,
			between(r.NeutralA, r.NeutralLo, r.NeutralHi), r.BreakerA, cord, r.Stands)
	}
	for i := range a.AC {
		r := &a.AC[i]
		if i > 0 && a.AC[i-1].Feed == r.Feed {
			continue
		}
		if len(r.Untold) > 0 {
			fmt.Fprintf(tab, "\tnot told which leg, from %s: %s\n", r.Feed, strings.Join(r.Untold, ", "))
		}
		if len(r.Left) > 0 {
			fmt.Fprintf(tab, "\tcannot run from %s: %s\n", r.Feed, strings.Join(r.Left, ", "))
		}
	}
	fmt.Fprintln(tab)
}

func (c wireCmd) printRuns(tab io.Writer, a *design.Answer) {
	if c.State != "" {
		fmt.Fprintf(tab, "RUN\tSIZE\tLENGTH\tA\tV FROM\tV TO\tDROP V\tLOSS W\n")
		for i := range a.Runs {
			r := &a.Runs[i]
			for _, at := range r.At {
				if at.State == c.State {
					fmt.Fprintf(tab, "%s%s\t%s\t%s\t%.1f\t%.2f\t%.2f\t%.3f\t%.1f\n", r.Name, mark(r.Known), r.Gauge, r.Length, at.Amps, at.FromV, at.ToV, at.DropV, at.LossW)
				}
			}
		}
		fmt.Fprintln(tab)
		return
	}
	fmt.Fprintf(tab, "RUN\tSIZE\tLENGTH\tMAY CARRY A\tMOST A\tIN STATE\tDROP\tAT THE ENDS OF ITS GUESSES\n")
	for i := range a.Runs {
		r := &a.Runs[i]
		ends := "-"
		if r.DropHigh > r.DropLow {
			ends = fmt.Sprintf("%.1f to %.1f %%", r.DropLow, r.DropHigh)
		}
		fmt.Fprintf(tab, "%s%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", r.Name, mark(r.Known), r.Gauge, r.Length, orDashNumber(r.Ampacity, 0), orDashNumber(r.WorstA, 1), orDash(r.WorstIn), dropText(r), ends)
	}
	fmt.Fprintln(tab)
}

func dropText(r *design.RunRow) string {
	if r.DropV == 0 {
		return "-"
	}
	return fmt.Sprintf("%.2f V, %.1f %%", r.DropV, r.DropPct)
}

func orDashNumber(x float64, decimals int) string {
	if x == 0 {
		return "-"
	}
	return strconv.FormatFloat(x, 'f', decimals, 64)
}

func printDevices(tab io.Writer, a *design.Answer) {
	fmt.Fprintf(tab, "DEVICE\tWHAT\tRATED A\tMOST A\tFAULT A\tCAN STOP A\tIN RUN\n")
	for i := range a.Devices {
		d := &a.Devices[i]
		what := d.Family
		if what == "" {
			what = d.Kind
		}
		fmt.Fprintf(tab, "%s%s\t%s\t%s\t%s\t%s\t%s\t%s\n", d.Name, mark(d.Known), what, orDashNumber(d.RatingA, -1), orDashNumber(d.WorstA, 1), orDashNumber(d.FaultA, 0), orDashNumber(d.Interrupt, 0)+backed(d), orDash(d.Run))
	}
	fmt.Fprintln(tab)
}

// backed marks a fuse through which a bolted short can drive more than it stops.
func backed(d *design.DeviceRow) string {
	switch {
	case d.Interrupt <= 0 || d.FaultA <= d.Interrupt:
		return ""
	case d.BackedBy == "":
		return " (!)"
	}
	return " (b)"
}

// printBacked tells what the marks at the fuses mean, where there are any.
func printBacked(out io.Writer, a *design.Answer) {
	var by []string
	bare := false
	for i := range a.Devices {
		d := &a.Devices[i]
		switch mark := backed(d); {
		case mark == " (b)" && !slices.Contains(by, d.BackedBy):
			by = append(by, d.BackedBy)
		case mark == " (!)":
			bare = true
		}
	}
	if len(by) > 0 {
		fmt.Fprintf(out, "(b) A bolted short can drive more through it than it stops: %s before it can stop that, and may open with it.\n", figure.Or(by))
	}
	if bare {
		fmt.Fprintln(out, "(!) A bolted short can drive more through it than it stops, and nothing before it stops that: take a family that stops more, longer leads, or a fuse at each block that stops its share.")
	}
}

func printChoices(tab io.Writer, a *design.Answer) {
	fmt.Fprintln(tab, "CHOSEN\tFOR\tBECAUSE\tOTHERWISE\tAT THE ENDS OF ITS LENGTH")
	for i := range a.Choices {
		c := &a.Choices[i]
		ends := ""
		if c.Short != c.Long {
			ends = c.Short + " to " + c.Long
		}
		fmt.Fprintf(tab, "%s\t%s\t%s\t%s\t%s\n", c.Chosen, c.Part, c.Why, c.Relax, ends)
	}
	fmt.Fprintln(tab)
}

// shownGuesses is how many guesses are printed.
const shownGuesses = 5

func printRest(out io.Writer, a *design.Answer) {
	printBacked(out, a)
	for i, g := range a.Guesses {
		if i == shownGuesses {
			fmt.Fprintf(out, "... and %d more guesses\n", len(a.Guesses)-i)
			break
		}
		fmt.Fprintf(out, "Guess: %s moves its drop by %.1f points; %s.\n", g.What, g.Moves, g.Measure)
	}
	for _, l := range a.Loose {
		fmt.Fprintf(out, "Not joined: %s: %s.\n", l.Part, l.Why)
	}
	for _, p := range a.Problems {
		fmt.Fprintf(out, "No standard part: %s.\n", p)
	}
}

// csv writes one row for each run and device, and a pair of columns for each state.
func (c wireCmd) csv(out io.Writer, a *design.Answer) error {
	w := csv.NewWriter(out)
	head := []string{"kind", "path", "name", "from", "to", "size", "length", "known", "may carry A", "rated A", "fault A", "can stop A"}
	for _, s := range stateNames(a) {
		head = append(head, s+" A", s+" drop V")
	}
	rows := [][]string{head}
	number := func(x float64) string {
		if x == 0 {
			return ""
		}
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	for i := range a.Runs {
		r := &a.Runs[i]
		row := []string{"run", r.Path, r.Name, r.From, r.To, r.Gauge, r.Length, r.Known, number(r.Ampacity), "", "", ""}
		at := map[string]design.RunAt{}
		for _, x := range r.At {
			at[x.State] = x
		}
		for _, s := range stateNames(a) {
			x, ok := at[s]
			if !ok {
				row = append(row, "", "")
				continue
			}
			row = append(row, strconv.FormatFloat(x.Amps, 'f', 2, 64), strconv.FormatFloat(x.DropV, 'f', 3, 64))
		}
		rows = append(rows, row)
	}
	for i := range a.Devices {
		d := &a.Devices[i]
		row := []string{"device", d.Path, d.Name, "", "", d.Family, "", d.Known, "", number(d.RatingA), number(d.FaultA), number(d.Interrupt)}
		rows = append(rows, append(row, make([]string, len(head)-len(row))...))
	}
	return w.WriteAll(rows)
}

// live prints what opening a device does.
func (c wireCmd) live(out io.Writer, w *design.Wired) error {
	a, err := w.Live(c.At)
	if err != nil {
		return hinted{err, "devices of this rig: " + system.Once(strings.Join(w.DeviceNames(), "; "))}
	}
	if c.JSON {
		return printJSON(out, a)
	}
	out = once{out}
	fmt.Fprintf(out, "%s\n\n", a.Sentence)
	list := func(title string, items []string) {
		if len(items) > 0 {
			fmt.Fprintf(out, "%s\n", title)
			for _, x := range items {
				fmt.Fprintf(out, "  %s\n", x)
			}
		}
	}
	list("Goes dark:", a.Dark)
	list("Fed by a charger alone, without the bank: the voltage may jump; open these too:", a.Unsteady)
	list("Still live towards "+a.Before.Towards+", from:", a.Before.Sources)
	list("Still live towards "+a.Behind.Towards+", from:", a.Behind.Sources)
	fmt.Fprintln(out, "To make the place dead, in this order:")
	for i, x := range a.Order {
		fmt.Fprintf(out, "  %d. %s\n", i+1, x)
	}
	list("No device takes these away; their own end stays live:", a.Remaining)
	list("Prove it dead:", a.Prove)
	_, err = fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

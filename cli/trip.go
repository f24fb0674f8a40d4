package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
	"campwright/trip"
)

type tripCmd struct {
	Rig     string `arg:"" type:"existingfile" help:"Rig file."`
	Weather string `help:"Weather file (EPW, TMY3, TMY2, NSRDB, JRC), or the word invented for the bundled year." placeholder:"FILE"`
	Step    int    `help:"Minutes of a step, 1 to 60." default:"5"`
	Members int    `help:"Runs of weather and guesses." default:"200"`
	Seed    uint64 `help:"Seed of those runs: the same seed gives the same answer." default:"1"`
	JSON    bool   `name:"json" help:"Print the answer as JSON."`
	Trace   bool   `help:"With --json: the typical run step by step too."`
	Working bool   `help:"Print the arithmetic behind each store."`
	Advise  bool   `help:"Also try what could be done: what to switch, hours of engine or generator, weak hookups."`
	Home    bool   `help:"Answer for the rig at home, month by month, in place of its trip."`
	Days    bool   `help:"Print a row for every day, however long the stay."`
}

func (t tripCmd) Help() string {
	return "Example:\n  campwright trip examples/desert-trailer.yaml --weather invented"
}

func (t tripCmd) Run(ctx context.Context, env Env) error {
	doc, err := loadRig(t.Rig)
	if err != nil {
		return err
	}
	full, gaps := system.Complete(trip.AsOf(doc))
	if len(gaps) > 0 {
		return gapError(gaps)
	}
	if t.Home || len(full.Trip) == 0 && full.Home != nil {
		return t.home(ctx, env, full)
	}
	answer, err := t.answer(ctx, env, full)
	if err != nil {
		return err
	}
	if !t.Trace {
		answer.Trace = trip.Trace{}
		if answer.Poor != nil {
			answer.Poor.Trace = trip.Trace{}
		}
	}
	if t.JSON {
		e := json.NewEncoder(env.Stdout)
		e.SetIndent("", "  ")
		return e.Encode(answer)
	}
	return t.print(env.Stdout, answer, full.Units())
}

// answer answers out of the climate of the places, or for one year of a weather file.
func (t tripCmd) answer(ctx context.Context, env Env, full rig.Rig) (trip.Answer, error) {
	if t.Weather != "" {
		return t.single(full)
	}
	plan, err := trip.NewPlan(full, trip.Locate)
	if err != nil {
		return trip.Answer{}, err
	}
	f, err := trip.NewForecast(plan, trip.Options{Members: t.Members, Seed: t.Seed, StepMin: t.Step})
	if err != nil {
		return trip.Answer{}, err
	}
	bar := newProgress(env)
	defer bar.clear()
	a, err := f.Answer(ctx, &full, bar.show)
	if err == nil && t.Advise {
		var advice trip.Advice
		advice, err = f.Advise(ctx, &full)
		a.Advice = &advice
	}
	return a, err
}

// single answers for the weather file, or the bundled year.
func (t tripCmd) single(full rig.Rig) (trip.Answer, error) {
	year, err := readYear(t.Weather, t.Step)
	if err != nil {
		return trip.Answer{}, err
	}
	plan, err := trip.NewPlan(full, func(p rig.Place) (trip.Spot, error) {
		spot, err := trip.Locate(p)
		if err != nil { // a camp of no name that the gazetteer knows is taken to be where the weather is from
			return trip.Spot{Name: p.Name, Place: year.Site, Zone: year.Start.Location()}, nil
		}
		return spot, nil
	})
	if err != nil {
		return trip.Answer{}, err
	}
	return trip.Single(plan, year, t.Step)
}

func gapError(gaps []system.Gap) error {
	lines := make([]string, len(gaps))
	for i, g := range gaps {
		lines[i] = g.Error()
	}
	return hinted{fmt.Errorf("the rig cannot be answered for yet:\n%s", strings.Join(lines, "\n")), "these cannot be guessed; everything else can be left out"}
}

// print writes the answer for a terminal or a mail, in one system of units.
func (t tripCmd) print(w io.Writer, a trip.Answer, units quantity.System) error {
	a = a.In(units)
	fmt.Fprintf(w, "%s: will it last?\n\n  %s\n\n", a.Rig, a.Sentence)
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tab, "STORE\tLASTS\tUSUALLY ENDS\tENDS IN THE STAY\tTYPICAL RUN")
	for _, s := range a.Stores {
		fmt.Fprintf(tab, "%s\t%s\t%s\t%s\t%s\n", s.Store, s.Text, orDash(s.EndsOn), s.Chance.Text, s.Why)
	}
	fmt.Fprintf(tab, "\n%s\n\n", a.Nights.Sentence)
	if a.Poor != nil {
		fmt.Fprintf(tab, "%s\n\n", a.Poor.Sentence)
	}
	for _, p := range a.Power {
		fmt.Fprintf(tab, "%s\n\n", p.Words)
	}
	t.printDays(tab, a, units)
	if len(a.Wrong) > 0 {
		fmt.Fprintln(tab, "WHAT WENT WRONG IN THE TYPICAL RUN")
	}
	for _, x := range a.Wrong {
		fmt.Fprintf(tab, "%s\n", x.Words)
	}
	if len(a.Wrong) > 0 {
		fmt.Fprintln(tab)
	}
	printLedger(tab, a.Ledger, units)
	if err := tab.Flush(); err != nil {
		return err
	}
	if t.Working {
		printWorkings(w, a, units)
	}
	printAdvice(w, a.Advice, units)
	for _, r := range a.Remarks {
		fmt.Fprintf(w, "Note: %s\n", r)
	}
	_, err := fmt.Fprintf(w, "\nWeather: %s. Steps of %d minutes. %d values left out were filled in (campwright show lists them).\n", a.Basis.Weather, a.Basis.StepMin, a.Basis.Defaults)
	return err
}

// shownDays is how many days are printed unless all are asked for.
const shownDays = 14

func (t tripCmd) printDays(w io.Writer, a trip.Answer, units quantity.System) {
	gas := slices.ContainsFunc(a.Stores, func(s trip.StoreEnd) bool { return s.Store == "propane" })
	fmt.Fprint(w, "NIGHT OF\tLOWEST\t5 TO 95 %\tAT\tIN Wh\tUSED Wh\tTHROWN AWAY Wh\t")
	if gas {
		fmt.Fprint(w, "PROPANE LEFT\t")
	}
	fmt.Fprintln(w, "AIR"+degreeSign(units))
	for i, d := range a.Days {
		if i == shownDays && !t.Days && len(a.Days) > shownDays+2 {
			fmt.Fprintf(w, "... and %d more nights (--days prints all)\n", len(a.Days)-i)
			break
		}
		day, _ := time.Parse("2006-01-02", d.Date)
		fmt.Fprintf(w, "%s\t%.0f %%\t%.0f to %.0f\t%s\t%.0f\t%.0f\t%.0f\t", day.Format("Mon 2 Jan"), 100*d.LowSoC, 100*d.BandLow, 100*d.BandHigh, d.LowAt, d.InWh, d.OutWh, d.ThrownWh)
		if gas {
			fmt.Fprintf(w, "%.0f %%\t", 100*d.GasLeft)
		}
		fmt.Fprintf(w, "%s to %s", degrees(d.AirLowC, units), degrees(d.AirHighC, units))
		if len(d.Dark) > 0 {
			fmt.Fprintf(w, "\t%s", strings.Join(d.Dark, "; "))
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w)
}

// degrees writes an air temperature as a whole number in a system of units, and degreeSign what follows it.
func degrees(tC float64, units quantity.System) string {
	if units == quantity.US {
		tC = tC*1.8 + 32
	}
	return quantity.Digits(tC, 3, 0)
}

func degreeSign(units quantity.System) string {
	if units == quantity.US {
		return " °F"
	}
	return " °C"
}

func printLedger(w io.Writer, l trip.Ledger, units quantity.System) {
	fmt.Fprintln(w, "ENERGY A DAY\tWh")
	for _, part := range []struct {
		name    string
		entries []trip.Entry
	}{{"from ", l.Sources}, {"to ", l.Uses}, {"lost in ", l.Losses}, {"before that, lost in ", l.Upstream}, {"thrown away: ", l.Thrown}, {"", l.Unmet}, {"taken from ", l.AC}} {
		for _, e := range part.entries {
			fmt.Fprintf(w, "%s%s\t%.0f\n", part.name, e.Name, e.PerDay)
		}
	}
	for _, e := range l.Propane {
		fmt.Fprintf(w, "propane to %s\t%s\n", e.Name, quantity.Format(quantity.Quantity{Base: e.PerDay, Kind: quantity.Mass}, units))
	}
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// printWorkings writes the arithmetic behind each store.
func printWorkings(w io.Writer, a trip.Answer, units quantity.System) {
	fmt.Fprintln(w, "\nWORKING")
	for _, s := range a.Stores {
		for _, line := range figure.Explain(s.Lasts, units) {
			fmt.Fprintf(w, "  %s\n", line)
		}
	}
	fmt.Fprintln(w)
}

// printAdvice writes what could be done.
func printAdvice(w io.Writer, a *trip.Advice, units quantity.System) {
	if a == nil {
		return
	}
	if len(a.Ways) > 0 {
		fmt.Fprintln(w, "\nWHAT TO DO")
	}
	for _, x := range a.Ways {
		fmt.Fprintf(w, "  %s: %s: it then lasts %s; %s.", x.Store, x.Words, x.Text, x.Next)
		if len(x.Costs) > 0 {
			fmt.Fprintf(w, " Takes %s a day.", figure.List(x.Costs))
		}
		fmt.Fprintln(w)
	}
	if len(a.Switches) > 0 {
		tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintln(tab, "\nTO SWITCH\tSAVES Wh/d\tCOSTS PROPANE A DAY\tBATTERY THEN LASTS")
		for _, s := range a.Switches {
			fmt.Fprintf(tab, "%s %s\t%.0f\t%s\t%s\n", s.Appliance, s.Words, s.SavesWh, quantity.Format(quantity.Quantity{Base: max(0, s.CostsKg), Kind: quantity.Mass}, units), s.Text)
		}
		tab.Flush()
	}
	for _, m := range a.MakeUp {
		fmt.Fprintf(w, "\n%s", m.Words)
		if m.HoursD > 0 && m.Caution != "" {
			fmt.Fprintf(w, " %s", m.Caution)
		}
		fmt.Fprintln(w)
	}
	for _, h := range a.Hookups {
		fmt.Fprintln(w, h.Words)
	}
	fmt.Fprintln(w)
}

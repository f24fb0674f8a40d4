package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"

	"campwright/figure"
	"campwright/rig"
	"campwright/starter"
)

type newCmd struct {
	File         string   `arg:"" optional:"" help:"File to write, which must not exist yet; standard output when left out."`
	Name         string   `help:"What you call the rig."`
	Kind         string   `help:"What it is: motorhome, travel trailer, fifth wheel, van or truck camper."`
	People       int      `help:"How many live aboard."`
	Place        string   `help:"Where it will stand: a town, or a position such as '33.5 N 114.2 W'."`
	When         string   `help:"From when: a month, or a day such as 2027-01-05."`
	Nights       int      `help:"Nights between hookups."`
	Refrigerator string   `help:"What feeds the refrigerator: propane, electric, household or none."`
	Heat         string   `help:"What feeds the heat: propane, diesel, electric or none."`
	Wish         []string `help:"What else must run, such as '2 laptops,internet,microwave'; none for nothing."`
	Usual        bool     `help:"Take the usual answer where a flag gives none, and do not ask."`
}

func (newCmd) Help() string {
	return "Asks for what no flag answers, on a terminal; elsewhere it takes the usual answers. What was not answered is remarked in the file as taken.\n\n" +
		"Example:\n  campwright new larkspur.yaml --kind van --place Moab --when 2027-05-01 --nights 5"
}

func (c newCmd) Run(ctx context.Context, env Env) error {
	if c.File != "" {
		if _, err := os.Lstat(c.File); err == nil {
			return existsError(c.File)
		}
	}
	now := time.Now()
	a := starter.Answers{
		Name: c.Name, Kind: c.Kind, People: c.People, Place: c.Place, When: c.When, Nights: c.Nights, Refrigerator: c.Refrigerator, Heat: c.Heat,
		Today: rig.Date{Year: now.Year(), Month: int(now.Month()), Day: now.Day(), State: figure.Plain},
	}
	if c.Wish != nil {
		if err := a.Set("wishes", strings.Join(c.Wish, ", ")); err != nil {
			a.Wishes = c.Wish // told again with all other faults
		}
	}
	if env.Asks && !c.Usual {
		if err := c.ask(ctx, env, &a); err != nil {
			return err
		}
	}
	start, err := starter.Build(a)
	var faults starter.Faults
	switch {
	case errors.As(err, &faults):
		return hinted{fmt.Errorf("some answers cannot be used:\n%w", err), "nothing was written; campwright new --help tells what may be said"}
	case err != nil:
		return err
	case c.File == "":
		_, err := env.Stdout.Write(start.Text)
		return err
	}
	if err := writeNew(c.File, start.Text); err != nil {
		return err
	}
	return c.report(env.Stdout, start)
}

// given tells which questions the flags answer.
func (c newCmd) given() map[string]bool {
	return map[string]bool{
		"kind": c.Kind != "", "people": c.People != 0, "place": c.Place != "", "when": c.When != "", "nights": c.Nights != 0,
		"refrigerator": c.Refrigerator != "", "heat": c.Heat != "", "wishes": c.Wish != nil,
	}
}

// ask asks what no flag answers, one question after the other. An empty line takes the usual answer, one that cannot be used is asked again.
func (c newCmd) ask(ctx context.Context, env Env, a *starter.Answers) error {
	lines := readLines(ctx, env.Stdin)
	given := c.given()
	for _, q := range starter.Questions() {
		if given[q.Key] {
			continue
		}
		choices := ""
		if len(q.Choices) > 0 {
			choices = " (" + strings.Join(q.Choices, ", ") + ")"
		}
		for {
			fmt.Fprintf(env.Stderr, "%d. %s%s [%s] ", q.Number, q.Ask, choices, q.Usual)
			line, ok := lines()
			if !ok {
				fmt.Fprintln(env.Stderr)
				return hinted{errors.New("the questions were left"), "nothing was written; campwright new --usual takes the usual answers without asking"}
			}
			err := a.Set(q.Key, line)
			if err == nil {
				break
			}
			fmt.Fprintf(env.Stderr, "campwright: %v\n", err)
		}
	}
	return nil
}

// readLines returns a function that gives the next line of a reader, false when there is none any more or the context ends first.
func readLines(ctx context.Context, r io.Reader) func() (string, bool) {
	lines := make(chan string)
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(r); s.Scan(); {
			select {
			case lines <- s.Text():
			case <-ctx.Done():
				return
			}
		}
	}()
	return func() (string, bool) {
		select {
		case line, ok := <-lines:
			return line, ok
		case <-ctx.Done():
			return "", false
		}
	}
}

// writeNew writes a file that must not exist yet, and leaves nothing behind when it fails.
func writeNew(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return existsError(path)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

func existsError(path string) error {
	return hinted{fmt.Errorf("%s exists already", path), "nothing was written; name another file"}
}

// report says what was written and what comes next.
func (c newCmd) report(w io.Writer, s starter.Start) error {
	stop := s.Rig.Trip[0]
	fmt.Fprintf(w, "%s: a first sheet for a %s, %s nights at %s.\n\n", c.File, s.Rig.Kind, stop.Nights.Text(), stop.Place.Text())
	fmt.Fprintf(w, "  uses   %5.0f Wh a day\n  sun    %5.0f Wh a day from %.0f W of array, on a mean day of %s\n  bank   %5.0f Wh down to its reserve\n",
		s.Sums.UseWh, s.Sums.HarvestWh, s.Sums.ArrayW, s.Sums.Month, s.Sums.BankWh)
	for _, r := range s.Remarks {
		fmt.Fprintf(w, "\nNote: %s\n", r)
	}
	_, err := fmt.Fprintf(w, "\nNext: campwright show %s, campwright trip %s\n", c.File, c.File)
	return err
}

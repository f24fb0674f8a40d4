package design

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

func (w *Wired) runRow(i int) RunRow {
	n := w.Net()
	r := &n.Runs[i]
	row := RunRow{Path: r.Path, Name: r.Title(), From: r.From, To: r.To, Side: r.Side.String(), Pair: r.Pair(), Known: w.known(r), At: []RunAt{}}
	row.Gauge, row.Length = r.Use.Gauge.String(), lengthText(r)
	if r.Unknown {
		row.Gauge = "unknown"
	}
	if rating, err := conductor.Ampacity(r.Use); err == nil && !r.Unknown {
		row.Ampacity, row.Book = round(rating.Amps, 1), rating.Origin.String()
		if limit, err := conductor.LargestFuse(rating, r.Volts); err == nil {
			row.MostFuse = round(limit.Amps, 1)
		}
	}
	if cord, from := n.CordAmps(); r.Path == "shore/cord" && cord > 0 {
		row.Ampacity, row.Book, row.MostFuse = round(cord, 1), from, round(cord, 1)
	}
	for k := range w.Solved[atNominal] {
		s := &w.Solved[atNominal][k]
		if s.Problem != "" {
			continue
		}
		at := s.Runs[i]
		row.At = append(row.At, RunAt{s.State.Name, round(at.Amps, 2), round(at.FromV, 3), round(at.ToV, 3), round(at.DropV, 3), round(at.LossW, 2)})
		if a := math.Abs(at.Amps); a > row.WorstA && !s.State.Surge {
			row.WorstA, row.WorstIn = round(a, 2), s.State.Name
		}
		if at.DropV > row.DropV && !s.State.Surge {
			row.DropV, row.DropPct, row.DropIn = round(at.DropV, 3), round(100*at.DropShare, 2), s.State.Name
			row.DropLow, row.DropHigh = w.dropEnds(i, k, at)
		}
	}
	return row
}

// dropEnds returns the drop of a run with the least and the most resistance that the guesses allow [%].
func (w *Wired) dropEnds(run, state int, at system.RunAt) (low, high float64) {
	low, high = at.DropShare, at.DropShare
	for _, lean := range []int{atLeast, atMost} {
		if s := &w.Solved[lean][state]; s.Problem == "" {
			low, high = math.Min(low, s.Runs[run].DropShare), math.Max(high, s.Runs[run].DropShare)
		}
	}
	return round(100*low, 2), round(100*high, 2)
}

// known says how well a run is known: written by the owner or proposed, measured, guessed or unknown.
func (w *Wired) known(r *system.Run) string {
	switch {
	case r.FromMeter:
		return "measured"
	case r.Unknown:
		return "unknown"
	case !w.isWritten(r.Path):
		return "proposed"
	case len(r.Guessed) > 0:
		return "guess"
	}
	return "written"
}

// isWritten tells whether a path was in the owner's file, and is not a proposal.
func (w *Wired) isWritten(path string) bool {
	if !strings.HasPrefix(path, "wiring/") {
		return true
	}
	return slices.Contains(w.Said.RunPaths(), path) || slices.Contains(branchPaths(&w.Said), path) ||
		slices.ContainsFunc(w.Said.RunPaths(), func(run string) bool { return strings.HasPrefix(path, run+"/") }) ||
		slices.ContainsFunc(branchPaths(&w.Said), func(branch string) bool { return strings.HasPrefix(path, branch+"/") })
}

func branchPaths(doc *rig.Rig) []string {
	var list []string
	if doc.Wiring != nil {
		for i := range doc.Wiring.FuseBlocks {
			list = append(list, doc.Wiring.FuseBlocks[i].BranchPaths()...)
		}
	}
	return list
}

// lengthText writes a run's length, a guess with its ends.
func lengthText(r *system.Run) string {
	if r.FromMeter {
		return "measured"
	}
	v := r.Length
	q := func(m float64) string {
		unit := "ft"
		if strings.HasPrefix(v.Quantity.Unit, "m") || v.Quantity.Unit == "cm" {
			unit = "m"
		}
		return quantity.In(quantity.Quantity{Base: m, Kind: quantity.Length}, unit)
	}
	switch {
	case v.State == figure.Plain || v.State == figure.Measured:
		return v.Quantity.String()
	case v.High > v.Low:
		return fmt.Sprintf("about %s (%s to %s)", q(v.Quantity.Base), q(v.Low), q(v.High))
	}
	return "about " + q(v.Quantity.Base)
}

func (w *Wired) deviceRow(i int) DeviceRow {
	n := w.Net()
	d := &n.Devices[i]
	row := DeviceRow{Path: d.Path, Name: d.Title(n), Kind: d.Kind, Family: d.Family, RatingA: d.RatingA, VoltsDC: d.VoltsDC, Interrupt: d.InterruptA, FaultA: round(w.Faults[i].Amps, 0), Known: "written"}
	if d.Run >= 0 {
		row.Run = n.Runs[d.Run].Title()
	}
	if !w.isWritten(d.Path) {
		row.Known = "proposed"
	}
	for k := range w.Solved[atNominal] {
		s := &w.Solved[atNominal][k]
		if a := s.AmpsThrough(n, i); a > row.WorstA && !s.State.Surge {
			row.WorstA, row.WorstIn = round(a, 2), s.State.Name
		}
	}
	return row
}

// guesses lists what nobody measured, the one that moves a drop most first.
func (w *Wired) guesses(rows []RunRow) []Guess {
	n := w.Net()
	var list []Guess
	for i := range n.Runs {
		r := &n.Runs[i]
		for _, path := range r.Guessed {
			g := Guess{Path: path, Moves: round(rows[i].DropHigh-rows[i].DropLow, 2)}
			g.What = "length of " + r.Title()
			g.Measure = "lay a tape or a string along its way"
			if strings.HasSuffix(path, "gauge") {
				g.What = "size of " + r.Title()
				g.Measure = "read the print on the insulation, or measure the voltage at both ends and the current through it"
			}
			list = append(list, g)
		}
	}
	slices.SortStableFunc(list, func(a, b Guess) int {
		switch {
		case a.Moves > b.Moves:
			return -1
		case a.Moves < b.Moves:
			return 1
		}
		return 0
	})
	return list
}

// sentence says in one breath how the rig is wired.
func (w *Wired) sentence(a *Answer) string {
	proposed, unknown := 0, 0
	for i := range a.Runs {
		switch a.Runs[i].Known {
		case "proposed":
			proposed++
		case "unknown":
			unknown++
		}
	}
	text := fmt.Sprintf("%d runs", len(a.Runs))
	switch {
	case proposed == len(a.Runs):
		text += ", all proposed"
	case proposed > 0:
		text += fmt.Sprintf(", %d of them proposed", proposed)
	}
	if unknown > 0 {
		text += fmt.Sprintf(", %d of unknown size", unknown)
	}
	text += fmt.Sprintf("; %d fuses, switches and plugs", len(a.Devices))
	for i := range a.States {
		if s := &a.States[i]; s.Problem != "" {
			what := "more than its line can carry is asked for"
			if s.Load != "" {
				what = s.Load + " asks more than its line can carry"
			}
			return text + ". With " + s.Name + " " + what + "."
		}
	}
	return text + w.inverterText() + "."
}

// inverterText tells the most telling number of a rig with an inverter: what is lost between the bank's posts and the inverter at full load.
func (w *Wired) inverterText() string {
	for k := range w.Solved[atNominal] {
		s := &w.Solved[atNominal][k]
		if s.State.Name != system.StateInverter || s.Problem != "" {
			continue
		}
		for i := range w.Sys.Inverters {
			p, ok := s.Part("inverter " + w.Sys.Inverters[i].Name)
			if ok {
				lost := s.BankPostsV() - p.Volts
				return fmt.Sprintf("; at full inverter load %.0f A reach %s at %.2f V, %.2f V (%.1f %%) below the bank's posts", p.Amps, p.Name, p.Volts, lost, 100*lost/w.Net().BankV)
			}
		}
	}
	return ""
}

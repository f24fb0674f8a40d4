package web

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"campwright/conductor"
	"campwright/design"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// asTaken is the place among the networks of a solved rig at which every guess is as taken.
const asTaken = 1

func wiredRun(w *design.Wired, a *design.Answer, i int, texts wiredTexts) WiredRun {
	r, row := &w.Net().Runs[i], &a.Runs[i]
	v := WiredRun{
		Path: row.Path, Name: once.Replace(row.Name), From: row.From, To: row.To, Known: row.Known, Gauge: gaugeText(r), Length: valueText(r.Length), LengthWay: states[r.Length.State],
		Devices: []string{}, Ampacity: amps(row.Ampacity), MostFuse: amps(row.MostFuse), Book: row.Book, At: []WiredAt{}, WorstIn: row.WorstIn, DropIn: row.DropIn,
		Choices: []WiredChoice{}, Along: []string{}, Measure: []string{}, Values: texts.ofRun(row, r),
	}
	for _, k := range along(w, a.Runs, i) {
		if k != i {
			v.Along = append(v.Along, once.Replace(a.Runs[k].Name))
		}
	}
	if r.FromMeter {
		v.Length, v.LengthWay = Both{"as metered", "as metered"}, states[figure.Measured]
	}
	for _, d := range r.Devices {
		v.Devices = append(v.Devices, w.Net().Devices[d].Path)
	}
	for k := range w.Solved[asTaken] {
		if s := &w.Solved[asTaken][k]; s.Problem == "" {
			at := s.Runs[i]
			v.At = append(v.At, wiredAt(at.Amps, at.DropV, at.DropShare, at.LossW, row.Ampacity))
		} else {
			v.At = append(v.At, WiredAt{})
		}
	}
	if row.WorstA > 0 {
		v.Worst = wiredAt(row.WorstA, row.DropV, row.DropPct/100, 0, row.Ampacity)
		v.Worst.Loss = ""
	}
	if row.DropHigh > row.DropLow {
		v.Ends = joined(fixed(row.DropLow, 1, "%"), fixed(row.DropHigh, 1, "%"))
	}
	for _, g := range a.Guesses {
		if slices.Contains(r.Guessed, g.Path) {
			v.Measure = joinTexts(v.Measure, []string{g.Measure})
		}
	}
	for i := range a.Choices {
		if c := &a.Choices[i]; within(c.Path, row.Path) {
			v.Choices = append(v.Choices, wiredChoice(c))
		}
	}
	return v
}

func wiredAt(current, drop, share, loss, ampacity float64) WiredAt {
	at := WiredAt{Amps: quantity.Digits(current, 3, 1) + " A", Drop: fixed(drop, 2, "V"), Share: fixed(100*share, 1, "%"), Loss: quantity.Digits(loss, 2, 1) + " W"}
	if ampacity > 0 {
		at.Bar = math.Abs(current) / ampacity
		at.Load = wholePercent(at.Bar)
	}
	return at
}

// gaugeText is a conductor's size in both systems, with the size under which it is sold beside one that is none.
func gaugeText(r *system.Run) Both {
	switch {
	case r.FromMeter:
		return Both{"as metered", "as metered"}
	case r.Unknown:
		return Both{"not known", "not known"}
	}
	g := r.Use.Gauge
	text := of(g.Section(), quantity.Section)
	if g.System() == conductor.AWG {
		return Both{US: g.String(), Metric: text.Metric + " (" + g.String() + ")"}
	}
	return Both{US: text.Metric + " (" + text.US + ")", Metric: text.Metric}
}

func wiredDevice(w *design.Wired, a *design.Answer, i int, texts wiredTexts) WiredDevice {
	d, solved := &a.Devices[i], &w.Net().Devices[i]
	var run *design.RunRow
	if solved.Run >= 0 {
		run = &a.Runs[solved.Run]
	}
	v := WiredDevice{
		Path: d.Path, Name: once.Replace(d.Name), What: d.Family, Rating: amps(d.RatingA), Run: once.Replace(d.Run), Worst: amps(d.WorstA), WorstIn: d.WorstIn, Known: d.Known,
		Opens: d.Kind != "shunt", Fault: amps(d.FaultA), Stops: amps(d.Interrupt), Values: texts.ofDevice(d, solved, run),
	}
	if v.What == "" {
		v.What = d.Kind
	}
	if d.VoltsDC > 0 {
		v.Volts = quantity.Digits(d.VoltsDC, 3, 1) + " V"
	}
	if at := slices.IndexFunc(a.Choices, func(c design.Choice) bool { return c.Path == d.Path }); at >= 0 {
		c := wiredChoice(&a.Choices[at])
		v.Choice = &c
	}
	protects := d.Kind == "fuse" || d.Kind == "breaker"
	switch {
	case d.FaultA == 0:
	case d.Interrupt > 0:
		v.Bar = d.FaultA / d.Interrupt
		v.Over = d.FaultA > d.Interrupt
		v.Words = stopWords(d)
	case protects:
		v.Words = "what it can stop is not known"
	default:
		v.Words = "not made to stop it"
	}
	return v
}

// stopWords tells whether a fuse stops what a short drives through it, and where it does not what stands behind it.
func stopWords(d *design.DeviceRow) string {
	switch {
	case d.FaultA <= d.Interrupt:
		return "can stop it"
	case d.BackedBy != "":
		return "more than it can stop by itself: " + once.Replace(d.BackedBy) + " before it can, and may open with it"
	}
	return "more than it can stop, and nothing before it can: take a kind that stops more"
}

func wiredChoice(c *design.Choice) WiredChoice {
	v := WiredChoice{Path: c.Path, Part: c.Part, Chosen: inBoth(c.Chosen), Why: inBoth(c.Why), Relax: inBoth(c.Relax), Book: c.Book, Final: c.Final}
	if c.Short != "" && c.Short != c.Long {
		v.Ends = inBoth(c.Short + " at its short end, " + c.Long + " at its long end")
	}
	return v
}

// facts are the ends of the answer: the worst drop, the hottest run, the largest fault and the guess that moves most.
func (t *WiredSheet) facts(a *design.Answer) {
	var drop, hot *design.RunRow
	for i := range a.Runs {
		r := &a.Runs[i]
		if r.DropV > 0 && (drop == nil || r.DropPct > drop.DropPct) {
			drop = r
		}
		if r.Ampacity > 0 && r.WorstA > 0 && (hot == nil || r.WorstA/r.Ampacity > hot.WorstA/hot.Ampacity) {
			hot = r
		}
	}
	if drop != nil {
		t.Facts = append(t.Facts, WiredFact{"Worst drop", fixed(drop.DropPct, 1, "%"), drop.Name, fixed(drop.DropV, 2, "V") + ", " + drop.DropIn})
	}
	if hot != nil {
		t.Facts = append(t.Facts, WiredFact{"Hottest run", wholePercent(hot.WorstA / hot.Ampacity), hot.Name, amps(hot.WorstA) + " of " + amps(hot.Ampacity) + " it may carry, " + hot.WorstIn})
	}
	var fault *design.DeviceRow
	for i := range a.Devices {
		d := &a.Devices[i]
		if (d.Kind == "fuse" || d.Kind == "breaker") && d.FaultA > 0 && (fault == nil || d.FaultA > fault.FaultA) {
			fault = d
		}
	}
	if fault != nil {
		note := "what it can stop is not known"
		if fault.Interrupt > 0 {
			note = "it can stop " + amps(fault.Interrupt)
		}
		t.Facts = append(t.Facts, WiredFact{"Largest fault", amps(fault.FaultA), fault.Name, note})
	}
	if len(t.Guesses) > 0 {
		g := t.Guesses[0]
		t.Facts = append(t.Facts, WiredFact{"Guess that moves most", g.Moves + " points", g.What, g.Measure})
	}
}

// amps is a current; empty where it is zero, which here means that none is known.
func amps(a float64) string {
	if a == 0 {
		return ""
	}
	if a < 0.05 {
		return "under 0.1 A"
	}
	return quantity.Digits(a, 3, 1) + " A"
}

// fixed writes a number of a column with so many decimals.
func fixed(x float64, decimals int, unit string) string {
	text := strconv.FormatFloat(math.Abs(x), 'f', decimals, 64)
	if x < 0 && strings.Trim(text, "0.") != "" {
		text = "\u2212" + text
	}
	return text + " " + unit
}

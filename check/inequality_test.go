package check

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/figure"
	"campwright/internal/near"
	"campwright/quantity"
)

// wire is the drop of a current over a resistance against a limit, an inequality that needs no rig.
func wire(amps, ohm, limit figure.Term) Inequality {
	return Inequality{
		Formula: "U = I × R ≤ Umax", Name: "drop", Kind: quantity.Voltage, Inputs: []figure.Term{amps, ohm, limit},
		Hints: map[string]string{"R": "measure the cable"}, Source: Practice,
	}
}

func term(symbol string, kind quantity.Kind, x, low, high float64, state figure.State) figure.Term {
	return figure.Term{Symbol: symbol, Figure: figure.Figure{Name: symbol, Value: x, Low: low, High: high, Kind: kind, State: state}}
}

// TestVerdicts: nominal decides a breach, unless it is a guess's bad end already; the bad end decides a pass, and an unknown
// never passes and fails only what fails wherever it lies. All by hand: 10 A over a resistance against 1 V.
func TestVerdicts(t *testing.T) {
	amps, limit := Number("I", "current", quantity.Current, 10, "test"), Number("Umax", "limit", quantity.Voltage, 1, "test")
	for _, x := range []struct {
		name         string
		ohm          figure.Term
		want         Verdict
		margin       float64
		measure      string
		spare        float64
		holds, worst bool
	}{
		{"firm and good", term("R", quantity.Resistance, 0.05, 0.05, 0.05, figure.Plain), Pass, 0.5, "", 0, true, true},
		{"firm and over", term("R", quantity.Resistance, 0.12, 0.12, 0.12, figure.Plain), Fail, -0.2, "", 0, false, false},
		{"at the limit", term("R", quantity.Resistance, 0.1, 0.1, 0.1, figure.Plain), Pass, 0, "", 0, true, true},
		{"a guess that is good at both ends", term("R", quantity.Resistance, 0.05, 0.04, 0.08, figure.About), Pass, 0.2, "", 0, true, true},
		{"a guess that fails at its bad end", term("R", quantity.Resistance, 0.05, 0.04, 0.12, figure.About), Undecided, -0.2, "measure the cable", 0, true, false},
		{"a guess that fails at nominal and not at its good end", term("R", quantity.Resistance, 0.12, 0.04, 0.2, figure.About), Fail, -0.2, "", 0, false, false},
		{"a guess taken at its bad end, good at its other", term("R", quantity.Resistance, 0.12, 0.04, 0.12, figure.About), Undecided, -0.2, "measure the cable", 0, false, false},
		{"a guess taken at its bad end, bad at both", term("R", quantity.Resistance, 0.12, 0.11, 0.12, figure.About), Fail, -0.2, "", 0, false, false},
		{"unknown, and good over its whole span", term("R", quantity.Resistance, 0.05, 0.04, 0.08, figure.Unknown), Undecided, 0.2, "measure the cable", 0, true, true},
		{"unknown without a span", term("R", quantity.Resistance, 0.05, 0.05, 0.05, figure.Unknown), Undecided, 0.5, "measure the cable", 0, true, true},
		{"unknown, over in the middle of its span and not at its good end", term("R", quantity.Resistance, 0.12, 0.04, 0.2, figure.Unknown), Undecided, -0.2, "measure the cable", 0, false, false},
		{"unknown, and over in all of its span", term("R", quantity.Resistance, 0.15, 0.11, 0.2, figure.Unknown), Fail, -0.5, "", 0, false, false},
		{"unknown without a span, and over", term("R", quantity.Resistance, 0.12, 0.12, 0.12, figure.Unknown), Undecided, -0.2, "measure the cable", 0, false, false},
		{"less than what must be left", term("R", quantity.Resistance, 0.098, 0.098, 0.098, figure.Plain), Warn, 0.02, "", 0.03, true, true},
		{"what must be left, and no less", term("R", quantity.Resistance, 0.097, 0.097, 0.097, figure.Plain), Pass, 0.03, "", 0.03 - 1e-12, true, true},
	} {
		t.Run(x.name, func(t *testing.T) {
			q := wire(amps, x.ohm, limit)
			q.Spare = x.spare
			j := q.Judge()
			o := j.Outcome("here", "here", Fail)
			if o.Verdict != x.want || j.Holds != x.holds || j.HoldsBad != x.worst {
				t.Errorf("%s, holds %v, at the bad end %v; wanted %s, %v, %v", o.Verdict, j.Holds, j.HoldsBad, x.want, x.holds, x.worst)
			}
			near.Abs(t, "margin", *o.Margin, x.margin, 1e-12, "arithmetic by hand")
			if got := strings.Join(o.Measure, ""); got != x.measure {
				t.Errorf("measure %q, wanted %q", got, x.measure)
			}
			if err := Recompute(j.Working, 1e-12); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestCorners: the bad end of several guesses is their worst corner, whichever way each of them pulls.
func TestCorners(t *testing.T) {
	q := Inequality{
		Formula: "x = a / b − c ≥ d", Name: "x", Kind: quantity.Count,
		Inputs: []figure.Term{
			term("a", quantity.Count, 10, 8, 12, figure.About), term("b", quantity.Count, 2, 1, 4, figure.About),
			term("c", quantity.Count, 1, 0, 2, figure.Default), Number("d", "d", quantity.Count, 0.5, "test"),
		},
	}
	j := q.Judge()
	low, high := math.Inf(1), math.Inf(-1)
	tried := 0
	for _, a := range []float64{8, 12} {
		for _, b := range []float64{1, 4} {
			for _, c := range []float64{0, 2} {
				x := a/b - c
				low, high = math.Min(low, x), math.Max(high, x)
				tried++
			}
		}
	}
	if tried != 8 {
		t.Fatal("corners not tried")
	}
	near.Abs(t, "low end", j.Working.Terms[0].Figure.Low, low, 1e-12, "all corners by brute force")
	near.Abs(t, "high end", j.Working.Terms[0].Figure.High, high, 1e-12, "all corners by brute force")
	if j.Verdict(Fail) != Undecided || len(j.Measure) != 3 || !strings.Contains(j.Measure[0], " b") {
		t.Errorf("%s, measure %q: wanted the guess that moves it most first", j.Verdict(Fail), j.Measure)
	}
}

// TestNoNumber: a result that is no number is the worst there is, and shows no margin.
func TestNoNumber(t *testing.T) {
	q := wire(Number("I", "current", quantity.Current, 10, "test"), term("R", quantity.Resistance, 0.05, 0.05, 0.05, figure.Plain), Number("Umax", "limit", quantity.Voltage, 1, "test"))
	q.Result = func(Inputs) float64 { return math.NaN() }
	o := q.Judge().Outcome("here", "here", Fail)
	if o.Verdict != Fail || o.Margin != nil {
		t.Errorf("%s, margin %v", o.Verdict, o.Margin)
	}
}

// TestShow: a working as people read it.
func TestShow(t *testing.T) {
	w := figure.Working{Formula: "Vcold = n × Voc × (1 + β × (Tlow − 25)) ≤ Vmax", Terms: []figure.Term{
		Number("Vcold", "", quantity.Voltage, 101.242, ""), Number("n", "", quantity.Count, 4, ""), Number("Voc", "", quantity.Voltage, 22.3, ""),
		Number("β", "", quantity.PerDegree, -0.003, ""), Number("Tlow", "", quantity.Temperature, -20, ""), Number("Vmax", "", quantity.Voltage, 100, ""),
	}}
	const want = "4 × 22.3 V × (1 + (−0.3 %/°C) × (−20 °C − 25)) = 101.2 V, must be ≤ 100 V"
	if got := Show(w, quantity.Metric).Line(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if err := Recompute(w, 1e-6); err != nil {
		t.Error(err)
	}
	w.Terms[0].Figure.Value = 102
	if Recompute(w, 1e-6) == nil {
		t.Error("a result that is off passes")
	}
	w.Formula = "Vcold = n × Voc × what ≤ Vmax"
	if Recompute(w, 1e-6) == nil {
		t.Error("an unknown symbol passes")
	}
}

// TestVerdictWords: every verdict has its word and reads it back.
func TestVerdictWords(t *testing.T) {
	if len(Verdicts()) != 6 {
		t.Fatalf("%d verdicts", len(Verdicts()))
	}
	for _, v := range Verdicts() {
		text, _ := v.MarshalText()
		var back Verdict
		if err := back.UnmarshalText(text); err != nil || back != v || v.Meaning() == "" {
			t.Errorf("%s reads back as %s, %v", v, back, err)
		}
	}
	var v Verdict
	if v.UnmarshalText([]byte("FINE")) == nil {
		t.Error("a word that is none is read")
	}
}

// TestManyGuesses: fourteen guesses of 1 A, each between 0 and 2 A, come to 0 to 28 A by hand: no guess is left at its nominal for being one of many.
func TestManyGuesses(t *testing.T) {
	q := Inequality{Name: "sum", Kind: quantity.Current, Source: Practice, Inputs: []figure.Term{Number("Imax", "limit", quantity.Current, 27, "test")}}
	formula := "I = "
	for i := range 14 {
		symbol := fmt.Sprintf("I%c", 'a'+i)
		if i > 0 {
			formula += " + "
		}
		formula += symbol
		q.Inputs = append(q.Inputs, term(symbol, quantity.Current, 1, 0, 2, figure.About))
	}
	q.Formula = formula + " ≤ Imax"
	j := q.Judge()
	near.Abs(t, "least", j.Working.Terms[0].Figure.Low, 0, 1e-12, "by hand")
	near.Abs(t, "most", j.Working.Terms[0].Figure.High, 28, 1e-12, "by hand")
	if v := j.Verdict(Fail); v != Undecided || j.HoldsBad {
		t.Errorf("%s: 28 A may flow where 27 are allowed", v)
	}
}

package trip

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/system"
)

// TestPoor: the poor run is a member that nine in ten fared better than: its lowest charge lies at the lower edge of the band of all runs at its worst night, and
// under that of the typical run.
func TestPoor(t *testing.T) {
	plan, doc := stayCase(t)
	plan.Rig = doc
	f, err := NewForecast(plan, Options{Members: 60})
	if err != nil {
		t.Fatal(err)
	}
	a, err := f.Answer(context.Background(), &doc, nil)
	if err != nil {
		t.Fatal(err)
	}
	poor, err := f.Poor(context.Background(), &doc)
	if err != nil {
		t.Fatal(err)
	}
	if len(poor.Trace.SoC) != len(a.Trace.SoC) || len(poor.Trace.SoC) == 0 {
		t.Fatalf("%d steps, the typical run has %d", len(poor.Trace.SoC), len(a.Trace.SoC))
	}
	if a.Poor == nil || a.Poor.Sentence != poor.Sentence || a.Poor.Days != poor.Days || !slices.Equal(a.Poor.Trace.SoC, poor.Trace.SoC) {
		t.Errorf("the answer's poor run is %+v, asked for by itself it is %+v", a.Poor, poor)
	}
	if days := fmt.Sprintf("after %s, on ", dayCount(poor.Days)); poor.EndsOn != "" && !strings.Contains(poor.Sentence, days) || poor.EndsOn == "" && !strings.Contains(poor.Sentence, "lasts the stay too") {
		t.Errorf("%.1f days until the reserve, ending on %q, are told as: %s", poor.Days, poor.EndsOn, poor.Sentence)
	}
	typical := 1.0
	for _, d := range a.Days {
		typical = min(typical, d.LowSoC)
	}
	if poor.Low > typical {
		t.Errorf("lowest charge %.3f, that of the typical run %.3f", poor.Low, typical)
	}
	// The same members, counted by another road: those that broke the floor sooner or, never breaking it, went lower.
	kit, err := system.NewKit(&doc)
	if err != nil {
		t.Fatal(err)
	}
	runs, _, _, err := f.play(context.Background(), &doc, kit, nil)
	if err != nil {
		t.Fatal(err)
	}
	worse := 0
	for m := range runs {
		days := f.untilBelow(&runs[m].outcome) * 30
		if days < poor.Days-1e-9 || days == poor.Days && days == 30 && runs[m].minSoC < poor.Low-0.005 {
			worse++
		}
	}
	near.Abs(t, "members that fared worse", float64(worse), 6, 1, "one in ten of 60")
}

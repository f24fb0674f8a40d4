package trip

import (
	"strings"
	"testing"

	"campwright/quantity"
)

// The texts of one answer in both systems: the figures are the same by [NIST-811], and the figures of the answer itself are left alone.
func TestAnswer_In(t *testing.T) {
	a := ask(t, strings.Replace(thirsty, "kind: van\n", "kind: van\nmodules: {field: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}\ncontrollers: {c: {survives: 100 V, output: 30 A}}\narrays: [{name: roof, module: field, controller: c}]\n", 1), 8)
	a.Answer.Advice = &a.advice
	if a.doc.Units() != quantity.US {
		t.Error("a file in gallons is not taken for a US one")
	}
	us, metric := a.Answer.In(quantity.US), a.Answer.In(quantity.Metric)
	find := func(a Answer, store string) string {
		for _, s := range a.Stores {
			if s.Store == store {
				return s.Why
			}
		}
		return ""
	}
	if got := find(us, "fresh water"); got != "50 gal, 8 gal a day drawn" {
		t.Errorf("US: %s", got)
	}
	if got := find(metric, "fresh water"); got != "189 L, 30.3 L a day drawn" {
		t.Errorf("metric: %s", got)
	}
	text := strings.Join(us.Remarks, "\n") + us.Basis.Places
	for _, w := range us.Advice.Ways {
		text += "\n" + w.Words + strings.Join(w.Costs, ", ")
	}
	for _, unit := range []string{" L ", " L/d", " kg", " km", " m/s", "°C", " K "} {
		if strings.Contains(text+" ", unit) {
			t.Errorf("%q in the texts of a US answer:\n%s", unit, text)
		}
	}
	if !strings.Contains(text, "mph") || !strings.Contains(text, "gal/d") {
		t.Errorf("the texts hold no units to tell by:\n%s", text)
	}
	if us.Days[0].AirLowC != a.Days[0].AirLowC || us.Stores[0].Lasts.Value != a.Stores[0].Lasts.Value {
		t.Error("a figure has moved")
	}
	if a.Answer.Stores[0].Why != metric.Stores[0].Why {
		t.Error("the answer itself is not in plain units")
	}
}

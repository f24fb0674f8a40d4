package quantity

import (
	"math"
	"testing"
)

// Ranges as a person would write them, chosen by hand.
func TestSpan(t *testing.T) {
	cases := []struct {
		kind      Kind
		unit      string
		low, high float64
		system    System
		want      string
	}{
		{Power, "", 60, 80, US, "60 to 80 W"},
		{Power, "", 80, 60, US, "60 to 80 W"},
		{Duration, "", 72, 120, US, "3 to 5 days"},
		{Duration, "", 20, 60, US, "0.8 to 2.5 days"},
		{Duration, "", 2.25, 4.5, Metric, "2.2 to 4.5 h"},
		{Energy, "", 900, 1240, US, "0.9 to 1.24 kWh"},
		{Energy, "", 900, 2240, US, "0.9 to 2.2 kWh"},
		{Temperature, "", -12, 3, US, "10 to 37 °F"},
		{Temperature, "", -12, 3, Metric, minus + "12 to 3 °C"},
		{Share, "", 0.951, 0.953, US, "95.1 to 95.3 %"},
		{Share, "", 0.95123, 0.95124, US, "95.1 %"},
		{Power, "BTU/h", 400, 420, US, "1,365 to 1,433 BTU/h"},
		{Power, "BTU/h", 400, 420, Metric, "400 to 420 W"},
		{Section, "", 13.3, 21.16, US, "6 AWG to 4 AWG"},
		{Section, "", 13.3, 21.16, Metric, "13.3 to 21.2 mm²"},
		{Count, "", 3, 5, US, "3 to 5"},
		{Money, "", 120, 300, US, "$120 to $300"},
		{Length, "", 3, 4, US, "9.8 to 13.1 ft"},
		{Voltage, "", math.NaN(), 4, US, "no number"},
	}
	for _, c := range cases {
		got := Span(Quantity{c.low, c.kind, c.unit}, Quantity{c.high, c.kind, c.unit}, c.system)
		if got != c.want {
			t.Errorf("%v to %v %s in system %d: got %q, want %q", c.low, c.high, c.kind, c.system, got, c.want)
		}
	}
}

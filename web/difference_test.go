package web

import (
	"testing"

	"campwright/figure"
	"campwright/trip"
)

func TestDifference(t *testing.T) {
	end := func(store string, days float64, text string, open bool) trip.StoreEnd {
		return trip.StoreEnd{Store: store, Lasts: figure.Figure{Value: 24 * days}, Text: text, AtLeast: open}
	}
	answer := func(ends ...trip.StoreEnd) *trip.Answer { return &trip.Answer{Stores: ends} }
	for _, c := range []struct {
		before, after *trip.Answer
		want          string
	}{
		{answer(end("battery", 3.2, "3.2 days", false), end("propane", 9, "9.0 days", false)), answer(end("battery", 3.6, "3.6 days", false), end("propane", 9, "9.0 days", false)),
			"battery 0.4 days more; propane unchanged"},
		{answer(end("battery", 30, "30 days", false)), answer(end("battery", 14, "14 days", false)), "battery 16 days less"},
		{answer(end("battery", 4, "4.0 days", false)), answer(end("battery", 5, "5.0 days", false)), "battery 1.0 day more"},
		{answer(end("battery", 4, "4.0 days", false)), answer(end("battery", 60, "more than the stay", true)), "battery outlasts the stay now"},
		{answer(end("battery", 60, "more than the stay", true)), answer(end("battery", 4, "4.0 days", false)), "battery no longer outlasts the stay: 4.0 days"},
		{answer(end("battery", 4, "3 to 5 days", false)), answer(end("battery", 4, "2 to 6 days", false)), "battery 3 to 5 days before, 2 to 6 days now"},
		{answer(end("battery", 4, "x", false), end("grey tank", 7, "y", false)), answer(end("battery", 4, "x", false)), "grey tank is gone; battery unchanged"},
		{answer(), answer(end("battery", 4, "x", false)), "battery is new"},
		{answer(end("a", 1, "x", false), end("b", 1, "x", false), end("c", 1, "x", false)), answer(end("a", 1, "x", false), end("b", 1, "x", false), end("c", 1, "x", false)),
			"every store lasts as long as before"},
		{answer(end("a", 1, "x", false), end("b", 1, "x", false), end("c", 1, "x", false), end("d", 1, "x", false)), answer(end("a", 1, "x", false), end("b", 1, "x", false), end("c", 1, "x", false), end("d", 2, "x", false)),
			"d 1.0 day more; all else as long as before"},
		{answer(), answer(), ""},
	} {
		if got := difference(c.before, c.after); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestDifference_Wrong(t *testing.T) {
	answer := func(days float64, wrong ...trip.Wrong) *trip.Answer {
		return &trip.Answer{Stores: []trip.StoreEnd{{Store: "battery", Lasts: figure.Figure{Value: 24 * days}, Text: "so long"}}, Wrong: wrong}
	}
	cut := func(nights int) trip.Wrong { return trip.Wrong{What: "inverter cut off", Nights: nights, Of: 9} }
	for _, c := range []struct {
		before, after *trip.Answer
		want          string
	}{
		{answer(4), answer(4, cut(1)), "inverter cut off on 1 night, none before; battery unchanged"},
		{answer(4, cut(1)), answer(5, cut(3)), "battery 1.0 day more; inverter cut off on 3 nights, 1 before"},
		{answer(4, cut(3)), answer(4), "inverter cut off on no night now, 3 before; battery unchanged"},
		{answer(4, cut(3)), answer(4, cut(3)), "every store lasts as long as before"},
		{answer(4, cut(3)), answer(4, trip.Wrong{What: "overload", Nights: 2, Of: 9}, cut(3)), "overload on 2 nights, none before; battery unchanged"},
	} {
		if got := difference(c.before, c.after); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

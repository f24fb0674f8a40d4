package web

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/trip"
)

// difference points out what has become of the stores between two answers, and of what went wrong: "battery 0.4 days more; overload on 2
// nights, none before; propane unchanged". Where nothing has, it says so at once.
func difference(before, after *trip.Answer) string {
	var moved, still []string
	for _, now := range after.Stores {
		was := storeNamed(before.Stores, now.Store)
		switch days := lastsDays(now) - lastsDays(was); {
		case was.Store == "":
			moved = append(moved, now.Store+" is new")
		case now.AtLeast && was.AtLeast || now.AtLeast == was.AtLeast && math.Abs(days) < 0.05:
			if now.Text == was.Text {
				still = append(still, now.Store)
			} else {
				moved = append(moved, now.Store+" "+was.Text+" before, "+now.Text+" now")
			}
		case now.AtLeast:
			moved = append(moved, now.Store+" outlasts the stay now")
		case was.AtLeast:
			moved = append(moved, now.Store+" no longer outlasts the stay: "+now.Text)
		case days > 0:
			moved = append(moved, now.Store+" "+dayWords(days)+" more")
		default:
			moved = append(moved, now.Store+" "+dayWords(-days)+" less")
		}
	}
	for _, was := range before.Stores {
		if storeNamed(after.Stores, was.Store).Store == "" {
			moved = append(moved, was.Store+" is gone")
		}
	}
	var parts []string
	if len(moved) > 0 {
		parts = append(parts, strings.Join(moved, ", "))
	}
	if wrong := wrongNow(before.Wrong, after.Wrong); len(wrong) > 0 {
		parts = append(parts, strings.Join(wrong, "; "))
	}
	switch {
	case len(still) > 0 && len(parts) == 0:
		return "every store lasts as long as before"
	case len(still) > 2:
		parts = append(parts, "all else as long as before")
	case len(still) > 0:
		parts = append(parts, figure.List(still)+" unchanged")
	}
	return strings.Join(parts, "; ")
}

// wrongNow tells what goes wrong on another number of nights than before.
func wrongNow(before, after []trip.Wrong) []string {
	on := func(list []trip.Wrong, what string) int {
		at := slices.IndexFunc(list, func(w trip.Wrong) bool { return w.What == what })
		if at < 0 {
			return 0
		}
		return list[at].Nights
	}
	var told []string
	for _, w := range after {
		switch was := on(before, w.What); was {
		case w.Nights:
		case 0:
			told = append(told, plainWords(w.What)+" on "+counted(w.Nights, "night")+", none before")
		default:
			told = append(told, plainWords(w.What)+" on "+counted(w.Nights, "night")+", "+strconv.Itoa(was)+" before")
		}
	}
	for _, w := range before {
		if on(after, w.What) == 0 {
			told = append(told, plainWords(w.What)+" on no night now, "+strconv.Itoa(w.Nights)+" before")
		}
	}
	return told
}

func storeNamed(stores []trip.StoreEnd, name string) trip.StoreEnd {
	for _, s := range stores {
		if s.Store == name {
			return s
		}
	}
	return trip.StoreEnd{}
}

func lastsDays(s trip.StoreEnd) float64 { return s.Lasts.Value / 24 }

// dayWords writes a number of days: one decimal below ten.
func dayWords(days float64) string {
	decimals := 1
	if days >= 9.95 {
		decimals = 0
	}
	text := strconv.FormatFloat(days, 'f', decimals, 64)
	if text == "1" || text == "1.0" {
		return text + " day"
	}
	return text + " days"
}

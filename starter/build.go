package starter

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"

	"campwright/catalogue"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Start is a first rig file with what it rests on.
type Start struct {
	Text    []byte   `json:"-"` // the file, with its remarks
	Rig     rig.Rig  `json:"-"` // the same, read
	Sums    Sums     `json:"sums"`
	Remarks []string `json:"remarks"` // what to know before trusting it
}

// Build makes a rig file out of answers. Every answer that cannot be used is told at once, as Faults.
func Build(a Answers) (Start, error) {
	n, faults := a.read()
	if err := faults.Err(); err != nil {
		return Start{}, err
	}
	c := kinds[n.Kind]
	// Once with the least of everything, to learn what a day takes; then with what that asks for.
	trial := sizes{layout: layouts[0], blocks: 1, block: part(catalogue.BlockPart, "100 Ah LFP block"), inverter: n.inverter()}
	_, sys, err := n.assemble(c, trial, nil)
	if err != nil {
		return Start{}, err
	}
	_, sun, airC := n.camp.darkest(months(n.from, n.Nights))
	chosen := choose(n, c, MeanDay(sys, sun, airC).UseWh, sun, airC)
	if _, sys, err = n.assemble(c, chosen, nil); err != nil {
		return Start{}, err
	}
	sums := sumsOf(sys, n)
	remarks := n.remarks(sums, chosen)
	text, _, err := n.assemble(c, chosen, n.head(sums, remarks))
	if err != nil {
		return Start{}, err
	}
	doc, bad := rig.Decode(bytes.NewReader(text))
	return Start{Text: text, Rig: doc, Sums: sums, Remarks: remarks}, bad.Err()
}

// assemble writes the file, reads it back and makes its system. A file of ours that does not read is a broken promise of ours, told as
// such.
func (n needs) assemble(c carried, s sizes, head []string) ([]byte, *system.System, error) {
	text := n.write(c, s, head)
	doc, faults := rig.Decode(bytes.NewReader(text))
	if err := faults.Err(); err != nil {
		return nil, nil, fmt.Errorf("starter: internal error: %w", err)
	}
	full, gaps := system.Complete(doc)
	var all []error
	for _, g := range gaps {
		all = append(all, g)
	}
	if err := errors.Join(all...); err != nil {
		return nil, nil, fmt.Errorf("starter: internal error: %w", err)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 60)
	if err != nil {
		return nil, nil, fmt.Errorf("starter: internal error: %w", err)
	}
	return text, sys, nil
}

// head is what the file says of itself.
func (n needs) head(s Sums, remarks []string) []string {
	lines := []string{
		"A first sheet, made from six answers. What is remarked as taken is not yours yet: it is what is usual, or what the stay asks for. " +
			"Put what you have in its place, read off its label, and take the remark away. What is left out altogether takes a default too; " +
			"campwright show lists every one. Estimates say about, with their ends; a reading says so: 65 W measured.",
		"",
		fmt.Sprintf("Sized for %s without a hookup at %s, on a mean day of %s:", plural(n.Nights, "night"), n.camp.text, s.Month),
		fmt.Sprintf("  use        %s a day from the bank, with %.0f C outside", wh(s.UseWh), s.AirC),
		fmt.Sprintf("  sun        %.1f kWh/m2 a day on the level; %s of array gives about %s", s.SunKWhM2, in(s.ArrayW, quantity.Power, "W"), wh(s.HarvestWh)),
		fmt.Sprintf("  bank       %s down to its reserve, %.1f days of use without sun", wh(s.BankWh), s.BankWh/s.UseWh),
	}
	if s.Propane > 0 {
		lines = append(lines, fmt.Sprintf("  propane    about %s", days(s.Propane)))
	}
	if s.Water < mostDays {
		lines = append(lines, fmt.Sprintf("  water      about %s, fresh or waste", days(s.Water)))
	}
	for _, r := range remarks {
		lines = append(lines, "", r)
	}
	return lines
}

// remarks are what to know before trusting the sheet.
func (n needs) remarks(s Sums, z sizes) []string {
	var list []string
	switch {
	case s.BatteryDays < float64(n.Nights) && z.short:
		list = append(list, fmt.Sprintf("What such a rig has room for falls short by %s on such a day: the battery ends the stay after about %s. Drive, run a generator, or want less.",
			wh(s.UseWh-s.HarvestWh), days(s.BatteryDays)))
	case z.short:
		list = append(list, "What such a rig has room for covers a mean day, without the third to spare that dark weeks and guesses ask for. How likely the battery ends the stay, campwright trip tells.")
	}
	least, what := s.Propane, "propane"
	if least == 0 || s.Water < least {
		least, what = s.Water, "water"
	}
	if least < float64(n.Nights) && least < s.BatteryDays {
		list = append(list, fmt.Sprintf("Of the stores it is the %s that ends the stay first, after about %s.", what, days(least)))
	}
	if n.Heat == "electric" {
		list = append(list, "Electric heat is for a hookup: it is written as off. A night of it takes more than a bank of this size holds.")
	}
	for _, w := range n.wishes {
		if w.appliance.Kind == "air conditioner" {
			list = append(list, "An air conditioner is taken for two hours on a hot day; on a bank it is hours, and its start wants a soft starter.")
		}
	}
	for _, a := range n.aboard() {
		if a.care {
			list = append(list, fmt.Sprintf("The %s must not lose power: one bank is one path. Plan a second, independent store for it, and ask the maker.", a.name))
			break
		}
	}
	return list
}

// wh writes an energy for people, to ten watt-hours.
func wh(x float64) string { return quantity.Digits(10*math.Round(x/10), 9, 0) + " Wh" }

// days writes a number of days for people.
func days(d float64) string {
	switch {
	case d >= 365:
		return "a year and more"
	case d < 9.95:
		return strings.Replace(fmt.Sprintf("%.1f days", d), ".0 days", " days", 1)
	}
	return fmt.Sprintf("%.0f days", math.Round(d))
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

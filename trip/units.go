package trip

import (
	"fmt"

	"campwright/quantity"
)

// This file is the one place where texts of an answer get their units. Figures in an answer stay in plain units; a text that holds one is composed in
// every system of units at once, and Answer.In picks.

// text is one text in each system of units.
type text struct{ us, metric string }

// in returns the text in a system of units.
func (t text) in(s quantity.System) string {
	if s == quantity.US {
		return t.us
	}
	return t.metric
}

// same is a text without units.
func same(words string) text { return text{words, words} }

// say composes a text by a format of package fmt: operands that are quantities or texts, written by %s, take the system's units.
func say(format string, operands ...any) text {
	in := func(s quantity.System) string {
		list := make([]any, len(operands))
		for i, o := range operands {
			switch o := o.(type) {
			case quantity.Quantity:
				list[i] = quantity.Format(o, s)
			case text:
				list[i] = o.in(s)
			default:
				list[i] = o
			}
		}
		return fmt.Sprintf(format, list...)
	}
	return text{us: in(quantity.US), metric: in(quantity.Metric)}
}

// of is a quantity in the base unit of its kind.
func of(base float64, kind quantity.Kind) quantity.Quantity {
	return quantity.Quantity{Base: base, Kind: kind}
}

// plainly returns the texts in the plain units of the answer's JSON.
func plainly(list []text) []string {
	out := make([]string, len(list))
	for i, t := range list {
		out[i] = t.metric
	}
	return out
}

// remark writes remarks into the answer, in their order.
func (a *Answer) remark(lists ...[]text) {
	for _, l := range lists {
		a.remarksIn = append(a.remarksIn, l...)
	}
	a.Remarks = plainly(a.remarksIn)
}

// called returns the name of a site in each system of units.
func (s *Site) called() text {
	if s.named == (text{}) {
		return same(s.Name)
	}
	return s.named
}

// In returns the answer with its texts in a system of units; its figures stay as they are. The answer itself is not changed.
func (a Answer) In(s quantity.System) Answer {
	pick(&a.Basis.Places, a.Basis.placesIn, s)
	a.Stores = copied(a.Stores, func(e *StoreEnd) { pick(&e.Why, e.whyIn, s) })
	a.Days = copied(a.Days, func(d *Day) { pick(&d.Place, d.placeIn, s) })
	a.Remarks = all(a.Remarks, a.remarksIn, s)
	if a.Advice != nil {
		advice := a.Advice.In(s)
		a.Advice = &advice
	}
	return a
}

// In returns the home's answer with its texts in a system of units.
func (a HomeAnswer) In(s quantity.System) HomeAnswer {
	pick(&a.Place, a.placeIn, s)
	a.Months = copied(a.Months, func(m *HomeMonth) {
		m.Stores = copied(m.Stores, func(e *StoreEnd) { pick(&e.Why, e.whyIn, s) })
	})
	a.Remarks = all(a.Remarks, a.remarksIn, s)
	return a
}

// pick writes a text in a system of units, where there is one.
func pick(to *string, t text, s quantity.System) {
	if t != (text{}) {
		*to = t.in(s)
	}
}

// all returns texts in a system of units; those given where none are held.
func all(given []string, held []text, s quantity.System) []string {
	if len(held) == 0 {
		return given
	}
	out := make([]string, len(held))
	for i, t := range held {
		out[i] = t.in(s)
	}
	return out
}

// copied returns a copy of a list with each member changed.
func copied[T any](list []T, change func(*T)) []T {
	if list == nil {
		return nil
	}
	out := make([]T, len(list))
	copy(out, list)
	for i := range out {
		change(&out[i])
	}
	return out
}

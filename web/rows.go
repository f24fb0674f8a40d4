package web

import (
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// texter is a value of the document that writes itself as a person would.
type texter interface{ Text() string }

// notThere is shown for what was filled in with a zero that could not be written there: there is no such thing aboard.
const notThere = "none"

// leaf adds the row of one place of text, or notes that nothing stands there.
func (p *Part) leaf(n node, label, doc string) {
	row := Row{Path: n.path, Pattern: n.pattern, Key: label, State: states[figure.Plain], Raw: rawOf(n.said.Interface())}
	row.show(n.full.Interface())
	if row.Text.US == "" {
		p.Unsaid = append(p.Unsaid, strings.TrimPrefix(strings.TrimPrefix(n.path, p.Path), "/"))
		return
	}
	if row.Raw == "" && row.State == states[figure.Plain] {
		row.State = states[figure.Default]
	}
	p.Rows = append(p.Rows, row)
}

// rawOf writes a value as it stands, or would stand, in the file.
func rawOf(v any) string {
	switch x := v.(type) {
	case string:
		return x
	case []string:
		if len(x) == 0 {
			return ""
		}
		return "[" + strings.Join(x, ", ") + "]"
	case texter:
		return x.Text()
	}
	return ""
}

// show writes a value for people, with how well it is known.
func (r *Row) show(v any) {
	switch v := v.(type) {
	case string:
		r.Text = Both{v, v}
	case []string:
		text := strings.Join(v, ", ")
		r.Text = Both{text, text}
	case rig.Value:
		r.Text, r.State, r.Why, r.Line = valueText(v), states[v.State], v.Why, v.At.Line
		if low, _, limited := rig.LimitsOf(r.Path, v.Quantity.Kind); limited && low > 0 && v.State == figure.Default && v.Quantity.Base == 0 {
			r.Text = alike(notThere)
		}
	case rig.Draw:
		r.Text, r.State, r.Why, r.Line = drawText(v), states[v.Rate.State], v.Rate.Why, v.Rate.At.Line
	case rig.Size:
		if v.Length.State == figure.Absent {
			return
		}
		l, w := both(v.Length.Quantity), both(v.Width.Quantity)
		r.Text, r.State, r.Line = Both{l.US + " × " + w.US, l.Metric + " × " + w.Metric}, states[v.Length.State], v.At.Line
	case rig.Cylinders:
		if v.Count.State == figure.Absent {
			return
		}
		n, each := quantity.Format(v.Count.Quantity, quantity.AsWritten), both(v.Each.Quantity)
		r.Text, r.State, r.Line = Both{n + " × " + each.US, n + " × " + each.Metric}, states[v.Each.State], v.Each.At.Line
	case rig.Date:
		text := dayWritten(v)
		r.Text, r.State = Both{text, text}, states[v.State]
	case rig.Hours:
		text := v.Text()
		if v.State == figure.Default {
			text = v.Word
		}
		r.Text, r.Line = Both{text, text}, v.At.Line
	case rig.Chance:
		if v.State == figure.Default {
			v.State = figure.Plain // so that it writes itself
		}
		r.Text, r.Line = Both{v.Text(), v.Text()}, v.At.Line
	case texter:
		r.Text = Both{v.Text(), v.Text()}
	}
}

// valueText shows a value with the ends of its range; empty when nothing is known of it.
func valueText(v rig.Value) Both {
	switch {
	case v.State == figure.Absent:
		return Both{}
	case v.State == figure.Unknown && v.Quantity.Kind == quantity.None:
		return Both{"not known", "not known"}
	}
	text := both(v.Quantity)
	if v.Low < v.High && v.State != figure.Plain && v.State != figure.Measured {
		low, high := v.Quantity, v.Quantity
		low.Base, high.Base = v.Low, v.High
		ends := span(both(low), both(high))
		text = Both{text.US + " (" + ends.US + ")", text.Metric + " (" + ends.Metric + ")"}
	}
	return text
}

// drawText shows a draw with its duty. That it runs all the time, where nothing else is said, goes without saying.
func drawText(d rig.Draw) Both {
	text := valueText(d.Rate)
	if d.Duty.State != figure.Absent && !(d.Duty.State == figure.Default && d.Duty.Quantity.Base == 1) && text.US != "" {
		duty := valueText(d.Duty)
		text.US, text.Metric = text.US+" at "+duty.US, text.Metric+" at "+duty.Metric
	}
	return text
}

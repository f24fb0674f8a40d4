package web

import (
	"math"
	"strings"
	"time"

	"campwright/figure"
	"campwright/quantity"
)

// Both is a figure as people read it, with its unit, in each system of units.
type Both struct {
	US     string `json:"us"`
	Metric string `json:"metric"`
}

// Lines is a text of several lines in each system of units.
type Lines struct {
	US     []string `json:"us" nullable:"false"`
	Metric []string `json:"metric" nullable:"false"`
}

// working shows the arithmetic behind a figure; empty where it has none.
func working(f figure.Figure) Lines {
	if f.Working == nil {
		return Lines{US: []string{}, Metric: []string{}}
	}
	return Lines{US: figure.Explain(f, quantity.US), Metric: figure.Explain(f, quantity.Metric)}
}

func both(q quantity.Quantity) Both {
	return Both{US: quantity.Format(q, quantity.US), Metric: quantity.Format(q, quantity.Metric)}
}

// of is a figure in the base unit of its kind.
func of(base float64, kind quantity.Kind) Both {
	return both(quantity.Quantity{Base: base, Kind: kind})
}

// in is a figure in one unit for each system, so that a column of them lines up.
func in(base float64, kind quantity.Kind, us, metric string) Both {
	q := quantity.Quantity{Base: base, Kind: kind}
	return Both{US: quantity.In(q, us), Metric: quantity.In(q, metric)}
}

// wattHours is an energy in a column of energies.
func wattHours(wh float64) Both { return in(math.Round(wh), quantity.Energy, "Wh", "Wh") }

// span is a low and a high end: "3 to 5 days".
func span(low, high Both) Both {
	return Both{US: joined(low.US, high.US), Metric: joined(low.Metric, high.Metric)}
}

// joined writes two figures of one unit with the unit once.
func joined(low, high string) string {
	if low == high {
		return low
	}
	cut := strings.LastIndex(low, " ")
	if cut > 0 && strings.HasSuffix(high, low[cut:]) {
		low = low[:cut]
	}
	return low + " to " + high
}

// states are the words for how well a value is known.
var states = map[figure.State]string{
	figure.Absent: "not said", figure.Default: "default", figure.Unknown: "unknown", figure.About: "about", figure.Plain: "stated", figure.Measured: "measured",
}

// day writes an ISO date as people read it, without the year: "Fri 5 Dec". A text that is no date is handed back.
func day(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("Mon 2 Jan")
}

// percent is a share as a number of per cent for drawing, to a tenth.
func percent(share float64) float64 { return math.Round(share*1000) / 10 }

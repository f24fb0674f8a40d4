package web

import (
	"math"
	"strconv"
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

// told is a text of another package in each system of units, in words that everybody has.
func told(us, metric string) Both { return Both{plainWords(us), plainWords(metric)} }

// alike is a text without units.
func alike(text string) Both { return Both{text, text} }

// toldAll is a list of such texts; the two are of equal length.
func toldAll(us, metric []string) []Both {
	list := make([]Both, len(us))
	for i := range us {
		list[i] = told(us[i], metric[i])
	}
	return list
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

// column is a figure with so many decimals in one unit for each system, so that the points of a column stand below each other.
func column(base float64, kind quantity.Kind, us, metric string, decimals int) Both {
	write := func(unit string) string {
		x, err := quantity.Number(quantity.Quantity{Base: base, Kind: kind}, unit)
		if err != nil {
			panic("web: internal error: " + err.Error())
		}
		return strconv.FormatFloat(x, 'f', decimals, 64) + " " + unit
	}
	return Both{US: write(us), Metric: write(metric)}
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
	figure.Absent: "left blank", figure.Default: "default", figure.Unknown: "unknown", figure.About: "about", figure.Plain: "stated", figure.Measured: "measured",
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

// plainer puts words of the trade and of the file into those that everybody has, and commands of the terminal into sheets of the page. The file's own key stays "floor"; what it means is the
// charge that is kept back.
var plainer = strings.NewReplacer(
	"the floor", "the reserve", "its floor", "its reserve", "The floor", "The reserve", "Its floor", "Its reserve", "a floor of", "a reserve of", ", floor ", ", reserve ", "no floor", "no reserve",
	"is not in the gazetteer", "is not in the list of places", "gazetteer", "list of places", "from reanalysis", "from weather records", "reanalysis", "weather records",
	"campwright trip --advise", "“What could be done” on the sheet “Will it last?”", "run campwright trip", "open the sheet “Will it last?”", "Run campwright trip", "Open the sheet “Will it last?”", "campwright trip", "the sheet “Will it last?”",
)

// The floor of a room stays one.
var realFloor = strings.NewReplacer("the reserve of the rig", "the floor of the rig", "the reserve, walls", "the floor, walls")

// once says the kind of a part that is called by its kind once: "inverter inverter", "controller controller 1".
var once = strings.NewReplacer(
	"controller controller", "controller", "inverter inverter", "inverter", "charger charger", "charger", "generator generator", "generator", "array array", "array", "bank bank", "bank",
)

// plainWords writes a text of another package in words that everybody has.
func plainWords(text string) string { return once.Replace(realFloor.Replace(plainer.Replace(text))) }

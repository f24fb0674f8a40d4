// Package m21 is the room of rule M21.
package m21

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M21", Title: "chargers with unlike set-points", Holds: "chargers agree on their voltages", Worst: check.Warn,
	What: "The charging voltages of chargers that work at the same time, sun with sun and with the engine, and shore chargers with one another, against each other; " +
		"then their resting voltages and the time they hold the charging voltage, where told.",
	Why: "The charger that is set lower takes the bank for full first and idles, while the other goes on alone: an array that stands in the sun for nothing.",
	Except: "Shore against sun is left out: what the post gives, the sun need not. Set-points that agree do not help a charger that sees another voltage than the battery's, " +
		"for want of a sense wire. Where nothing at all is told, rule M19 asks an LFP bank's owner.",
	Formula:   "highest − lowest charging voltage ≤ 0.1 V for 12 V of bank",
	Source:    check.Practice,
	Sure:      "which charger idles is sure; how much it loses hangs on the day",
	Questions: []string{"Which charging and resting voltage is each charger set to, and how long does it hold it?"},
	Run:       run,
}

// How far set-points may lie apart for each 12 V of bank [V] and in time [h]; what an array gives of its label while the other charger absorbs, and
// for how long [h]. Common practice, no source.
const apartV, apartH, share, absorbsH = 0.1, 0.5, 0.75, 1.5

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil {
		return nil
	}
	all := c.Settings()
	var list []check.Outcome
	var places, parts, asks []string
	told := c.Doc.Bank.Chemistry != "LFP"
	for i := range all {
		told = told || all[i].Told()
	}
	for _, kinds := range []string{"sun engine", "shore"} {
		var set []check.Setting
		for i := range all {
			if strings.Contains(kinds, all[i].Kind) {
				set = append(set, all[i])
			}
		}
		if len(set) < 2 || kinds == "sun engine" && set[0].Kind != "sun" {
			continue
		}
		var known []check.Setting
		for _, s := range set {
			if s.Absorption.Given() {
				known = append(known, s)
				continue
			}
			places, parts, asks = append(places, s.Path), append(parts, s.Name), append(asks, "read back the charging voltage of "+s.Name)
		}
		if o, ok := agree(c, known, len(known) == len(set)); ok {
			list = append(list, o)
		}
	}
	if told && len(asks) > 0 {
		list = append(list, check.Ask("charging voltages not told", places, parts, asks))
	}
	return list
}

// agree judges the chargers of a set whose charging voltage is known. Where some are not, only a disagreement is told.
func agree(c check.Case, set []check.Setting, whole bool) (check.Outcome, bool) {
	if len(set) < 2 {
		return check.Outcome{}, false
	}
	low, high := ends(set, func(s *check.Setting) rig.Value { return s.Absorption })
	o := apart("absorption", set[low], set[high], set[low].Absorption, set[high].Absorption, apartV*math.Max(1, math.Round(c.BankV()/12))).Judge().Outcome(set[low].Path, set[low].Name, check.Warn)
	o.Ways = ways
	o.Tries = follow(c, set, "absorption", low, high)
	if o.Verdict == check.Warn {
		o.Detail = idles(set[low], set[high])
		return o, true
	}
	if o.Verdict == check.Pass {
		if f, ok := floats(c, set); ok {
			return f, true
		}
		if t, ok := timers(c, set); ok {
			return t, true
		}
	}
	return o, whole || o.Verdict != check.Pass
}

var ways = []string{"give all of them the same charging voltage, resting voltage and times", "join them so that they share one setting, and sense the voltage at the battery's posts"}

// ends returns which settings of a set have the lowest and the highest value, the first of equals.
func ends(set []check.Setting, value func(*check.Setting) rig.Value) (low, high int) {
	for i := range set {
		v := value(&set[i]).Quantity.Base
		if v < value(&set[low]).Quantity.Base {
			low = i
		}
		if v > value(&set[high]).Quantity.Base {
			high = i
		}
	}
	if low == high {
		high = (low + 1) % len(set)
	}
	return low, high
}

// apart is the inequality of two set-points.
func apart(what string, low, high check.Setting, lowV, highV rig.Value, most float64) check.Inequality {
	return check.Inequality{
		Formula: "ΔV = Vhigh − Vlow ≤ Vapart", Name: "how far they lie apart", Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("Vhigh", what+" of "+high.Name, highV), check.Known("Vlow", what+" of "+low.Name, lowV),
			check.Number("Vapart", "how far they may lie apart", quantity.Voltage, most, check.Practice),
		},
		Hints:  map[string]string{"Vhigh": "read back the " + what + " of " + high.Name, "Vlow": "read back the " + what + " of " + low.Name},
		Source: check.Practice,
	}
}

// idles tells what the charger that is set lower loses.
func idles(low, high check.Setting) string {
	if low.LabelW == 0 {
		return fmt.Sprintf("%s rests while %s goes on alone.", low.Name, high.Name)
	}
	return fmt.Sprintf("%s rests while %s goes on alone: its %s of modules lose as much as %s a day.", low.Name, high.Name, check.Say(low.LabelW, quantity.Power), check.Say(lostWh(low.LabelW), quantity.Energy))
}

// lostWh is what an array loses in a day while its charger idles [Wh], of its label [W].
func lostWh(labelW float64) float64 { return labelW * share * absorbsH }

// floats compares the resting voltages, where two or more are told.
func floats(c check.Case, set []check.Setting) (check.Outcome, bool) {
	var known []check.Setting
	for _, s := range set {
		if s.Float.Given() {
			known = append(known, s)
		}
	}
	if len(known) < 2 {
		return check.Outcome{}, false
	}
	low, high := ends(known, func(s *check.Setting) rig.Value { return s.Float })
	q := apart("float", known[low], known[high], known[low].Float, known[high].Float, apartV*math.Max(1, math.Round(c.BankV()/12)))
	o := q.Judge().Outcome(known[low].Path, known[low].Name, check.Warn)
	if o.Verdict != check.Warn {
		return check.Outcome{}, false
	}
	o.Title = "chargers rest at unlike voltages"
	o.Detail = fmt.Sprintf("At rest %s carries all loads, and %s none.", known[high].Name, known[low].Name)
	o.Ways, o.Tries = ways, follow(c, known, "float", low, high)
	return o, true
}

// timers compares how long they hold the charging voltage, where two or more say so.
func timers(c check.Case, set []check.Setting) (check.Outcome, bool) {
	var known []check.Setting
	for _, s := range set {
		if s.AbsorbFor.Given() {
			known = append(known, s)
		}
	}
	if len(known) < 2 {
		return check.Outcome{}, false
	}
	low, high := ends(known, func(s *check.Setting) rig.Value { return s.AbsorbFor })
	q := check.Inequality{
		Formula: "Δt = tlong − tshort ≤ tapart", Name: "how far they lie apart", Kind: quantity.Duration,
		Inputs: []figure.Term{
			check.Known("tlong", "time "+known[high].Name+" holds it", known[high].AbsorbFor), check.Known("tshort", "time "+known[low].Name+" holds it", known[low].AbsorbFor),
			check.Number("tapart", "how far they may lie apart", quantity.Duration, apartH, check.Practice),
		},
		Source: check.Practice,
	}
	o := q.Judge().Outcome(known[low].Path, known[low].Name, check.Warn)
	if o.Verdict != check.Warn {
		return check.Outcome{}, false
	}
	o.Title = "chargers hold unlike times"
	o.Detail = idles(known[low], known[high])
	o.Ways, o.Tries = ways, follow(c, known, "absorbs for", high, low)
	return o, true
}

// words are what people call the settings compared here.
var words = map[string]string{"absorption": "charging voltage", "float": "resting voltage", "absorbs for": "time at the charging voltage"}

// follow returns the edits that set every charger of a set as one of them is set, for each of the leads in turn.
func follow(c check.Case, set []check.Setting, key string, leads ...int) []check.Cure {
	var list []check.Cure
	for _, i := range leads {
		lead := set[i]
		said, _ := c.SaidValue(lead.Path + "/" + key)
		cure := check.Cure{Words: fmt.Sprintf("set the %s of all as that of %s, %s", words[key], lead.Name, said.Text())}
		for _, s := range set {
			own, _ := c.SaidValue(s.Path + "/" + key)
			if s.Path != lead.Path && own.Text() != said.Text() {
				cure.Edits = append(cure.Edits, check.Set(s.Path+"/"+key, own, said.Text()))
			}
		}
		list = append(list, cure)
	}
	return list
}

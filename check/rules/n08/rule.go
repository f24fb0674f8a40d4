// Package n08 is the room of rule N08.
package n08

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N08", Title: "disconnect that leaves or kills too much", Holds: "disconnects do what they say", Worst: check.Fail,
	What: "What each disconnect and switch of the battery side darkens and what it leaves live behind it, by a walk through the wiring with the switch open.",
	Why:  "A switch that takes the detectors along leaves people asleep without an alarm; one that leaves a source live behind \"all off\" hurts who trusts it.",
	Except: "Detectors ahead of the main switch are intended. Sources that stay live behind an opened switch, such as modules and chargers, are told as a note, not as " +
		"a fault by itself: the order of opening is what wire --at prints.",
	Formula:   "detectors stay fed with the disconnect open",
	Source:    check.Practice,
	Sure:      "as sure as the wiring that is written",
	Questions: []string{"Where do the detectors take their feed?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil || !c.Wired() {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if d.Kind != "disconnect" && d.Kind != "switch" || d.Run < 0 || net.Runs[d.Run].Side != conductor.Battery {
			continue
		}
		list = append(list, judge(net, i))
	}
	return list
}

func judge(net *system.Network, i int) check.Outcome {
	d := &net.Devices[i]
	live := net.Open(i)
	o := check.Outcome{Place: d.Path, Part: d.Title(net)}
	var killed []string
	for _, name := range append(append([]string(nil), live.Dark...), live.Unsteady...) {
		if detects(name) {
			killed = append(killed, name)
		}
	}
	var behind []string
	for _, s := range live.Behind {
		if !strings.HasPrefix(s, "block ") {
			behind = append(behind, s)
		}
	}
	switch {
	case len(killed) > 0:
		o.Verdict, o.Title = check.Fail, "disconnect kills the detectors"
		o.Consequence = fmt.Sprintf("With it open %s no longer warn of gas, smoke or carbon monoxide.", strings.Join(killed, ", "))
		if o.Detail = "With it open only a charger still feeds them, without the bank."; len(live.Dark) > 0 {
			o.Detail = "Dark with it open: " + strings.Join(live.Dark, ", ") + "."
		}
	case len(behind) > 0:
		o.Verdict, o.Title = check.Note, "sources stay live behind the disconnect"
		o.Detail = fmt.Sprintf("With it open, %s still feed what lies behind it.", strings.Join(behind, ", "))
	default:
		o.Verdict, o.Detail = check.Pass, "With it open nothing behind it is live, and no detector goes dark."
	}
	o.Ways = []string{"feed the detectors ahead of the disconnect, with a small fuse of their own", "detectors with batteries of their own"}
	return o
}

// detects tells whether a load warns of danger, by its name.
func detects(name string) bool {
	name = strings.ToLower(name)
	for _, word := range []string{"detector", "smoke", "carbon monoxide", "gas alarm", "lp alarm", "co alarm"} {
		if strings.Contains(name, word) {
			return true
		}
	}
	return false
}

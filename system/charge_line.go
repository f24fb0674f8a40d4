package system

import (
	"slices"

	"campwright/figure"
	"campwright/rig"
)

// ChargeLinks returns the pieces of the charge line in order. Where no cable stands among those that the document lists, the cables, fuses
// and plugs of the wiring on the way from the vehicle to the unit stand before them. The document is not changed.
func ChargeLinks(doc *rig.Rig) []rig.Link {
	for i := range doc.ChargeLine {
		if l := &doc.ChargeLine[i]; l.Run != nil || l.Ohms.State != figure.Absent {
			return doc.ChargeLine
		}
	}
	end, ok := lineEnd(doc)
	if !ok {
		return doc.ChargeLine
	}
	var links []rig.Link
	for _, w := range wiredWay(doc, rig.Terminal{Part: "vehicle"}, end) {
		links = append(links, linksOf(doc, w)...)
	}
	return append(links, doc.ChargeLine...)
}

// UnitAt returns which link of the charge line is its dc-dc unit, -1 where it has none. A file may keep a unit that was replaced, with the day it
// was removed, and tell of one that comes later: of several it is the last that no day takes away, and where all of them go the last of all.
func UnitAt(doc *rig.Rig) int {
	at := -1
	for i := range doc.ChargeLine {
		if d := doc.ChargeLine[i].DCDC; d != nil && (at < 0 || !d.Removed.Given() || doc.ChargeLine[at].DCDC.Removed.Given()) {
			at = i
		}
	}
	return at
}

// linksOf returns a run of the wiring as pieces of a charge line: its cable, measured before worked out, and what stands in it.
func linksOf(doc *rig.Rig, w *rig.Wire) []rig.Link {
	cable := rig.Link{Run: &rig.Run{Gauge: w.Gauge, Length: w.Length, Ambient: w.Ambient}}
	switch {
	case w.Reading != nil:
		if line, err := meterLine(w.Reading); err == nil {
			ohms := w.Reading.Start
			ohms.Quantity.Base, ohms.Low, ohms.High, ohms.State = line.Ohms, line.Low, line.High, figure.Measured
			cable = rig.Link{Ohms: ohms}
		}
	case w.Ohms.Given():
		ohms := w.Ohms
		ohms.Quantity.Base, ohms.Low, ohms.High = 2*ohms.Quantity.Base, 2*ohms.Low, 2*ohms.High
		cable = rig.Link{Ohms: ohms}
	}
	links := []rig.Link{cable}
	if l := cable.Run; l != nil && (!l.Gauge.Given() || !l.Length.Given()) {
		f, from, to := filler{}, rig.Terminal{}, rig.Terminal{}
		from, _ = doc.Terminal(w.From)
		to, _ = doc.Terminal(w.To)
		if !l.Length.Given() {
			l.Length = RunLength(doc, from, to)
		}
		f.link(&links[0], "charge line/", doc.Bank, BankCells(doc.Bank))
	}
	for i := range w.Devices {
		switch d := &w.Devices[i]; d.Kind {
		case "fuse", "breaker":
			links = append(links, rig.Link{Fuse: d.Rating})
		case "plug":
			links = append(links, rig.Link{Plug: d.Rating})
		}
	}
	return links
}

// lineEnd returns the input at which the charge line ends.
func lineEnd(doc *rig.Rig) (rig.Terminal, bool) {
	unit := UnitAt(doc)
	for i := range doc.ChargeLine {
		switch {
		case i == unit:
			return rig.Terminal{Part: "dc-dc", Port: "in"}, true
		case doc.ChargeLine[i].Relay != nil:
			return rig.Terminal{Part: "relay", Port: "in"}, true
		}
	}
	return rig.Terminal{}, false
}

// wiredWay returns the runs of the wiring on the shortest way between two terminals, counted in runs; none where they are not joined. Runs
// of the minus alone are passed over: they come back beside their plus.
func wiredWay(doc *rig.Rig, from, to rig.Terminal) []*rig.Wire {
	if doc.Wiring == nil {
		return nil
	}
	type leg struct {
		wire *rig.Wire
		ends [2]string
	}
	var legs []leg
	for i := range doc.Wiring.Runs {
		w := &doc.Wiring.Runs[i]
		a, bad := doc.Terminal(w.From)
		b, worse := doc.Terminal(w.To)
		if bad == nil && worse == nil && a.Sign != "-" && b.Sign != "-" {
			legs = append(legs, leg{w, [2]string{unsigned(a), unsigned(b)}})
		}
	}
	ways := map[string][]*rig.Wire{unsigned(from): {}}
	for edge := []string{unsigned(from)}; len(edge) > 0; edge = edge[1:] {
		for _, l := range legs {
			for k := range l.ends {
				next := l.ends[1-k]
				if _, seen := ways[next]; l.ends[k] == edge[0] && !seen {
					ways[next] = append(slices.Clone(ways[edge[0]]), l.wire)
					edge = append(edge, next)
				}
			}
		}
	}
	return ways[unsigned(to)]
}

package check

import (
	"fmt"
	"slices"

	"campwright/system"
)

// Fed tells whether the bank feeds a terminal with a device open, −1 for none: its plus from a plus post and, for a pair, its minus from a minus post. known
// is false where the wiring has no such place or does not reach it at all.
func (n *Nets) Fed(terminal string, open int) (fed, known bool) {
	net := n.Net()
	fed = true
	for _, sign := range []string{" +", " -"} {
		goal, ok := net.NodeOf(terminal + sign)
		if !ok {
			if goal, ok = net.NodeOf(terminal); !ok {
				continue
			}
		}
		known = true
		fed = fed && n.reached(sign, open, false)[goal]
	}
	if open < 0 {
		return fed && known, fed && known
	}
	whole, ok := n.Fed(terminal, -1)
	return fed && whole, ok
}

// Returned tells whether the written wiring brings the minus of a terminal back to the bank; a joint that the program took as there for want of a word is
// none.
func (n *Nets) Returned(terminal string) bool {
	goal, ok := n.Net().NodeOf(terminal + " -")
	return ok && n.reached(" -", -1, true)[goal]
}

// MinusOpens tells whether the minus side, wherever a return that is not written may run, can be opened by hand or by itself, or is not written at all.
func (n *Nets) MinusOpens() bool {
	net := n.Net()
	written := false
	for i := range net.Runs {
		written = written || net.Runs[i].Core[1].From >= 0
	}
	return !written || slices.ContainsFunc(net.Edges, func(e system.Edge) bool {
		return e.Device >= 0 && net.Nodes[e.A].Rail == system.Minus && darkens(&net.Devices[e.Device])
	})
}

// taken tells whether an edge is a joint that nobody wrote.
func taken(net *system.Network, e *system.Edge) bool {
	if e.Run >= 0 || e.B != net.Reference() {
		return false
	}
	return slices.ContainsFunc(net.Loose, func(l system.Loose) bool {
		at, ok := net.NodeOf(l.Part)
		return ok && l.Taken && at == e.A
	})
}

// reached returns the nodes that the posts of one sign reach through cables, with a device open; written leaves out the joints that nobody wrote.
func (n *Nets) reached(sign string, open int, written bool) []bool {
	net := n.Net()
	live := make([]bool, len(net.Nodes))
	for i := range net.Blocks {
		if at, ok := net.NodeOf(fmt.Sprintf("block %d%s", i+1, sign)); ok {
			live[at] = true
		}
	}
	for grew := true; grew; {
		grew = false
		for i := range net.Edges {
			e := &net.Edges[i]
			if e.OneWay || open >= 0 && e.Device == open || net.Nodes[e.A].Rail != net.Nodes[e.B].Rail || written && taken(net, e) {
				continue
			}
			if live[e.A] != live[e.B] {
				live[e.A], live[e.B], grew = true, true, true
			}
		}
	}
	return live
}

// Darkens returns the devices by which a person, or the rig by itself, darkens what hangs behind them: not what opens on too much current alone.
func (n *Nets) Darkens() []int {
	var list []int
	for i := range n.Net().Devices {
		if darkens(&n.Net().Devices[i]) {
			list = append(list, i)
		}
	}
	return list
}

func darkens(d *system.Device) bool {
	switch d.Kind {
	case "switch", "disconnect", "cut-off", "relay":
		return true
	}
	return false
}

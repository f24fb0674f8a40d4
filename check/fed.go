package check

import "fmt"

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
		fed = fed && n.reached(sign, open)[goal]
	}
	if open < 0 {
		return fed && known, fed && known
	}
	whole, ok := n.Fed(terminal, -1)
	return fed && whole, ok
}

// reached returns the nodes that the posts of one sign reach through cables, with a device open.
func (n *Nets) reached(sign string, open int) []bool {
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
			if e.OneWay || open >= 0 && e.Device == open || net.Nodes[e.A].Rail != net.Nodes[e.B].Rail {
				continue
			}
			if live[e.A] != live[e.B] {
				live[e.A], live[e.B], grew = true, true, true
			}
		}
	}
	return live
}

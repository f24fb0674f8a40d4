package design

import (
	"fmt"
	"strings"

	"campwright/system"
)

// backups returns for each device that a bolted short could drive more through than it is made to stop, the device before it that can; empty where it needs none,
// and where none can.
func (w *Wired) backups() []string {
	n := w.Net()
	list := make([]string, len(n.Devices))
	parent := parents(n)
	for i := range n.Devices {
		d := &n.Devices[i]
		fault := w.Faults[i].Amps
		if !d.Protects() || d.InterruptA <= 0 || fault <= d.InterruptA || len(d.Edges) == 0 {
			continue
		}
		e := n.Edges[d.Edges[0]]
		at := e.A
		if parent[e.A] == d.Edges[0] {
			at = e.B
		}
		for steps := 0; parent[at] >= 0 && steps < len(n.Edges); steps++ {
			up := &n.Edges[parent[at]]
			if up.Device >= 0 {
				q := &n.Devices[up.Device]
				if !q.Protects() {
					at = up.A + up.B - at
					continue
				}
				if ofBlock := q.Run >= 0 && n.Blocks > 1 && strings.HasPrefix(n.Runs[q.Run].From, "block "); ofBlock && q.InterruptA >= fault/float64(n.Blocks) {
					list[i] = "the fuses at the blocks, each with its share,"
					break
				}
				if q.InterruptA >= fault {
					list[i] = q.Title(n)
					break
				}
			}
			at = up.A + up.B - at
		}
	}
	return list
}

// backUp says in the reason of a chosen fuse that a bolted short could drive more through it than its family stops, and what is done about it.
func (a *Answer) backUp(d *DeviceRow) {
	if d.Interrupt <= 0 || d.FaultA <= d.Interrupt {
		return
	}
	text := fmt.Sprintf("; a bolted short could drive %.1f kA through it, and this family stops %.0f kA: ", d.FaultA/1000, d.Interrupt/1000)
	if d.BackedBy != "" {
		text += d.BackedBy + " before it, which can stop that, backs it up, and may open with it"
	} else {
		text += "take a family that stops more, longer leads, or a fuse at each block that stops its share"
	}
	for i := range a.Choices {
		if c := &a.Choices[i]; c.Path == d.Path && !strings.Contains(c.Why, "a bolted short could") {
			c.Why += text
		}
	}
}

// parents returns for each node the edge by which the bank's plus posts reach it, −1 where they do not.
func parents(n *system.Network) []int {
	parent := make([]int, len(n.Nodes))
	seen := make([]bool, len(n.Nodes))
	for i := range parent {
		parent[i] = -1
	}
	var queue []int
	for k := range n.Blocks {
		if i, ok := n.NodeOf(fmt.Sprintf("block %d +", k+1)); ok {
			seen[i] = true
			queue = append(queue, i)
		}
	}
	for ; len(queue) > 0; queue = queue[1:] {
		for i := range n.Edges {
			e := &n.Edges[i]
			if e.OneWay || e.A != queue[0] && e.B != queue[0] {
				continue
			}
			if next := e.A + e.B - queue[0]; !seen[next] && n.Nodes[next].Rail == system.Plus {
				seen[next], parent[next] = true, i
				queue = append(queue, next)
			}
		}
	}
	return parent
}

package check

import "strings"

// ACWay returns the way by which the written wiring brings an inverter's output to a terminal of the AC side, from the inverter to the terminal; empty where it
// does not. wired tells whether any written run feeds the terminal at all.
func (c Case) ACWay(terminal string) (way []string, wired bool) {
	w := c.Said.Wiring
	if w == nil {
		return nil, false
	}
	seen := map[string]bool{terminal: true}
	type step struct {
		at  string
		way []string
	}
	for queue := []step{{terminal, []string{terminal}}}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		if strings.HasPrefix(here.at, "inverter ") {
			return here.way, true
		}
		for i := range w.Runs {
			r := &w.Runs[i]
			if r.To != here.at || seen[r.From] {
				continue
			}
			if t, err := c.Said.Terminal(r.From); err != nil || !t.Mains() {
				continue
			}
			wired, seen[r.From] = true, true
			queue = append(queue, step{r.From, append([]string{r.From}, here.way...)})
		}
	}
	return nil, wired
}

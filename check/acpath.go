package check

import "strings"

// ACWay returns the way by which the written wiring brings an inverter's output to a terminal of the AC side, from the inverter to the terminal; empty where it
// does not. wired tells whether the written runs answer that: they lead to an inverter, or from each branch back to the inlet or a generator. Runs that begin on a panel
// that nothing feeds, or at a transfer switch with a single way in, are only part of the wiring and answer nothing.
func (c Case) ACWay(terminal string) (way []string, wired bool) {
	w := c.Said.Wiring
	if w == nil {
		return nil, false
	}
	seen := map[string]bool{terminal: true}
	ends := true // every branch so far began at a source
	type step struct {
		at  string
		way []string
	}
	for queue := []step{{terminal, []string{terminal}}}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		if strings.HasPrefix(here.at, "inverter ") {
			return here.way, true
		}
		feeds := 0
		for i := range w.Runs {
			r := &w.Runs[i]
			if r.To != here.at {
				continue
			}
			if t, err := c.Said.Terminal(r.From); err != nil || !t.Mains() {
				continue
			}
			if feeds++; !seen[r.From] {
				seen[r.From] = true
				queue = append(queue, step{r.From, append([]string{r.From}, here.way...)})
			}
		}
		switch {
		case here.at == "inlet", strings.HasPrefix(here.at, "generator "):
		case feeds == 0, here.at == "transfer" && feeds < 2:
			ends = false
		}
	}
	return nil, ends
}

package web

import "campwright/store"

// wiredAt solves an earlier revision, or finds it solved; false where there is none that can be wired.
func (s *Server) wiredAt(revision string) (keptWiring, bool) {
	if revision == "" {
		return keptWiring{}, false
	}
	open := s.open()
	text, err := open.Text(revision)
	if err != nil {
		return keptWiring{}, false
	}
	r := understood(open.Name(), store.State{Text: text, Revision: revision})
	if len(r.faults)+len(r.gaps) > 0 {
		return keptWiring{}, false
	}
	k, err := s.wired.get(r)
	return k, err == nil
}

// wiredShifts tells the runs and devices that came, went, or have another size or rating, in the order of the sheet.
func wiredShifts(before, after *WiredSheet) []WiredShift {
	was, list := sizes(before), []WiredShift{}
	left := map[string]WiredShift{}
	for _, x := range was {
		left[x.Name] = x
	}
	for _, now := range sizes(after) {
		old := left[now.Name]
		delete(left, now.Name)
		if old.After != now.After {
			list = append(list, WiredShift{Name: now.Name, Before: old.After, After: now.After})
		}
	}
	for _, x := range was {
		if _, gone := left[x.Name]; gone {
			list = append(list, WiredShift{Name: x.Name, Before: x.After})
		}
	}
	return list
}

// sizes are the sizes of runs and the ratings of devices by their names.
func sizes(t *WiredSheet) []WiredShift {
	var list []WiredShift
	for _, g := range t.Groups {
		for _, r := range g.Runs {
			list = append(list, WiredShift{Name: r.Name, After: r.Gauge})
		}
	}
	for _, d := range t.Devices {
		what := d.What
		if d.Rating != "" {
			what = d.Rating + " " + what
		}
		list = append(list, WiredShift{Name: d.Name, After: alike(what)})
	}
	return list
}

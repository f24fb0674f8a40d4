package web

import (
	"slices"

	"campwright/conductor"
	"campwright/design"
	"campwright/rig"
	"campwright/system"
)

// along returns the places of the proposed runs that are accepted together with one, its own among them. A run hangs on the bars and feeds
// between it and the bank, and the mains side is laid out as one: taken apart they would be no proposal any more. There are none for a run
// that is no proposal.
func along(w *design.Wired, rows []design.RunRow, of int) []int {
	var list []int
	if rows[of].Known != "proposed" || w.Proposal.Doc.Wiring == nil {
		return list
	}
	runs := w.Net().Runs
	for i := range rows {
		if rows[i].Known == "proposed" && (i == of || goesAlong(&w.Proposal.Doc, &runs[i], &runs[of])) {
			list = append(list, i)
		}
	}
	return list
}

// acceptance returns the edits that take a proposed run into the file with what it hangs on.
func acceptance(w *design.Wired, rows []design.RunRow, of int) []rig.Edit {
	doc := w.Said.Clone()
	if doc.Wiring == nil {
		doc.Wiring = &rig.Wiring{}
	}
	for _, i := range along(w, rows, of) {
		takeRun(&w.Proposal.Doc, doc.Wiring, rows[i].Path)
	}
	return listed(rig.Diff(w.Said, doc))
}

// goesAlong tells whether a run is taken together with another.
func goesAlong(doc *rig.Rig, r, with *system.Run) bool {
	switch with.Side {
	case conductor.Mains:
		return r.Side == conductor.Mains
	case conductor.Battery:
		return r.Side == conductor.Battery && !r.Branch && trunk(doc, r.From) && trunk(doc, r.To)
	}
	return false
}

// trunk tells whether a terminal lies between the bank and what is fed.
func trunk(doc *rig.Rig, terminal string) bool {
	t, err := doc.Terminal(terminal)
	return err == nil && slices.Contains([]string{"bank", "block", "bus bar", "fuse block"}, t.Part)
}

// takeRun takes a run with its devices, and the bars, fuse blocks and combiners at its ends.
func takeRun(from *rig.Rig, to *rig.Wiring, path string) {
	at := slices.Index(from.RunPaths(), path)
	if at < 0 {
		takeBranch(from.Wiring, to, path)
		return
	}
	run := from.Wiring.Runs[at]
	to.Runs = append(to.Runs, run)
	for _, end := range []string{run.From, run.To} {
		if t, err := from.Terminal(end); err == nil {
			takePart(from.Wiring, to, t)
		}
	}
}

// takePart takes the part of a terminal that the wiring itself has. A fuse block is taken without its branches.
func takePart(from, to *rig.Wiring, t rig.Terminal) {
	switch t.Part {
	case "bus bar":
		take(from.Bars, &to.Bars, func(b *rig.Bar) bool { return b.Name == t.Name })
	case "fuse block":
		if b := take(from.FuseBlocks, &to.FuseBlocks, func(b *rig.FuseBlock) bool { return b.Name == t.Name }); b != nil {
			b.Branches = nil
		}
	case "combiner":
		take(from.Combiners, &to.Combiners, func(c *rig.Combiner) bool { return c.Name == t.Name })
	}
}

// takeBranch takes one branch of a fuse block, and the block where it is not there yet.
func takeBranch(from, to *rig.Wiring, path string) {
	for i := range from.FuseBlocks {
		block := &from.FuseBlocks[i]
		at := slices.Index(block.BranchPaths(), path)
		if at < 0 {
			continue
		}
		takePart(from, to, rig.Terminal{Part: "fuse block", Name: block.Name})
		for k := range to.FuseBlocks {
			if b := &to.FuseBlocks[k]; b.Name == block.Name {
				b.Branches = append(b.Branches, block.Branches[at])
			}
		}
	}
}

// take appends the member that is meant where none like it is there, and returns it; nil where it took none.
func take[T any](from []T, to *[]T, meant func(*T) bool) *T {
	same := func(x T) bool { return meant(&x) }
	at := slices.IndexFunc(from, same)
	if at < 0 || slices.ContainsFunc(*to, same) {
		return nil
	}
	*to = append(*to, from[at])
	return &(*to)[len(*to)-1]
}

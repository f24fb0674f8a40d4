package trip

import (
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// moreBlocks proposes one block more beside those of the bank, which must be of the same kind and age.
func (w *wayfinder) moreBlocks() {
	b := *w.doc.Bank
	count := math.Round(math.Max(1, b.Blocks.Quantity.Base))
	doc := *w.doc
	said := rig.Value{Quantity: quantity.Quantity{Base: count + 1, Kind: quantity.Count}, State: figure.Plain, At: b.Blocks.At}
	edits := []rig.Edit{{Path: "bank/blocks", Old: system.AsWritten(b.Blocks), New: said.Text()}}
	b.Blocks = said
	doc.Bank = &b
	w.attempt(say("one more block beside the others, of the same kind and age: %.0f in place of %.0f", count+1, count), &doc, change{}, edits, figure.Figure{})
}

// moreModules proposes one string more on the array that gives most, where its controller passes the current of all its modules; whether the roof has room is
// for its owner to see.
func (w *wayfinder) moreModules() {
	most := -1
	for i := range w.sys.Arrays {
		if most < 0 || w.sys.Arrays[i].RatedW > w.sys.Arrays[most].RatedW {
			most = i
		}
	}
	if most < 0 {
		return
	}
	a := &w.sys.Arrays[most]
	more := a.RatedW / math.Max(1, a.Strings)
	on := more
	for i := range w.sys.Arrays {
		if w.sys.Arrays[i].Controller == a.Controller {
			on += w.sys.Arrays[i].RatedW
		}
	}
	if on > w.sys.Controllers[a.Controller].Unit.Params().OutputA*w.sys.Bank.Model.AbsorptionV() {
		return
	}
	doc := *w.doc
	doc.Arrays = slices.Clone(w.doc.Arrays)
	for i := range doc.Arrays {
		r := &doc.Arrays[i]
		if r.Name != a.Name {
			continue
		}
		said := rig.Value{Quantity: quantity.Quantity{Base: math.Round(a.Strings) + 1, Kind: quantity.Count}, State: figure.Plain, At: r.Strings.At}
		edits := []rig.Edit{{Path: "arrays/" + r.Name + "/strings", Old: system.AsWritten(r.Strings), New: said.Text()}}
		r.Strings = said
		w.attempt(say("another string of the modules of %s, %s more, where the roof has room: %.0f strings in place of %.0f", r.Name, of(more, quantity.Power), math.Round(a.Strings)+1, math.Round(a.Strings)),
			&doc, change{}, edits, figure.Figure{})
		return
	}
}

package trip

import (
	"strings"
	"testing"

	"campwright/internal/near"
)

const alone = `campwright: 1
name: alone
kind: van
modules: {field: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}
controllers: {c: {survives: 100 V, output: OUT}}
arrays: [{name: roof, module: field, controller: c}]
bank: {chemistry: LFP, blocks: 1, block: {voltage: 12.8 V, capacity: 100 Ah}, starts at: 100 %, health: 100 %}
appliances: [{name: set, power: 30 W measured, on: always}]
trip: [{place: 33.6 N 114.2 W, from: 2027-01-10, nights: 12, site: SITE}]
aims: {floor: 20 %}
`

// One more block of the same kind doubles what one holds: without sun the battery lasts twice as long. A string more is proposed in the sun, and not where the
// controller could not pass its current.
func TestAdvise_More(t *testing.T) {
	dark := ask(t, strings.NewReplacer("OUT", "30 A", "SITE", "roofed").Replace(alone), 20)
	now := dark.store("battery")
	block := dark.way("battery", "one more block")
	near.Rel(t, "days on two blocks", block.Lasts.Value, 2*now.Lasts.Value, 0.03, "twice the bank, the same load")
	near.Abs(t, "what was promised", answered(t, dark.file, 20, block.Edits...).store("battery").Lasts.Value, block.Lasts.Value, 1e-9, "the same runs")
	for output, want := range map[string]bool{"30 A": true, "15 A": false} {
		proposed := false
		for _, w := range ask(t, strings.NewReplacer("OUT", output, "SITE", "deep shade").Replace(alone), 20).advice.Ways {
			proposed = proposed || strings.HasPrefix(w.Words, "another string")
		}
		if proposed != want {
			t.Errorf("a second 200 W module on a controller of %s: proposed %v", output, proposed)
		}
	}
}

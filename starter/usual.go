package starter

import "campwright/catalogue"

// carried is what a kind of rig usually carries and has room for. Common practice, no source.
type carried struct {
	modules    int // 200 W modules that its roof has room for, with a way to walk
	blocks     int // most blocks of 100 Ah
	vessels    int // propane vessels
	lb         float64
	fresh      float64 // gal
	grey       float64
	black      float64
	inlet      string // North America
	inlet230   string // elsewhere
	charger    string // part of the catalogue
	furnace    string // appliance of the catalogue
	alternator string // part of the catalogue, for a rig with its own engine; empty for a towed one
	unit       string // part of the catalogue that charges from it, within what it gives hot at idle
	tank       bool   // has a tank of hot water
}

var kinds = map[string]carried{
	"motorhome":      {modules: 5, blocks: 8, vessels: 1, lb: 60, fresh: 50, grey: 40, black: 35, inlet: "30 A", inlet230: "16 A 230 V", charger: "60 A charger", furnace: "furnace", alternator: "motorhome chassis", unit: "20 A dc-dc", tank: true},
	"travel trailer": {modules: 5, blocks: 6, vessels: 2, lb: 20, fresh: 45, grey: 40, black: 30, inlet: "30 A", inlet230: "16 A 230 V", charger: "60 A charger", furnace: "furnace", tank: true},
	"fifth wheel":    {modules: 8, blocks: 12, vessels: 2, lb: 30, fresh: 60, grey: 75, black: 40, inlet: "50 A", inlet230: "16 A 230 V", charger: "60 A charger", furnace: "large furnace", tank: true},
	"van":            {modules: 2, blocks: 3, vessels: 1, lb: 11, fresh: 20, grey: 15, inlet: "15 A", inlet230: "10 A 230 V", charger: "45 A charger", furnace: "small furnace", alternator: "van", unit: "30 A dc-dc"},
	"truck camper":   {modules: 2, blocks: 3, vessels: 2, lb: 20, fresh: 30, grey: 22, black: 20, inlet: "30 A", inlet230: "16 A 230 V", charger: "45 A charger", furnace: "small furnace", alternator: "pickup truck", unit: "20 A dc-dc", tank: true},
}

// layout is how so many modules are wired.
type layout struct {
	modules int
	arrays  []wiring
}

// wiring is one array on a controller of its own.
type wiring struct {
	series, strings int
	controller      string // part of the catalogue
}

// layouts are those that keep a 36-cell module's strings under 100 V in any cold and above the bank in any heat, small to large. Two strings
// on a controller need no fuse of their own.
var layouts = []layout{
	{1, []wiring{{1, 1, "20 A controller"}}},
	{2, []wiring{{2, 1, "30 A controller"}}},
	{3, []wiring{{3, 1, "50 A controller"}}},
	{4, []wiring{{2, 2, "50 A controller"}}},
	{5, []wiring{{3, 1, "50 A controller"}, {2, 1, "30 A controller"}}},
	{6, []wiring{{3, 1, "50 A controller"}, {3, 1, "50 A controller"}}},
	{8, []wiring{{2, 2, "50 A controller"}, {2, 2, "50 A controller"}}},
}

// inverters are the ratings that an inverter is sized to, small to large [W].
var inverters = []string{"600 W inverter", "1000 W inverter", "2000 W inverter", "3000 W inverter"}

// part returns a part that the program itself names.
func part(kind, name string) catalogue.Part {
	p, ok := catalogue.FindPart(kind, name)
	if !ok {
		panic("starter: internal error: no " + kind + " " + name)
	}
	return p
}

// appliance returns an appliance that the program itself names.
func appliance(name string) catalogue.Appliance {
	a, ok := catalogue.Find(name)
	if !ok || a.Name != name {
		panic("starter: internal error: no appliance " + name)
	}
	return a
}

package rig

import "reflect"

// This file is the wiring of a rig: what joins its parts. Tags as in document.go.
//
// A run goes from one terminal to another. A terminal is the name of a part, with the side of it where it has several, and with + or −
// for one conductor: "bank", "block 2 +", "inverter main", "controller pantry pv", "bus bar main -", "fuse block house". Without a sign
// the run is a pair, plus and minus alike. Terminals explains every name.
//
// Devices stand in the run that they interrupt, at their distance from where the run begins.

// Wiring is what joins the parts, and where they sit.
type Wiring struct {
	Bays       []Bay        `rig:"bays" doc:"where things sit, by name, so that lengths can be worked out"`
	Bars       []Bar        `rig:"bus bars" doc:"bus bars and junction studs, by name"`
	FuseBlocks []FuseBlock  `rig:"fuse blocks" doc:"fuse blocks and breaker panels of the DC side, by name"`
	Combiners  []Combiner   `rig:"combiners" doc:"where strings join on the roof, by name"`
	Runs       []Wire       `rig:"runs" doc:"cables, each from one terminal to another"`
	ChargePin  string       `rig:"charge pin" oneof:"removed|isolated|joined|none|unknown" doc:"what became of the charge feed of the factory trailer plug"`
	Plug       *VehiclePlug `rig:"vehicle plug" doc:"the high-current plug between vehicle and trailer"`
}

// Bay is a place in the rig. Distances run aft from the front, to the left from the curb side, and up from the floor.
type Bay struct {
	Name    string   `rig:",key"`
	Aft     Value    `rig:"aft" kind:"length" range:"-5 m..20 m" doc:"from the front of the rig"`
	Left    Value    `rig:"left" kind:"length" range:"-1 m..4 m" doc:"from the curb side"`
	Up      Value    `rig:"up" kind:"length" range:"-2 m..5 m" doc:"from the floor"`
	Hottest Value    `rig:"hottest" kind:"temperature" range:"0 C..150 C" doc:"hottest air in it"`
	Vented  string   `rig:"vented" oneof:"yes|no|unknown" doc:"whether it is open to outside air at its top and bottom, and closed towards the inside"`
	Propane string   `rig:"propane" oneof:"yes|no|unknown" doc:"whether propane cylinders or their regulator sit in it"`
	Holds   []string `rig:"holds" doc:"parts that sit in it, by the names that runs use"`
}

// Bar is a bus bar, or a stud where several lugs meet.
type Bar struct {
	Name   string `rig:",key"`
	Rails  string `rig:"rails" oneof:"both|plus|minus" doc:"whether it is a plus and a minus bar side by side, or one of them"`
	Rating Value  `rig:"rating" kind:"current" range:"5 A..3000 A" doc:"lasting current of each rail"`
}

// FuseBlock shares one feed among branches, each with its own fuse.
type FuseBlock struct {
	Name     string   `rig:",key"`
	Rating   Value    `rig:"rating" kind:"current" range:"5 A..600 A" doc:"lasting current of the whole block"`
	Branches []Branch `rig:"branches" doc:"what hangs on it, fuse by fuse"`
}

// Branch is one fuse of a fuse block with its cable and what it feeds.
type Branch struct {
	Name       string   `rig:"name" doc:"what you call it"`
	Feeds      []string `rig:"feeds" doc:"appliances behind this fuse, by name"`
	Fuse       Value    `rig:"fuse" kind:"current" range:"0.5 A..200 A" doc:"rating"`
	Family     string   `rig:"family" oneof:"mini blade fuse|blade fuse|large blade fuse|small bolt-down automotive fuse|large bolt-down automotive fuse|strip limiter fuse|terminal-mount block fuse|class T fuse|class J fuse|breaker" doc:"kind of fuse by its shape"`
	Gauge      Value    `rig:"gauge" kind:"section" range:"0.2 mm2..200 mm2" doc:"conductor size"`
	Length     Value    `rig:"length" kind:"length" range:"0 m..60 m" doc:"one way, to the farthest appliance"`
	Insulation Value    `rig:"insulation" kind:"temperature" range:"60 C..200 C" doc:"temperature printed on the insulation"`
	Bundled    Value    `rig:"bundled" kind:"count" range:"1..200" whole:"yes" doc:"current-carrying conductors that lie together, this run's included"`
	Return     string   `rig:"return" oneof:"wire|chassis" doc:"how the current comes back"`
}

// Combiner joins strings, or whole arrays, into one home run.
type Combiner struct {
	Name       string   `rig:",key"`
	Arrays     []string `rig:"arrays" doc:"arrays that join in it, by name"`
	Fuse       *Device  `rig:"string fuse" doc:"the fuse of each string"`
	Connectors Value    `rig:"connectors" kind:"current" range:"1 A..200 A" doc:"rating of branch connectors or of the box"`
}

// Wire is one run of cable between two terminals.
type Wire struct {
	Name       string   `rig:"name" doc:"what you call it"`
	From       string   `rig:"from" needs:"yes" doc:"terminal where it begins, seen from the source: bank, block 2 +, bus bar main"`
	To         string   `rig:"to" needs:"yes" doc:"terminal where it ends"`
	Gauge      Value    `rig:"gauge" kind:"section" range:"0.2 mm2..200 mm2" doc:"conductor size"`
	Length     Value    `rig:"length" kind:"length" range:"0 m..60 m" doc:"one way, of one conductor"`
	Ohms       Value    `rig:"resistance" kind:"resistance" range:"0 mohm..10 ohm" doc:"measured, of one conductor, in place of gauge and length"`
	Route      string   `rig:"route" oneof:"inside|roof|engine bay|outside|unknown" doc:"the hottest place it passes"`
	Ambient    Value    `rig:"ambient" kind:"temperature" range:"-40 C..150 C" doc:"hottest air around it, where that is not the air of its bays or usual for its route"`
	Bundled    Value    `rig:"bundled" kind:"count" range:"1..200" whole:"yes" doc:"current-carrying conductors that lie together, this run's included"`
	Sheathed   string   `rig:"sheathed" oneof:"yes|no|unknown" doc:"whether it lies in a sheath, conduit or enclosure all the way to its first device"`
	Insulation Value    `rig:"insulation" kind:"temperature" range:"60 C..200 C" doc:"temperature printed on the insulation"`
	Terminals  Value    `rig:"terminals" kind:"temperature" range:"60 C..90 C" doc:"temperature marked on the terminals at its ends"`
	Return     string   `rig:"return" oneof:"wire|chassis" doc:"how the current of a pair comes back"`
	ReturnSize Value    `rig:"return gauge" kind:"section" range:"0.2 mm2..200 mm2" doc:"size of the minus conductor of a pair where it is not the same"`
	Devices    []Device `rig:"devices" doc:"fuses, switches, plugs and shunts in it, in order"`
	Start      *Joint   `rig:"joint at start" doc:"a reading across the lug where it begins"`
	End        *Joint   `rig:"joint at end" doc:"a reading across the lug where it ends"`
	Reading    *Reading `rig:"reading" doc:"what a meter says of the whole run, for one that nobody can see"`
	Dates
}

// Device interrupts a run, or measures in it.
type Device struct {
	Name      string `rig:"name" doc:"what you call it"`
	Kind      string `rig:"kind" oneof:"fuse|breaker|switch|disconnect|plug|shunt|cut-off|relay" needs:"yes" doc:"what it is; a cut-off is opened by low voltage"`
	Family    string `rig:"family" oneof:"mini blade fuse|blade fuse|large blade fuse|small bolt-down automotive fuse|large bolt-down automotive fuse|strip limiter fuse|terminal-mount block fuse|class T fuse|class J fuse|photovoltaic cartridge fuse 10 x 38 mm|unknown" doc:"kind of fuse by its shape"`
	Rating    Value  `rig:"rating" kind:"current" range:"0.5 A..3000 A" doc:"lasting current printed on it"`
	Volts     Value  `rig:"volts dc" kind:"voltage" range:"5 V..1500 V" doc:"direct voltage printed on it"`
	Interrupt Value  `rig:"interrupt" kind:"current" range:"100 A..300000 A" doc:"largest fault current it can stop at that voltage"`
	StopsAtV  Value  `rig:"interrupt at" kind:"voltage" range:"5 V..1500 V" doc:"direct voltage for which that is stated, where it is not the voltage printed on it"`
	At        Value  `rig:"at" kind:"length" range:"0 m..60 m" doc:"distance along the run from where it begins"`
	In        string `rig:"in" oneof:"plus|minus|both" doc:"which conductor of a pair it interrupts"`
	Made      string `rig:"made for" oneof:"dc|ac|ac and dc|unknown" doc:"what its print allows"`
	Polarised string `rig:"polarised" oneof:"yes|no|unknown" doc:"whether a DC breaker breaks one way only"`
	Line      string `rig:"line side" oneof:"start|end|unknown" doc:"end of the run to which the line (+) mark of a polarised breaker looks"`
	Opens     Value  `rig:"opens at" kind:"voltage" range:"2 V..70 V" doc:"voltage at which a cut-off opens"`
	Ohms      Value  `rig:"resistance" kind:"resistance" range:"0 mohm..1 ohm" doc:"measured across it"`
}

// Joint is a reading across one lug or plug contact under load.
type Joint struct {
	Drop    Value `rig:"drop" kind:"voltage" range:"0 mV..20 V" needs:"yes" doc:"voltage across it"`
	Current Value `rig:"current" kind:"current" range:"0.1 A..2000 A" needs:"yes" doc:"at this current"`
}

// Reading is the voltage at both ends of a run at one current.
type Reading struct {
	Start   Value `rig:"start" kind:"voltage" range:"1 V..1000 V" needs:"yes" doc:"where it begins, under load"`
	End     Value `rig:"end" kind:"voltage" range:"0 V..1000 V" needs:"yes" doc:"where it ends, at the same time"`
	Current Value `rig:"current" kind:"current" range:"0.1 A..2000 A" needs:"yes" doc:"through it at the same time"`
}

// VehiclePlug is how the high-current plug of the charge line is handled.
type VehiclePlug struct {
	UnderLoad string `rig:"opened under load" oneof:"yes|no|unknown" doc:"whether it can be parted while current flows"`
	Covered   string `rig:"live side covered" oneof:"yes|no|unknown" doc:"whether the contacts of the live half cannot be touched"`
	Slack     string `rig:"slack for a full turn" oneof:"yes|no|unknown" doc:"whether the cable reaches in the tightest turn"`
	Parts     string `rig:"parts first" oneof:"plug|cable|unknown" doc:"what gives way when the trailer pulls free"`
}

// Clone returns a copy that shares nothing with w.
func (w *Wiring) Clone() *Wiring { return copyOf(reflect.ValueOf(w)).Interface().(*Wiring) }

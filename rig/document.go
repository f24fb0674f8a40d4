// Package rig is the document: one file in YAML that says what is aboard, in trade words and with units in the values. It decodes with
// all faults at once, writes, edits in place without touching comments or order, tells two rigs apart, and answers what was aboard on
// a given day.
//
// It knows no physics and fills in nothing: a value that is left out stays absent, and package system says what is taken for it. Left
// out of YAML on purpose: anchors, aliases, merge keys, tags and several documents, which make a text mean something else than it
// shows. The parser is the only part that is not ours; all sizes are limited before it sees a text. Ranges in the tags are those of
// ordinary gear, common practice, wide enough that only a slip of the unit or the decimal point falls outside.
package rig

// This file is the document: what a rig file may hold, in trade words. It is the only place where a key, its kind of unit, its range
// and its meaning are written down; the decoder, the schema, the printed rig and the page's forms are all read from the tags here.
//
// Tags, after the key of the file:
//
//	rig:"voc per C"      the key as people write it; ",key" on a field named Name: it takes its text from the map's key
//	kind:"voltage"       the kinds of unit allowed, separated by |
//	range:"0 V..1000 V"  both ends allowed; one for each kind, separated by |
//	whole:"yes"          a count without a fraction
//	lines:"many"         a text that may have several lines
//	oneof:"a|b"          for words, and the words that hours may be besides times of day
//	listof:"a|b"         for a text: the words that may stand between its commas
//	needs:"yes"          the part cannot be understood without it
//	doc:"..."            one sentence, for the schema, the form and the error's hint
//
// A draw, a size and cylinders are written in one text, or as a group with the keys rate and duty, length and width, count and each.
//
// A Value left out is filled by package system, which also says why it took the value it took.

// Format is the version of the document that this package writes. All versions from 1 on stay readable.
const Format = 1

// Rig is one whole document.
type Rig struct {
	Version   int    `rig:"campwright" needs:"yes" doc:"version of the file format, 1"`
	Name      string `rig:"name" needs:"yes" doc:"what you call the rig"`
	Kind      string `rig:"kind" oneof:"motorhome|travel trailer|fifth wheel|van|truck camper" needs:"yes" doc:"what the rig is"`
	Book      string `rig:"book" oneof:"us-rv|us-boat|us-building|au-nz" doc:"the bundle of rule tables that checks use"`
	Note      string `rig:"note" lines:"many" doc:"anything worth keeping, shown as written"`
	People    Value  `rig:"people" kind:"count" range:"1..20" whole:"yes" doc:"how many live aboard"`
	Timezone  string `rig:"timezone" doc:"IANA zone name used where a place does not bring its own"`
	Breakaway string `rig:"breakaway brakes" doc:"what feeds a trailer's breakaway brakes: own battery, or the terminal where their feed begins, such as bank or fuse block house; or unknown"`

	Roof        *Roof        `rig:"roof" doc:"usable roof"`
	Modules     []Module     `rig:"modules" doc:"kinds of solar module, by name, from their data sheets"`
	Controllers []Controller `rig:"controllers" doc:"charge controllers, by name"`
	Arrays      []Array      `rig:"arrays" doc:"strings of modules on a controller"`
	Bank        *Bank        `rig:"bank" doc:"house battery bank"`
	Inverters   []Inverter   `rig:"inverters" doc:"inverters, by name"`
	Vehicle     *Vehicle     `rig:"vehicle" doc:"what charges from the engine"`
	ChargeLine  []Link       `rig:"charge line" doc:"the chain from the vehicle battery to the bank, in order"`
	Shore       *Shore       `rig:"shore" doc:"shore inlet and chargers"`
	Generators  []Generator  `rig:"generators" doc:"generators, by name"`
	Appliances  []Appliance  `rig:"appliances" doc:"everything that uses electricity or propane"`
	Stores      *Stores      `rig:"stores" doc:"propane and water"`
	Home        *Home        `rig:"home" doc:"where the rig lives when it is not travelling"`
	Trip        []Stop       `rig:"trip" doc:"the stay or journey, in order"`
	Aims        *Aims        `rig:"aims" doc:"what the rig must manage"`
	Wiring      *Wiring      `rig:"wiring" doc:"what joins the parts: cables, bus bars, fuses, switches"`
	Accepted    []Acceptance `rig:"accepted" doc:"findings accepted, each with its reason"`
}

// Roof is the usable roof, seen from above. Coordinates run aft from its front and to the left from its curb side.
type Roof struct {
	Length Value `rig:"length" kind:"length" range:"0.5 m..20 m" doc:"front to back"`
	Width  Value `rig:"width" kind:"length" range:"0.5 m..4 m" doc:"side to side"`
}

// Module is one kind of solar module as its data sheet gives it, at standard test conditions.
type Module struct {
	Name      string `rig:",key"`
	Power     Value  `rig:"power" kind:"power" range:"1 W..1000 W" doc:"rated power at standard test conditions"`
	Voc       Value  `rig:"voc" kind:"voltage" range:"1 V..200 V" doc:"open-circuit voltage"`
	Isc       Value  `rig:"isc" kind:"current" range:"0.1 A..30 A" doc:"short-circuit current"`
	Vmp       Value  `rig:"vmp" kind:"voltage" range:"1 V..200 V" doc:"voltage at maximum power"`
	Imp       Value  `rig:"imp" kind:"current" range:"0.1 A..30 A" doc:"current at maximum power"`
	VocPerC   Value  `rig:"voc per C" kind:"per degree|voltage per degree" range:"-1 %/C..0 %/C|-1 V/C..0 V/C" doc:"change of open-circuit voltage with cell temperature"`
	IscPerC   Value  `rig:"isc per C" kind:"per degree|current per degree" range:"-0.1 %/C..0.2 %/C|-20 mA/C..40 mA/C" doc:"change of short-circuit current with cell temperature"`
	PowerPerC Value  `rig:"power per C" kind:"per degree" range:"-1 %/C..0 %/C" doc:"change of maximum power with cell temperature"`
	Cells     Value  `rig:"cells" kind:"count" range:"1..200" whole:"yes" doc:"cells in series"`
	Fuse      Value  `rig:"fuse" kind:"current" range:"1 A..60 A" doc:"maximum series fuse printed on the label"`
	NOCT      Value  `rig:"noct" kind:"temperature" range:"30 C..80 C" doc:"nominal operating cell temperature"`
	Size      Size   `rig:"size" kind:"length" range:"2 cm..5 m" doc:"length x width"`
	Weight    Value  `rig:"weight" kind:"mass" range:"0.1 kg..60 kg" doc:"one module"`
}

// Controller stands between an array and the bank.
type Controller struct {
	Name       string `rig:",key"`
	Kind       string `rig:"kind" oneof:"step-down|step-up|both|direct|unknown" doc:"step-down needs more volts than the bank, step-up fewer; direct ties the array to the bank without tracking"`
	Survives   Value  `rig:"survives" kind:"voltage" range:"10 V..1000 V" doc:"array voltage that destroys it above"`
	Tracks     Value  `rig:"tracks up to" kind:"voltage" range:"10 V..1000 V" doc:"highest array voltage it still tracks"`
	Starts     Value  `rig:"starts at" kind:"voltage" range:"0 V..50 V" doc:"how far the array must stand above the bank to start"`
	Headroom   Value  `rig:"headroom" kind:"voltage" range:"0 V..20 V" doc:"how far the array must stay above the bank to run"`
	Output     Value  `rig:"output" kind:"current" range:"1 A..300 A" doc:"limit of charge current"`
	Power      Value  `rig:"power" kind:"power" range:"10 W..20000 W" doc:"limit of charge power, where there is one besides the current"`
	InputIsc   Value  `rig:"input isc" kind:"current" range:"1 A..300 A" doc:"largest array short-circuit current"`
	Efficiency Value  `rig:"efficiency" kind:"share" range:"50 %..100 %" doc:"peak, array to bank"`
	OwnUse     Value  `rig:"own use" kind:"power|current" range:"0 W..50 W|0 A..5 A" doc:"what it draws from the bank all day"`
	Absorption Value  `rig:"absorption" kind:"voltage" range:"3 V..70 V" doc:"charging voltage"`
	AbsorbFor  Value  `rig:"absorbs for" kind:"duration" range:"0 h..24 h" doc:"time at the charging voltage before it rests"`
	Float      Value  `rig:"float" kind:"voltage" range:"3 V..70 V" doc:"resting voltage"`
	Restart    Value  `rig:"restarts at" kind:"voltage" range:"3 V..70 V" doc:"bank voltage at which a resting charger starts again"`
	PerC       Value  `rig:"compensation" kind:"voltage per degree" range:"-0.5 V/C..0 V/C" doc:"change of charging voltage with battery temperature, of the whole bank; none for LFP"`
	Equalizes  string `rig:"equalizes" oneof:"no|yes|unknown" doc:"whether its equalize stage is on; no for LFP"`
}

// Array is modules on one controller.
type Array struct {
	Name       string `rig:"name" needs:"yes" doc:"what you call it"`
	Module     string `rig:"module" needs:"yes" doc:"which kind of module"`
	Controller string `rig:"controller" needs:"yes" doc:"which controller"`
	InSeries   Value  `rig:"in series" kind:"count" range:"1..40" whole:"yes" doc:"modules in one string"`
	Strings    Value  `rig:"strings" kind:"count" range:"1..40" whole:"yes" doc:"strings in parallel"`
	Mounting   string `rig:"mounting" oneof:"raised|close|bonded|portable|unknown" doc:"raised on feet, close to the roof, bonded to it, or set out on the ground"`
	Tilt       Value  `rig:"tilt" kind:"angle" range:"0 deg..90 deg" doc:"from level"`
	TiltsTo    Value  `rig:"tilts to" kind:"angle" range:"0 deg..90 deg" doc:"steepest that its mount can be tilted, by hand"`
	Faces      Value  `rig:"faces" kind:"angle" range:"0 deg..360 deg" doc:"compass direction of a tilted array, clockwise from true north, however the rig stands"`
	FacesOnRig Value  `rig:"faces on rig" kind:"angle" range:"0 deg..360 deg" doc:"direction of a tilted array clockwise from the rig's front, 90 deg to the right: it turns with the heading of the stop"`
	Site       string `rig:"site" oneof:"open|light trees|half shade|deep shade|roofed|unknown" doc:"sky above an array set out apart from the rig, in place of the stop's"`
	Soiling    Value  `rig:"soiling" kind:"share" range:"0 %..60 %" doc:"loss to dirt"`
	Mismatch   Value  `rig:"mismatch" kind:"share" range:"0 %..30 %" doc:"loss to unlike modules, ageing and label tolerance"`
	Shade      Value  `rig:"shade" kind:"share" range:"0 %..100 %" doc:"share of beam light lost to things on the roof"`
	Run        *Run   `rig:"run" doc:"cable from the array to its controller"`
	Dates
}

// Run is one two-wire cable run.
type Run struct {
	Gauge   Value `rig:"gauge" kind:"section" range:"0.2 mm2..200 mm2" doc:"conductor size"`
	Length  Value `rig:"length" kind:"length" range:"0 m..60 m" doc:"one way"`
	Ambient Value `rig:"ambient" kind:"temperature" range:"-40 C..150 C" doc:"hottest air around it, where that is not usual for its place"`
}

// Bank is the house battery.
type Bank struct {
	Chemistry   string `rig:"chemistry" oneof:"LFP|flooded|AGM|gel" needs:"yes" doc:"kind of battery"`
	Blocks      Value  `rig:"blocks" kind:"count" range:"1..60" whole:"yes" doc:"how many blocks in parallel"`
	InSeries    Value  `rig:"in series" kind:"count" range:"1..16" whole:"yes" doc:"how many blocks in series"`
	Block       Block  `rig:"block" needs:"yes" doc:"one block"`
	Health      Value  `rig:"health" kind:"share" range:"10 %..110 %" doc:"capacity left of new"`
	Bay         string `rig:"bay" oneof:"inside|outside|insulated|unknown" doc:"where it lives: inside the warm part, in an outside bay, or in an insulated one"`
	BayAbove    Value  `rig:"bay above outside" kind:"temperature difference" range:"-10 K..40 K" doc:"how much warmer the bay is than outside air at night"`
	StartsAt    Value  `rig:"starts at" kind:"share" range:"0 %..100 %" doc:"charge at the start of a trip"`
	Heater      Value  `rig:"heater" kind:"power" range:"0 W..500 W" doc:"bank heater"`
	HeatsBelow  Value  `rig:"heats below" kind:"temperature" range:"-40 C..20 C" doc:"bank temperature at which the heater runs"`
	InverterOff Value  `rig:"inverter off at" kind:"voltage" range:"2 V..70 V" doc:"bank voltage at which the inverter stops"`
	LoadsOff    Value  `rig:"loads off at" kind:"voltage" range:"2 V..70 V" doc:"bank voltage at which the load cut-off opens, where there is one"`
	OpensAt     Value  `rig:"opens at" kind:"voltage" range:"2 V..70 V" doc:"bank voltage at which the battery's own electronics open"`
	Dates
}

// Block is one battery case.
type Block struct {
	Voltage        Value `rig:"voltage" kind:"voltage" range:"1 V..60 V" doc:"nominal"`
	Capacity       Value `rig:"capacity" kind:"charge|energy" range:"1 Ah..2000 Ah|10 Wh..100 kWh" doc:"rated"`
	RatedHours     Value `rig:"rated over" kind:"duration" range:"1 h..100 h" doc:"discharge time at which the capacity is rated"`
	Resistance     Value `rig:"resistance" kind:"resistance" range:"0.01 mohm..200 mohm" doc:"internal, at room temperature, electronics included"`
	ChargeLimit    Value `rig:"charge limit" kind:"current" range:"1 A..1000 A" doc:"largest charge current"`
	DischargeLimit Value `rig:"discharge limit" kind:"current" range:"1 A..2000 A" doc:"largest lasting discharge current"`
	PeakLimit      Value `rig:"peak limit" kind:"current" range:"1 A..5000 A" doc:"largest discharge current for a start"`
	ColdCharge     Value `rig:"charges above" kind:"temperature" range:"-40 C..20 C" doc:"temperature below which charging is blocked"`
	HotCharge      Value `rig:"charges below" kind:"temperature" range:"20 C..80 C" doc:"temperature above which charging is blocked"`
	Exponent       Value `rig:"rate exponent" kind:"count" range:"1..1.5" doc:"how capacity falls with current, lead-acid only"`
	Weight         Value `rig:"weight" kind:"mass" range:"0.1 kg..300 kg" doc:"one block"`
	Size           Size  `rig:"size" kind:"length" range:"2 cm..5 m" doc:"length x width"`
}

// Inverter makes AC from the bank.
type Inverter struct {
	Name       string `rig:",key"`
	Power      Value  `rig:"power" kind:"power" range:"50 W..20000 W" doc:"lasting output"`
	Surge      Value  `rig:"surge" kind:"power" range:"50 W..60000 W" doc:"output for a motor start"`
	Idle       Value  `rig:"idle" kind:"power|current" range:"0 W..300 W|0 A..30 A" doc:"draw just to be on"`
	Search     Value  `rig:"search" kind:"power" range:"0 W..100 W" doc:"draw while it looks for a load, where it has such a mode"`
	Efficiency Value  `rig:"efficiency" kind:"share" range:"50 %..100 %" doc:"peak, bank to AC"`
	On         Hours  `rig:"on" oneof:"always|never|when used" doc:"always, never, when used, or hours such as 06:00-22:00"`
	Bonds      string `rig:"bonds neutral" oneof:"always|relay|never|unknown" doc:"whether it joins neutral and ground: always, by a relay while it inverts, or never"`
	Feeds      string `rig:"feeds" oneof:"panel|transfer switch|own outlets|unknown" doc:"what its AC goes to: the panel straight on, the panel through a transfer switch that switches the neutral too, or outlets of its own"`
	Legs       string `rig:"legs" oneof:"L1|L2|in phase|split|unknown" doc:"which legs of a two-leg panel it feeds: one of them, both in phase, or both split as shore does"`
	Dates
}

// Vehicle is the engine's side of charging.
type Vehicle struct {
	Alternators []Alternator `rig:"alternators" doc:"one or more"`
	OwnLoad     Value        `rig:"own load" kind:"current|power" range:"0 A..200 A|0 W..5000 W" doc:"what the vehicle itself uses while driving"`
	IdleLoad    Value        `rig:"load at idle" kind:"current|power" range:"0 A..200 A|0 W..5000 W" doc:"what the vehicle itself uses while idling"`
	Volts       Value        `rig:"volts" kind:"voltage" range:"10 V..32 V" doc:"at the start of the charge line, engine running"`
	Regulation  string       `rig:"regulation" oneof:"fixed|variable|unknown" doc:"whether the vehicle lowers its voltage to save fuel"`
	Rests       Value        `rig:"rests at" kind:"voltage" range:"10 V..32 V" doc:"voltage when a variable regulator rests"`
	RestShare   Value        `rig:"rests for" kind:"share" range:"0 %..100 %" doc:"share of driving time for which a variable regulator rests"`
	Battery     string       `rig:"battery" oneof:"lead-acid|AGM|LFP|none|unknown" doc:"the vehicle's own battery at the alternator"`
	Surge       string       `rig:"surge protector" oneof:"no|yes|unknown" doc:"whether a protector at the alternator takes the surge when a battery lets go"`
	Dates
}

// Alternator is one alternator.
type Alternator struct {
	Rated     Value `rig:"rated" kind:"current" range:"10 A..600 A" doc:"printed on it, cold"`
	HotIdle   Value `rig:"hot idle" kind:"current" range:"0 A..600 A" doc:"what it gives hot, at idle"`
	HotCruise Value `rig:"hot cruise" kind:"current" range:"0 A..600 A" doc:"what it gives hot, at cruising speed"`
}

// Link is one piece of the charge line. Exactly one of its parts is given.
type Link struct {
	Fuse     Value  `rig:"fuse" kind:"current" range:"1 A..500 A" doc:"overcurrent device"`
	Position Value  `rig:"position maximum" kind:"current" range:"1 A..500 A" doc:"largest fuse that the position may hold"`
	Run      *Run   `rig:"run" doc:"cable"`
	Plug     Value  `rig:"plug" kind:"current" range:"1 A..500 A" doc:"connector rating"`
	Ohms     Value  `rig:"resistance" kind:"resistance" range:"0 mohm..1000 mohm" doc:"measured, there and back, in place of a run"`
	DCDC     *DCDC  `rig:"dc-dc" doc:"the unit that charges the bank"`
	Relay    *Relay `rig:"relay" doc:"ties the vehicle to the bank without a limit"`
}

// DCDC is a unit that charges the bank from the vehicle, alone or together with solar.
type DCDC struct {
	Output     Value  `rig:"output" kind:"current" range:"1 A..300 A" doc:"charge current"`
	Power      Value  `rig:"power" kind:"power" range:"10 W..10000 W" doc:"charge power, where given instead"`
	Efficiency Value  `rig:"efficiency" kind:"share" range:"50 %..100 %" doc:"vehicle to bank"`
	InputLimit Value  `rig:"input limit" kind:"current" range:"1 A..500 A" doc:"largest input current, where it limits it"`
	CutsOut    Value  `rig:"cuts out at" kind:"voltage" range:"8 V..30 V" doc:"input voltage at which it stops"`
	Restarts   Value  `rig:"restarts at" kind:"voltage" range:"8 V..30 V" doc:"input voltage at which it starts again"`
	Folds      Value  `rig:"folds back at" kind:"voltage" range:"8 V..30 V" doc:"input voltage below which it lowers its power to hold that voltage"`
	Wake       string `rig:"wakes on" oneof:"engine signal|voltage|switch|unknown" doc:"what starts it"`
	TwoWay     string `rig:"two-way" oneof:"no|yes|unknown" doc:"whether it can feed the vehicle"`
	Absorption Value  `rig:"absorption" kind:"voltage" range:"3 V..70 V" doc:"charging voltage"`
	Float      Value  `rig:"float" kind:"voltage" range:"3 V..70 V" doc:"resting voltage"`
	PerC       Value  `rig:"compensation" kind:"voltage per degree" range:"-0.5 V/C..0 V/C" doc:"change of charging voltage with battery temperature, of the whole bank; none for LFP"`
	Equalizes  string `rig:"equalizes" oneof:"no|yes|unknown" doc:"whether its equalize stage is on; no for LFP"`
	Controller string `rig:"also controller" doc:"the charge controller that lives in the same case and shares its output"`
	Shares     string `rig:"shares by" oneof:"split|solar first|sum|unknown" doc:"how a combined unit divides its output"`
	Dates
}

// Relay ties two banks together without limiting the current.
type Relay struct {
	Rated Value `rig:"rated" kind:"current" range:"10 A..1000 A" doc:"lasting current"`
}

// Shore is the AC inlet and the chargers behind it.
type Shore struct {
	Inlet    string    `rig:"inlet" oneof:"15 A|20 A|30 A|50 A|6 A 230 V|10 A 230 V|16 A 230 V|unknown" doc:"the rig's inlet"`
	Limit    Value     `rig:"limit" kind:"current" range:"1 A..100 A" doc:"shore limit that the inverter/charger keeps, the battery making up the rest"`
	MakeUp   string    `rig:"battery make-up" oneof:"yes|no" doc:"whether the battery helps out above the limit"`
	Chargers []Charger `rig:"chargers" doc:"shore chargers, by name"`
	Cord     *Run      `rig:"cord" doc:"cord from the post to the inlet"`
	Bonds    string    `rig:"bonds neutral" oneof:"no|yes|unknown" doc:"whether the rig's own panel or wiring joins neutral and ground, besides its sources"`
}

// Charger charges the bank from AC.
type Charger struct {
	Name        string `rig:",key"`
	Output      Value  `rig:"output" kind:"current" range:"1 A..500 A" doc:"charge current"`
	Efficiency  Value  `rig:"efficiency" kind:"share" range:"50 %..100 %" doc:"wall to battery"`
	PowerFactor Value  `rig:"power factor" kind:"share" range:"30 %..100 %" doc:"of its input"`
	Absorption  Value  `rig:"absorption" kind:"voltage" range:"3 V..70 V" doc:"charging voltage"`
	Float       Value  `rig:"float" kind:"voltage" range:"3 V..70 V" doc:"resting voltage"`
	Restart     Value  `rig:"restarts at" kind:"voltage" range:"3 V..70 V" doc:"bank voltage at which it starts again"`
	PerC        Value  `rig:"compensation" kind:"voltage per degree" range:"-0.5 V/C..0 V/C" doc:"change of charging voltage with battery temperature, of the whole bank; none for LFP"`
	Equalizes   string `rig:"equalizes" oneof:"no|yes|unknown" doc:"whether its equalize stage is on; no for LFP"`
	Leg         string `rig:"leg" oneof:"L1|L2|both|unknown" doc:"which leg of a two-leg panel it hangs on; both for 240 V between them"`
	FedBy       string `rig:"fed by" oneof:"shore only|any AC|unknown" doc:"whether it also runs on the inverter's circuits"`
	Dates
}

// Generator burns fuel to make AC.
type Generator struct {
	Name     string `rig:",key"`
	Power    Value  `rig:"power" kind:"power" range:"200 W..20000 W" doc:"lasting output at sea level"`
	Derating string `rig:"derating" oneof:"3 % per 500 m above 1000 m|3.5 % per 300 m above 1500 m|4 % per 1000 ft and 1 % per 10 F|3.5 % per 1000 ft|none|unknown" doc:"the rule its manual gives for height and heat"`
	Fuel     Value  `rig:"fuel" kind:"volume|mass" range:"0 L..500 L|0 kg..400 kg" doc:"aboard for it"`
	Burns    Value  `rig:"burns" kind:"flow" range:"0 L/h..20 L/h" doc:"at half load"`
	Bonds    string `rig:"bonds neutral" oneof:"yes|no|unknown" doc:"whether it joins neutral and ground; no for one that floats"`
	Legs     string `rig:"legs" oneof:"in phase|split|unknown" doc:"how it feeds a two-leg panel: both legs in phase, or split as shore does"`
	BuiltIn  string `rig:"built in" oneof:"yes|no|unknown" doc:"built into the rig and wired to its panel; no for a portable one"`
	Quiet    Hours  `rig:"quiet hours" oneof:"always|never|night" doc:"when it must not run"`
	Dates
}

// Appliance is one user of electricity or propane. Runs names what feeds it now; Electric and Propane are what it takes on each.
type Appliance struct {
	Name        string `rig:"name" needs:"yes" doc:"what you call it"`
	Kind        string `rig:"kind" oneof:"plain|furnace|absorption refrigerator|compressor refrigerator|water heater|air conditioner" doc:"how its use follows temperature; plain: it does not"`
	Runs        string `rig:"runs on" oneof:"dc|ac|propane|off" doc:"what feeds it now"`
	Inverter    string `rig:"inverter" doc:"which inverter feeds it, where there are several"`
	Power       Draw   `rig:"power" kind:"power|current" range:"0 W..20000 W|0 A..1500 A" doc:"what it takes while running, with its duty: 45 W at 30 %"`
	Electric    Draw   `rig:"electric" kind:"power|current" range:"0 W..20000 W|0 A..1500 A" doc:"what it takes on AC, for one that can also burn propane"`
	Blower      Draw   `rig:"blower" kind:"power|current" range:"0 W..20000 W|0 A..1500 A" doc:"DC draw of a furnace's blower while it burns"`
	Control     Value  `rig:"control" kind:"power|current" range:"0 W..200 W|0 A..20 A" doc:"DC draw of the control board of a propane appliance"`
	Propane     Draw   `rig:"propane" kind:"power" range:"0 W..60 kW" doc:"what it burns, with its duty: 1400 BTU/h at 60 %"`
	Standby     Value  `rig:"standby" kind:"power|current" range:"0 W..200 W|0 A..20 A" doc:"what it draws when it is off"`
	On          Hours  `rig:"on" oneof:"always|never|night|day" doc:"always, never, night, day, or hours such as 18:00-22:30, 06:00-07:00; it runs for all of them unless per day says how long"`
	PerDay      Value  `rig:"per day" kind:"duration" range:"0 h..24 h" doc:"running time in a day, spread over its hours"`
	Count       Value  `rig:"count" kind:"count" range:"1..100" whole:"yes" doc:"how many of them"`
	Keeps       Value  `rig:"keeps" kind:"temperature" range:"-30 C..40 C" doc:"thermostat setting"`
	KeepsNight  Value  `rig:"keeps at night" kind:"temperature" range:"-30 C..40 C" doc:"thermostat setting in the hours of the night, for a furnace that is set back"`
	Night       Hours  `rig:"night" oneof:"night" doc:"hours of the set-back: night, or hours such as 22:00-06:30"`
	HeatLoss    Value  `rig:"heat loss" kind:"heat loss" range:"10 W/K..1000 W/K" doc:"heat the rig loses per degree, for furnace and air conditioner"`
	FurnaceEff  Value  `rig:"efficiency" kind:"share" range:"20 %..100 %" doc:"share of the burned propane that heats the room"`
	Surge       Value  `rig:"surge" kind:"power|current" range:"0 W..30000 W|0 A..2500 A" doc:"at start, for a motor"`
	PowerFactor Value  `rig:"power factor" kind:"share" range:"10 %..100 %" doc:"on AC"`
	Leg         string `rig:"leg" oneof:"L1|L2|both|unknown" doc:"which leg of a two-leg panel it hangs on; both for 240 V between them"`
	TakesAC     string `rig:"takes AC" oneof:"always|shore only|never|unknown" doc:"whether it switches to AC by itself whenever AC is there, the inverter's included"`
	Dates
}

// Stores are what is carried besides charge.
type Stores struct {
	Propane   Cylinders `rig:"propane" kind:"mass|volume" range:"0.2 kg..300 kg|0.5 L..600 L" doc:"cylinders or tank: 2 x 30 lb, or 20 gal"`
	PropaneAt Value     `rig:"propane starts at" kind:"share" range:"0 %..100 %" doc:"share of a full filling at the start"`
	Fresh     Value     `rig:"fresh water" kind:"volume" range:"0 L..2000 L" doc:"tank"`
	Grey      Value     `rig:"grey" kind:"volume" range:"0 L..2000 L" doc:"tank"`
	Black     Value     `rig:"black" kind:"volume" range:"0 L..2000 L" doc:"tank"`
	WaterUse  Value     `rig:"water per person" kind:"flow per day" range:"0 L/d..300 L/d" doc:"fresh water that one person uses in a day"`
	GreyShare Value     `rig:"grey share" kind:"share" range:"0 %..100 %" doc:"share of the fresh water that ends in the grey tank"`
	BlackUse  Value     `rig:"black per person" kind:"flow per day" range:"0 L/d..50 L/d" doc:"what one person adds to the black tank in a day"`
}

// Home is where the rig lives when it is not travelling.
type Home struct {
	Place     Place  `rig:"place" doc:"name, or latitude and longitude"`
	Elevation Value  `rig:"elevation" kind:"length" range:"-450 m..6000 m" doc:"above sea level"`
	RecordLow Value  `rig:"record low" kind:"temperature" range:"-70 C..30 C" doc:"lowest air temperature known for the place"`
	Site      string `rig:"site" oneof:"open|light trees|half shade|deep shade|roofed|unknown" doc:"sky above it"`
	Lived     string `rig:"lived in" oneof:"yes|no" doc:"whether appliances run as on a trip, or only what draws when parked"`
	Hookup    string `rig:"hookup" oneof:"none|15 A|20 A|30 A|50 A|6 A 230 V|10 A 230 V|16 A 230 V|unknown" doc:"what it is plugged into"`
}

// Stop is one part of a trip: nights at a place, or a drive.
type Stop struct {
	Place     Place  `rig:"place" doc:"name, or latitude and longitude such as 33.5 N 114.2 W"`
	Elevation Value  `rig:"elevation" kind:"length" range:"-450 m..6000 m" doc:"above sea level"`
	RecordLow Value  `rig:"record low" kind:"temperature" range:"-70 C..30 C" doc:"lowest air temperature known for the place"`
	From      Date   `rig:"from" doc:"first day, such as 2027-01-05"`
	Nights    Value  `rig:"nights" kind:"count" range:"1..400" whole:"yes" doc:"how many"`
	Site      string `rig:"site" oneof:"open|light trees|half shade|deep shade|roofed|unknown" doc:"sky above the rig"`
	Horizon   string `rig:"horizon" doc:"height of the skyline by direction, such as N 5, E 20, S 10, W 30 deg"`
	Heading   Value  `rig:"heading" kind:"angle" range:"0 deg..360 deg" doc:"where the front points, clockwise from true north"`
	Hookup    string `rig:"hookup" oneof:"none|15 A|20 A|30 A|50 A|6 A 230 V|10 A 230 V|16 A 230 V|unknown" doc:"what it is plugged into"`
	Drive     Value  `rig:"drive" kind:"duration" range:"0 h..24 h" doc:"engine at cruise on the way here, on arrival day"`
	Idle      Value  `rig:"engine idles" kind:"duration" range:"0 h..24 h" doc:"engine at idle, each day"`
	Generator Value  `rig:"generator" kind:"duration" range:"0 h..24 h" doc:"running time, each day"`
	Fills     string `rig:"fills" listof:"all|propane|fresh water|grey|black|charge" doc:"what is filled or emptied on arrival: all, or propane, fresh water, grey, black, charge"`
	Hauls     string `rig:"hauls" listof:"all|propane|fresh water|grey|black" doc:"what is filled or emptied again and again during the stay, by a haul or a truck: all, or propane, fresh water, grey, black"`
	HaulEvery Value  `rig:"hauls every" kind:"duration" range:"24 h..2400 h" doc:"time from one haul to the next: 5 d"`
}

// Aims say when the answer is good.
type Aims struct {
	Floor     Value    `rig:"floor" kind:"share" range:"0 %..95 %" doc:"reserve: the charge kept back, below which you plan not to go"`
	AtDawn    Value    `rig:"charge at dawn" kind:"share" range:"0 %..95 %" doc:"charge wanted in the bank at dawn, for the running times proposed for tonight"`
	Dark      Chance   `rig:"dark nights" doc:"how many nights may end below the reserve: at most 1 in 100"`
	NeverLose []string `rig:"must never lose" doc:"appliances that must not lose power"`
}

// Acceptance is a finding the owner has chosen to live with.
type Acceptance struct {
	Rule   string `rig:"rule" needs:"yes" doc:"its number"`
	Place  string `rig:"place" doc:"the part it is about"`
	Reason string `rig:"reason" needs:"yes" lines:"many" doc:"why"`
	On     Date   `rig:"on" doc:"when"`
}

// Dates say when a part was put in and taken out; both may be left out.
type Dates struct {
	Fitted  Date `rig:"fitted" doc:"when it was put in"`
	Removed Date `rig:"removed" doc:"when it was taken out"`
}

package check

// Later is a case of the practice list that no rule judges yet, with the reason.
type LaterRule struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Kind  string `json:"kind" enum:"to come,question,commissioning,reading"`
	Why   string `json:"why"`
}

// Later returns the cases of the practice list that no rule judges yet.
func Later() []LaterRule { return append([]LaterRule(nil), later...) }

const (
	toCome   = "to come"       // the file can hold it, or soon will
	question = "question"      // only a look or an answer tells
	atWork   = "commissioning" // a step of the work or a test tells
	reading  = "reading"       // a meter at the place tells
)

var later = []LaterRule{
	{"M04", "unlike modules in parallel on one controller", toCome, "the arrays of a controller have to be solved together"},
	{"M05", "unlike modules in series", question, "an array in the file has one kind of module"},
	{"M06", "three or more strings without string fuses", toCome, "needs the array's wiring"},
	{"M07", "string fuse of the wrong size", toCome, "needs the array's wiring"},
	{"M08", "branch connectors overloaded", toCome, "needs the array's wiring"},
	{"M09", "home run too small for its current", toCome, "needs the cable's route, heat and bundle"},
	{"M10", "home run loses energy", toCome, "needs the array's wiring"},
	{"M11", "device on the array side under-rated in volts", toCome, "needs the array's devices"},
	{"M12", "AC breaker on DC, or polarised breaker reversed", toCome, "needs the kind and the direction of each breaker"},
	{"M13", "locking PV connectors of different makes mated", question, "look at both halves of every plug: makes must agree, whatever fits"},
	{"M14", "shaded and sunny modules wired so that all suffer", toCome, "needs the roof and its shade"},
	{"M15", "module inside an obstacle's winter shadow", toCome, "needs the roof and its shade"},
	{"M19", "lead-acid profile on LFP", toCome, "needs each charger's settings"},
	{"M20", "temperature compensation left on for LFP", toCome, "needs each charger's settings"},
	{"M21", "chargers with unlike set-points", toCome, "needs each charger's settings"},
	{"M22", "array joined before the battery", atWork, "a step of the work order: battery first, array second, loads last"},
	{"M23", "inverter larger than the battery's limit", toCome, "needs the solved bank"},
	{"M24", "start surge over the battery's peak", toCome, "needs the solved bank"},
	{"M27", "unequal leads to parallel blocks", toCome, "needs the bank's wiring, solved"},
	{"M28", "both cables taken from the same end", toCome, "needs the bank's wiring, solved"},
	{"M29", "blocks joined at different voltage", atWork, "measure each block at rest before joining: within 0.05 V"},
	{"M30", "unlike batteries in one bank", question, "a bank in the file is of one kind; look at types and dates"},
	{"M31", "blocks in series joined unbalanced", atWork, "charge each block full by itself before joining"},
	{"M32", "main fuse cannot interrupt the bank", toCome, "needs the bank's wiring, solved"},
	{"M33", "parallel blocks without their own fuse", toCome, "needs the bank's wiring"},
	{"M34", "first fuse too far from the post", toCome, "needs the bank's wiring"},
	{"M35", "cut-offs in the wrong order", toCome, "needs the settings of all cut-offs"},
	{"M36", "voltage used as a fuel gauge for LFP", question, "ask what decisions are made by: volts or counted amp-hours"},
	{"M37", "no pre-charge on a large inverter", question, "ask how the inverter's switch is closed"},
	{"M38", "fuse larger than its wire can carry", toCome, "needs the wiring"},
	{"M39", "fuse too small, or verdict by the book", toCome, "needs the wiring"},
	{"M40", "fuse voltage under the bank's highest", toCome, "needs the fuses' ratings"},
	{"M41", "inverter cable too thin or long", toCome, "needs the wiring, solved"},
	{"M42", "bus bar or switch under-rated", toCome, "needs the wiring, solved"},
	{"M43", "five lugs on a stud, or a washer under one", question, "look at every stud: four at most, the largest below, no washer beneath"},
	{"M44", "loose lug", atWork, "millivolts across each joint under a known current; the file holds the readings"},
	{"M45", "chassis or thin wire as heavy return", toCome, "needs the wiring"},
	{"M46", "sense or gauge wire unfused at the post", toCome, "needs the wiring"},
	{"M47", "load or charger on the battery side of the shunt", toCome, "needs the wiring"},
	{"M48", "monitor set to the wrong capacity", atWork, "read the monitor's settings back"},
	{"M49", "inverter or controller in a closed box", question, "look at the air it has: 35 cubic feet a minute for 300 W of heat"},
	{"M55", "thin or long extension cord", toCome, "needs the cord and what starts on it"},
	{"M56", "30 A outlet wired for 240 V", reading, "measure the post before plugging in"},
	{"M57", "open neutral on a 50 A service", reading, "measure both legs under load"},
	{"M58", "neutral and ground not joined exactly once", toCome, "needs the bond of each source and mode"},
	{"M59", "two circuits share a neutral in phase", question, "look at the panel: which circuits share a neutral"},
	{"M60", "compressor on a sagging post", reading, "measure the post under load: below 104 V nothing with a compressor"},
	{"M67", "charge line fused at one end", toCome, "needs the charge line's fuses at both ends"},
	{"M68", "alternator's only battery is one that can open", toCome, "needs the vehicle side's wiring"},
	{"M74", "mount not able to bear wind", toCome, "needs the roof and its feet"},
	{"M75", "no way to walk or to service the roof", toCome, "needs the roof plan"},
	{"M76", "flexible laminate bonded to the roof", toCome, "needs the roof"},
	{"M77", "payload exceeded", toCome, "needs weights of all that comes and goes"},
	{"M78", "spark source beside vented battery or propane", toCome, "needs the bays"},
	{"M79", "sealant unsuited to the membrane", question, "look up the membrane first, then the sealant made for it"},
	{"M80", "PV cable in a gas appliance's flue", question, "look where the cable enters"},
	{"N01", "charge pin left joined beside a dc-dc unit", question, "look whether the trailer plug's charge pin still feeds the bank"},
	{"N02", "breakaway brakes dead when a switch opens", toCome, "needs the wiring"},
	{"N03", "vehicle plug opened under load, or too little slack", question, "look at the plug, its cover, and its slack in a full turn"},
	{"N04", "weakest link of the charge line", toCome, "needs each link's rating"},
	{"N07", "sealed joint hidden under a module", toCome, "needs the roof plan"},
	{"N08", "disconnect that kills detectors or leaves a source live", toCome, "needs the wiring, walked"},
}

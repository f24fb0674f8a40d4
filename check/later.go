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
	{"M05", "unlike modules in series", question, "an array in the file has one kind of module"},
	{"M13", "locking PV connectors of different makes mated", question, "look at both halves of every plug: makes must agree, whatever fits"},
	{"M14", "shaded and sunny modules wired so that all suffer", toCome, "needs the roof and its shade"},
	{"M15", "module inside an obstacle's winter shadow", toCome, "needs the roof and its shade"},
	{"M22", "array joined before the battery", atWork, "a step of the work order: battery first, array second, loads last"},
	{"M29", "blocks joined at different voltage", atWork, "measure each block at rest before joining: within 0.05 V"},
	{"M30", "unlike batteries in one bank", question, "a bank in the file is of one kind; look at types and dates"},
	{"M31", "blocks in series joined unbalanced", atWork, "charge each block full by itself before joining"},
	{"M36", "voltage used as a fuel gauge for LFP", question, "ask what decisions are made by: volts or counted amp-hours"},
	{"M37", "no pre-charge on a large inverter", question, "ask how the inverter's switch is closed"},
	{"M43", "five lugs on a stud, or a washer under one", question, "look at every stud: four at most, the largest below, no washer beneath"},
	{"M44", "loose lug", atWork, "millivolts across each joint under a known current; the file holds the readings"},
	{"M48", "monitor set to the wrong capacity", atWork, "read the monitor's settings back"},
	{"M49", "inverter or controller in a closed box", question, "look at the air it has: 35 cubic feet a minute for 300 W of heat"},
	{"M56", "30 A outlet wired for 240 V", reading, "measure the post before plugging in"},
	{"M57", "open neutral on a 50 A service", reading, "measure both legs under load"},
	{"M59", "two circuits share a neutral in phase", question, "look at the panel: which circuits share a neutral"},
	{"M60", "compressor on a sagging post", reading, "measure the post under load: below 104 V nothing with a compressor"},
	{"M74", "mount not able to bear wind", toCome, "needs the roof and its feet"},
	{"M75", "no way to walk or to service the roof", toCome, "needs the roof plan"},
	{"M76", "flexible laminate bonded to the roof", toCome, "needs the roof"},
	{"M77", "payload exceeded", toCome, "needs weights of all that comes and goes"},
	{"M79", "sealant unsuited to the membrane", question, "look up the membrane first, then the sealant made for it"},
	{"M80", "PV cable in a gas appliance's flue", question, "look where the cable enters"},
	{"N07", "sealed joint hidden under a module", toCome, "needs the roof plan"},
}

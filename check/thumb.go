package check

// Thumb is a common rule of thumb: what people say, where it holds and where it misleads.
type Thumb struct {
	Name   string   `json:"name"`
	Also   []string `json:"also"` // other ways to ask for it
	Says   string   `json:"says"`
	Holds  string   `json:"holds"`
	Fails  string   `json:"fails"`
	Source string   `json:"source"`

	here func(Case) []string // where, when and at what bank voltage it holds for a rig
}

// Thumbs returns the rules of thumb that can be explained.
func Thumbs() []Thumb { return append([]Thumb(nil), thumbs...) }

func (t *Thumb) is(w string) bool {
	if folded(t.Name) == w {
		return true
	}
	for _, a := range t.Also {
		if folded(a) == w {
			return true
		}
	}
	return false
}

func (t *Thumb) explain() Explanation {
	return Explanation{Kind: "rule of thumb", Name: t.Name, Here: []string{}, Parts: []Passage{
		{"People say", t.Says}, {"It holds", t.Holds}, {"It misleads", t.Fails}, {"Source", t.Source},
	}}
}

// thumbs are common practice without a source, where nothing else is said.
var thumbs = []Thumb{
	{
		Name: "watts per amp-hour", Also: []string{"100 W per 100 Ah", "watts per 100 Ah", "one watt per amp-hour", "solar to battery ratio"},
		Says:   "100 to 150 W of modules for 100 Ah of lead-acid, 150 to 250 W for 100 Ah of LFP.",
		Holds:  "For a bank of 12 V, in summer, for people who use about half of the bank in a day.",
		Fails:  "An amp-hour at 24 V is twice the energy, at 48 V four times: the same ratio then wants two and four times the watts. In a northern December the same array brings a fifth, and use, not the bank, decides what is needed.",
		Source: Practice, here: ratioHere,
	},
	{
		Name: "usable depth", Also: []string{"depth of discharge rule", "50 % rule", "80 % of lithium", "half of lead-acid"},
		Says:   "Half of a lead-acid bank can be used, and 80 to 90 % of LFP.",
		Holds:  "As a plan that spares the battery and keeps something for a bad day.",
		Fails:  "Cold, age and, for lead-acid, high current take their share before: half of the label at a C/3 rate is a third.",
		Source: Practice, here: depthHere,
	},
	{
		Name: "five sun hours", Also: []string{"sun hours rule", "5 sun hours", "five hours of sun"},
		Says:   "A module gives its label times five hours of sun a day.",
		Holds:  "On level roofs in late spring and summer, with losses still to be taken off.",
		Fails:  "Flat in December it is three hours in the low desert and one in the north; trees and walls take more.",
		Source: Practice, here: sunHere,
	},
	{
		Name: "three quarters of the label", Also: []string{"array factor rule", "watts times sun hours times 0.75", "daily amp-hours of an array", "derate of 0.75"},
		Says:   "Amp-hours a day are watts times sun hours times 0.70 to 0.75, over 12.8 V.",
		Holds:  "For a level array on its own tracking controller, mild weather, clean glass, and a bank that takes it all.",
		Fails:  "Heat takes it to 0.66, cold clear air gives 0.78, a full bank takes nothing; and at 24 V half the amp-hours are the same energy.",
		Source: Practice, here: factorHere,
	},
	{
		Name: "thirds", Also: []string{"1/3-2/3", "a third of the time", "two thirds of the label", "one third two thirds", "one third duty", "thirds rule"},
		Says:   "A refrigerator runs a third of the time, and a level roof at a good noon gives two thirds of its label.",
		Holds:  "The first in a room of some 20 to 25 °C; the second with the sun 50 to 60 degrees high and warm cells.",
		Fails:  "In 35 °C a refrigerator runs for more than half of the time; in December at 45 degrees north a level roof never sees two thirds.",
		Source: "a third of the time: public energy advice, seen; the rest " + Practice, here: thirdsHere,
	},
	{
		Name: "idle is a load", Also: []string{"30 W idle is 56 Ah", "inverter idle rule"},
		Says:   "30 W to be on are 56 Ah a day at 12.8 V.",
		Holds:  "Always: it is arithmetic. 8 to 25 W for each kilowatt of rating is usual.",
		Fails:  "At 24 V the same watts are half the amp-hours.",
		Source: "derived", here: idleHere,
	},
	{
		Name: "twelve-volt ceiling", Also: []string{"3 kW at 12 V", "when to go to 24 V", "12 V inverter limit"},
		Says:   "Above some 3 kW of inverter go to 24 or 48 V.",
		Holds:  "Because 3 kW at a low 12 V bank are 280 to 325 A: the end of ordinary fuses, cables and blocks.",
		Fails:  "It says nothing of smaller ones that run long: their cables are sized by drop and heat too.",
		Source: Practice, here: ceilingHere,
	},
	{
		Name: "inverter times 1.25", Also: []string{"size of an inverter", "inverter sizing rule"},
		Says:   "An inverter carries the largest things that run together, and a quarter more; and two to three times a motor while it starts.",
		Holds:  "For lasting ratings at room temperature.",
		Fails:  "Hot bays, height, and ratings that are meant for minutes.",
		Source: Practice, here: inverterHere,
	},
	{
		Name: "charge current", Also: []string{"0.2C to 0.5C", "charge rate rule", "how fast to charge"},
		Says:   "LFP is charged at a fifth to half of its amp-hours, flooded lead-acid at a tenth to a fifth, AGM up to three tenths.",
		Holds:  "As what blocks like for a long life.",
		Fails:  "The maker's limit for one block goes first, and cold halves it.",
		Source: "LFP from memory of data sheets; the rest " + Practice, here: rateHere,
	},
	{
		Name: "oversized array", Also: []string{"array oversize", "over-panelling", "130 % of the controller"},
		Says:   "An array may have 130 to 150 % of its controller's power.",
		Holds:  "Where voltage and short-circuit current stay within the controller's limits: the rest is clipped at noon.",
		Fails:  "As a statement about safety: rules M01 and M18 are that.",
		Source: Practice, here: oversizeHere,
	},
	{
		Name: "winter is a quarter of summer", Also: []string{"winter yield", "flat winter yield", "december against june"},
		Says:   "At 40 degrees north a level roof gives in December 25 to 35 % of June.",
		Holds:  "There. It follows from the light of a month on the horizontal.",
		Fails:  "In the low desert it is 35 to 45 %, at 50 degrees north a tenth to a seventh.",
		Source: "derived from public monthly light; 26 % at 40.5 N", here: winterHere,
	},
	{
		Name: "tilt from November to March", Also: []string{"tilting pays", "tilt rule"},
		Says:   "Tilting the array pays from November to March.",
		Holds:  "Under clear skies: at 33 degrees north 45 degrees of tilt bring 70 % more in December.",
		Fails:  "Under cloud, where light comes from the whole sky, it brings a quarter of that; in June a steep tilt loses.",
		Source: "[DUFFIE-BECKMAN] eq. 2.19.1", here: tiltHere,
	},
	{
		Name: "shadow of an obstacle", Also: []string{"shade rule", "how far is the shadow"},
		Says:   "Keep a module away from an obstacle by twice its height.",
		Holds:  "For a sun 27 degrees high, which is a winter noon at 40 degrees north.",
		Fails:  "Mornings and afternoons are longer; farther south noon is shorter.",
		Source: "derived: height over the tangent of the sun's height", here: shadowHere,
	},
	{
		Name: "four fifths of a breaker", Also: []string{"80 % of a breaker", "80 percent rule", "continuous share"},
		Says:   "Load a breaker to 80 % of its rating.",
		Holds:  "For what runs three hours and more.",
		Fails:  "A kettle for five minutes may use all of it.",
		Source: "[NEC-210] 210.20(A), from memory", here: breakerHere,
	},
	{
		Name: "generators lose with height", Also: []string{"3.5 % per 1000 ft", "altitude derate", "generator derating"},
		Says:   "A generator loses 3.5 % of its output for every thousand feet.",
		Holds:  "As a mean of what manuals say.",
		Fails:  "Manuals differ: some count from 1,000 or 1,500 m only, and heat takes more.",
		Source: "[GENSET-MANUALS]", here: heightHere,
	},
	{
		Name: "three per cent drop", Also: []string{"3 % voltage drop", "voltage drop rule"},
		Says:   "A run may lose 3 % of its voltage.",
		Holds:  "For feeders and electronics at 12 V, where 3 % are a third of a volt.",
		Fails:  "On an array's run it is a loss to weigh against copper, no limit; and in watt-hours 3 % of little is little.",
		Source: "[ABYC-E11]", here: dropHere,
	},
}

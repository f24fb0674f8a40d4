package conductor

import "slices"

// Interrupt is the largest fault current that a fuse can stop at a voltage.
type Interrupt struct {
	Volts  float64 // direct voltage at which it is stated [V]
	Amps   float64 // [A]
	Origin Origin
}

// Family is a kind of fuse by its shape, named in generic terms.
type Family struct {
	Name       string
	Ratings    []float64   // [A], rising
	Volts      float64     // rated direct voltage [V]
	Interrupts []Interrupt // by rising voltage
}

// families: those with a class of their own in a standard come from its scope ([ISO-8820], [UL-248], [IEC-60269-6]); the rest are
// generic figures from memory, which makers exceed or fall short of, so a rule should ask for the print on the fuse.
var families = []Family{
	{"mini blade fuse", []float64{2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30}, 32, []Interrupt{{32, 1000, iso8820("3", "type F", Seen)}}},
	{"blade fuse", []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40}, 32, []Interrupt{{32, 1000, iso8820("3", "type C", Seen)}}},
	{"large blade fuse", []float64{20, 30, 40, 50, 60, 70, 80, 100}, 32, []Interrupt{{32, 1000, iso8820("3", "type E", Seen)}}},
	{"small bolt-down automotive fuse", []float64{30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200}, 32,
		[]Interrupt{{32, 2000, iso8820("5", "generic 2 to 5 kA", Memory)}}},
	{"large bolt-down automotive fuse", []float64{40, 50, 60, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 500}, 32,
		[]Interrupt{{32, 2000, iso8820("5", "generic", Memory)}}},
	{"strip limiter fuse", []float64{35, 40, 50, 60, 80, 100, 130, 150, 175, 200, 225, 250, 300, 350, 400, 500, 600, 750}, 32,
		[]Interrupt{{32, 6000, Origin{"", "generic, 2.7 to 6 kA at 32 to 80 V by maker", Memory}}}},
	{"terminal-mount block fuse", []float64{30, 40, 50, 60, 75, 80, 90, 100, 125, 150, 175, 200, 225, 250, 300}, 58, []Interrupt{
		{14, 10000, Origin{"", "commonly claimed", Memory}}, {32, 5000, Origin{"", "commonly claimed", Memory}}, {58, 2000, iso8820("6", "single bolt", Seen)}}},
	{"class T fuse", []float64{110, 125, 150, 175, 200, 225, 250, 300, 350, 400}, 160,
		[]Interrupt{{160, 20000, Origin{"UL-248", "UL 248-15, direct-current mark commonly 20 kA at 125 to 160 V", Memory}}}},
	{"class J fuse", []float64{1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600}, 500,
		[]Interrupt{{500, 20000, Origin{"UL-248", "UL 248-8, generic direct-current mark", Memory}}}},
	{"photovoltaic cartridge fuse 10 x 38 mm", []float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30}, 1000,
		[]Interrupt{{1000, 30000, Origin{"IEC-60269-6", "IEC 60269-6 gPV, 10 to 50 kA", Memory}}}},
}

func iso8820(part, what string, m Mark) Origin {
	return Origin{"ISO-8820", "ISO 8820-" + part + ", " + what, m}
}

// Families returns the fuse families of direct-current work, from the smallest to the most capable.
func Families() []Family {
	all := slices.Clone(families)
	for i := range all {
		all[i].Ratings, all[i].Interrupts = slices.Clone(all[i].Ratings), slices.Clone(all[i].Interrupts)
	}
	return all
}

// FamilyNamed returns the family of a generic name.
func FamilyNamed(name string) (f Family, ok bool) {
	for _, f := range Families() {
		if f.Name == name {
			return f, true
		}
	}
	return Family{}, false
}

// InterruptAt returns the interrupt rating that holds at a direct voltage [V]: the one stated at the nearest voltage not below it. ok
// is false above the family's rated voltage.
func (f Family) InterruptAt(volts float64) (i Interrupt, ok bool) {
	for _, i := range f.Interrupts {
		if volts <= i.Volts {
			return i, true
		}
	}
	return Interrupt{}, false
}

// ClaimBelow returns the rating stated at the nearest voltage below a direct voltage [V]: larger than the one that holds, and not proven there.
// ok is false when nothing is stated below.
func (f Family) ClaimBelow(volts float64) (i Interrupt, ok bool) {
	for _, c := range f.Interrupts {
		if c.Volts < volts {
			i, ok = c, true
		}
	}
	return i, ok
}

// BatteryInterrupt returns the interrupt rating that the boat builders' table asks of the main device and of branch devices [A] for a
// lead-acid bank of a total cold-cranking rating [A]. A lithium bank, one above 2200 A, or one above 500 Ah asks for what its maker
// states, or 20 kA at 125 V: use the bank's own prospective current for those; ok is false above 2200 A or for a negative rating.
//
// Source: [ABYC-E11] table V, seen as reproduced.
func BatteryInterrupt(coldCrankingA float64) (main, branch float64, origin Origin, ok bool) {
	o := Origin{"ABYC-E11", "ABYC E-11 table V", Seen}
	switch c := coldCrankingA; {
	case !(c >= 0) || c > 2200:
		return 0, 0, Origin{}, false
	case c <= 650:
		return 1500, 750, o, true
	case c <= 1100:
		return 3000, 1500, o, true
	}
	return 5000, 2500, o, true
}

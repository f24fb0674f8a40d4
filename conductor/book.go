package conductor

import "fmt"

// Book is a named bundle of rule tables, one for each side of a rig.
type Book uint8

// The books.
const (
	USRV       Book = iota + 1 // "us-rv"
	USBoat                     // "us-boat"
	USBuilding                 // "us-building"
	AUNZ                       // "au-nz"
)

var bookNames = [...]string{USRV: "us-rv", USBoat: "us-boat", USBuilding: "us-building", AUNZ: "au-nz"}

// Books returns all books.
func Books() []Book { return []Book{USRV, USBoat, USBuilding, AUNZ} }

// String returns the name under which a rig file chooses the book.
func (b Book) String() string {
	if b == 0 || int(b) >= len(bookNames) {
		return "no book"
	}
	return bookNames[b]
}

// BookNamed returns the book of a name such as "us-rv".
func BookNamed(name string) (b Book, ok bool) {
	for _, b := range Books() {
		if bookNames[b] == name {
			return b, true
		}
	}
	return 0, false
}

// Side is a part of a rig that books treat by its own table.
type Side uint8

// The sides.
const (
	Mains        Side = iota + 1 // 120 or 230 V alternating current
	Battery                      // house bank and what hangs on it
	Photovoltaic                 // modules to controller
	Vehicle                      // engine side and charge line
)

var sideNames = [...]string{Mains: "mains", Battery: "battery", Photovoltaic: "photovoltaic", Vehicle: "vehicle"}

// Sides returns all sides.
func Sides() []Side { return []Side{Mains, Battery, Photovoltaic, Vehicle} }

// String names the side.
func (s Side) String() string {
	if s == 0 || int(s) >= len(sideNames) {
		return "no side"
	}
	return sideNames[s]
}

// Governs tells which table a book uses for a side, in a sentence fit to print, and how that choice is known.
func Governs(b Book, s Side) (sentence string, origin Origin, err error) {
	if err := checkBook(b, s); err != nil {
		return "", Origin{}, err
	}
	switch {
	case b == USRV && s == Mains:
		return "NEC 310.16 with article 551", Origin{"NEC", "NEC article 551, table 310.16", Seen}, nil
	case b == USRV && s == Photovoltaic:
		return "NEC 690.7 to 690.9 with 310.16", Origin{"NEC", "NEC article 690, table 310.16", Seen}, nil
	case b == USRV:
		return "the NEC leaves low voltage out (551.1); NFPA 1192 and ANSI/RVIA LV govern, their limits are from memory; ampacity by common practice from 33 CFR 183.425, single conductor in free air",
			Origin{"CFR-183", "33 CFR 183.425 table 5, applied to a recreational vehicle", Practice}, nil
	case b == USBoat:
		return "33 CFR 183.425, single conductor in free air", Origin{"CFR-183", "33 CFR 183.425 table 5", Seen}, nil
	case b == USBuilding:
		return "NEC 310.16", Origin{"NEC", "NEC table 310.16", Seen}, nil
	case s == Mains:
		return "AS/NZS 3001.2 and 3008.1 govern; ampacity from IEC 60364-5-52, method B1",
			Origin{"IEC-60364-5-52", "IEC 60364-5-52 tables B.52.2 and B.52.3, method B1", Memory}, nil
	}
	return "AS/NZS 3001.2 governs; ampacity from ISO 10133, single conductor",
		Origin{"ISO-10133", "ISO 10133 annex A", Memory}, nil
}

// DropPractice returns the share of the circuit's voltage that a book's practice lets a run lose.
//
// critical is true for feeders, electronics, ventilation, navigation or signal lights and pumps that safety hangs on, false for the rest.
func DropPractice(b Book, critical bool) (share float64, origin Origin, err error) {
	if err := checkBook(b, Battery); err != nil {
		return 0, Origin{}, err
	}
	switch {
	case b == USBuilding && critical:
		return 0.03, Origin{"NEC", "NEC 210.19(A) informational note: 3 % on one circuit", Memory}, nil
	case b == USBuilding:
		return 0.05, Origin{"NEC", "NEC 215.2(A) informational note: 5 % in all", Memory}, nil
	case critical:
		return 0.03, Origin{"ABYC-E11", "ABYC E-11: 3 % where the drop must be kept small", Seen}, nil
	}
	return 0.10, Origin{"ABYC-E11", "ABYC E-11: 10 % where the drop is not critical", Seen}, nil
}

// BondingGauge returns the thinnest conductor that may bond a battery, converter or chassis of a recreational vehicle.
func BondingGauge() (Gauge, Origin) {
	g, _ := OfAWG(8)
	return g, Origin{"NEC", "NEC 552.10 and 551.56: bonding conductor of at least 8 AWG copper", Seen}
}

func checkBook(b Book, s Side) error {
	if b == 0 || int(b) >= len(bookNames) {
		return fmt.Errorf("book %d is none of us-rv, us-boat, us-building, au-nz", b)
	}
	if s == 0 || int(s) >= len(sideNames) {
		return fmt.Errorf("book %s: side %d is none of mains, battery, photovoltaic, vehicle", b, s)
	}
	return nil
}

package conductor

// Start is where a conductor begins, seen from its source.
type Start uint8

// The starts.
const (
	BatteryPost Start = iota + 1 // at the terminal of a battery
	OtherSource                  // at a bus bar, alternator, charger or other source
)

// Reach is how far along the conductor the first overcurrent device may be from the source.
type Reach struct {
	Metres float64 // [m]; zero where the book gives no length
	Stated bool    // the book gives a length
	Text   string  // the rule in words fit to print
	Origin Origin
}

// FirstDevice returns how far along the conductor the first overcurrent device may stand from where the conductor begins. sheathed
// tells that it lies in a sheath, conduit or enclosure for all of that way. Conductors of engine starters are exempt in every book.
//
// Books differ, and a rule must print the one that spoke: 7, 40 or 72 in on boats, 18 in on recreational vehicles, 200 mm or 1 m in
// Australia and New Zealand.
//
// Source: [CFR-183] 183.455, [ABYC-E11], [NEC] 552.10(E)(4) and 240.21, [ASNZS-3001-2].
func FirstDevice(b Book, at Start, sheathed bool) (Reach, error) {
	if err := checkBook(b, Battery); err != nil {
		return Reach{}, err
	}
	inches := func(n float64, text string, o Origin) Reach { return Reach{n * metresPerInch, true, text, o} }
	switch {
	case b == USRV:
		return inches(18, "within 18 in of the source, as near as practicable", Origin{"NEC",
			"NEC 552.10(E)(4), park trailers; ANSI/RVIA LV says the same from memory", Seen}), nil
	case b == USBoat && !sheathed:
		return inches(7, "at the source, or within 7 in where that is impractical", Origin{"CFR-183", "33 CFR 183.455(b)(1)", Seen}), nil
	case b == USBoat && at == BatteryPost:
		return inches(72, "within 72 in of a battery post when sheathed all the way", Origin{"ABYC-E11",
			"ABYC E-11; 33 CFR 183.455(b)(2) itself allows 40 in", Seen}), nil
	case b == USBoat:
		return inches(40, "within 40 in when sheathed all the way", Origin{"CFR-183", "33 CFR 183.455(b)(2)", Seen}), nil
	case b == USBuilding:
		return Reach{Text: "at the point where the conductor receives its supply; at a battery as near as practicable",
			Origin: Origin{"NEC", "NEC 240.21 and 240.21(H)", Memory}}, nil
	case sheathed:
		return Reach{1, true, "directly outside the battery's enclosure, or within 1 m when enclosed all the way",
			Origin{"ASNZS-3001-2", "AS/NZS 3001.2, batteries, seen in summary", Memory}}, nil
	}
	return Reach{0.2, true, "within 200 mm of the battery", Origin{"ASNZS-3001-2", "AS/NZS 3001.2, batteries, seen in summary", Memory}}, nil
}

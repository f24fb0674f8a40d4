package conductor

// This file is the ampacity tables. All hold at 30 °C air. A row stands for the size of the same place in Gauges; zero means that the
// table has no value there.

// table is one ampacity table.
type table struct {
	system  System
	columns []int // conductor temperature of each column [°C], rising
	rows    [][]float64
	origin  Origin
	kind    tableKind
}

// tableKind says which corrections go with a table.
type tableKind uint8

const (
	freeAir tableKind = iota // boats: engine-space and bundle factors, square-root rule for air
	raceway                  // NEC: printed air factors, count factors, terminal column
	conduit                  // IEC: square-root rule for air, factors by circuits
)

// boatUS is [CFR-183] 183.425 table 5: single insulated copper conductor in free air.
var boatUS = table{AWG, []int{60, 75, 80, 90, 105, 125, 200}, [][]float64{
	{10, 10, 15, 20, 20, 25, 25}, // 18
	{15, 15, 20, 25, 25, 30, 35},
	{20, 20, 25, 30, 35, 40, 45},
	{25, 25, 35, 40, 45, 50, 55},
	{40, 40, 50, 55, 60, 70, 70}, // 10
	{55, 65, 70, 70, 80, 90, 100},
	{80, 95, 100, 100, 120, 125, 135},
	{105, 125, 130, 135, 160, 170, 180},
	{120, 145, 150, 155, 180, 195, 210}, // 3
	{140, 170, 175, 180, 210, 225, 240},
	{165, 195, 210, 210, 245, 265, 280},
	{195, 230, 245, 245, 285, 305, 325}, // 1/0
	{225, 265, 285, 285, 330, 355, 370},
	{260, 310, 330, 330, 385, 410, 430},
	{300, 360, 385, 385, 445, 475, 510},
}, Origin{"CFR-183", "33 CFR 183.425 table 5", Seen}, freeAir}

// building is [NEC] table 310.16: not more than three current-carrying copper conductors in a raceway or cable.
var building = table{AWG, []int{60, 75, 90}, [][]float64{
	{0, 0, 14}, {0, 0, 18}, // 18, 16
	{15, 20, 25}, {20, 25, 30}, {30, 35, 40}, {40, 50, 55}, {55, 65, 75}, {70, 85, 95}, {85, 100, 115}, {95, 115, 130},
	{110, 130, 145}, {125, 150, 170}, {145, 175, 195}, {165, 200, 225}, {195, 230, 260},
}, Origin{"NEC", "NEC table 310.16", Seen}, raceway}

// craftISO is [ISO-10133] annex A: single copper conductors of small craft, by insulation; the third column serves 85 and 90 °C.
var craftISO = table{Metric, []int{60, 70, 85, 105, 125, 200}, [][]float64{
	{8, 10, 12, 16, 20, 25}, // 0.75
	{12, 14, 18, 20, 25, 35},
	{16, 18, 21, 25, 30, 40},
	{20, 25, 30, 35, 40, 45},
	{30, 35, 40, 45, 50, 55}, // 4
	{40, 45, 50, 60, 70, 75},
	{60, 65, 70, 90, 100, 120},
	{80, 90, 100, 130, 150, 170},
	{110, 120, 140, 170, 185, 200}, // 25
	{140, 160, 185, 210, 225, 240},
	{180, 210, 230, 270, 300, 325},
	{220, 265, 285, 330, 360, 375},
	{260, 310, 330, 390, 410, 430},
	{300, 360, 400, 450, 480, 520},
}, Origin{"ISO-10133", "ISO 10133 annex A, single conductor", Memory}, freeAir}

// mainsIEC is [IEC-60364-5-52] tables B.52.2 (70 °C) and B.52.3 (90 °C), method B1: two loaded copper conductors in conduit.
var mainsIEC = table{Metric, []int{70, 90}, [][]float64{
	{0, 0}, {13.5, 17}, // 0.75, 1
	{17.5, 23}, {24, 31}, {32, 42}, {41, 54}, {57, 75}, {76, 100}, {101, 133}, {125, 164}, {151, 198}, {192, 253}, {232, 306}, {269, 354},
}, Origin{"IEC-60364-5-52", "IEC 60364-5-52 tables B.52.2 and B.52.3, method B1", Memory}, conduit}

// tableOf returns the table by which a book judges a side.
func tableOf(b Book, s Side) *table {
	switch {
	case b == USBuilding, b == USRV && (s == Mains || s == Photovoltaic):
		return &building
	case b == AUNZ && s == Mains:
		return &mainsIEC
	case b == AUNZ:
		return &craftISO
	}
	return &boatUS
}

// column returns the index of the hottest column that an insulation temperature [°C] may use, −1 when it is below the coolest.
func (t *table) column(insulationC int) int {
	c := -1
	for i, v := range t.columns {
		if v <= insulationC {
			c = i
		}
	}
	return c
}

// step is one row of a table of factors: it holds for counts or temperatures up to and with upTo.
type step struct {
	upTo  float64
	value float64
}

// stepAt returns the value for x, zero past the last step.
func stepAt(steps []step, x float64) float64 {
	for _, s := range steps {
		if x <= s.upTo {
			return s.value
		}
	}
	return 0
}

// Count factors, by current-carrying conductors laid together.
var (
	countBoat = []step{{2, 1}, {3, 0.70}, {6, 0.60}, {24, 0.50}, {1e9, 0.40}}                                             // [CFR-183] 183.425 table 5 note 2
	countNEC  = []step{{3, 1}, {6, 0.80}, {9, 0.70}, {20, 0.50}, {30, 0.45}, {40, 0.40}, {1e9, 0.35}}                     // [NEC] table 310.15(C)(1)
	countISO  = []step{{3, 1}, {6, 0.70}, {24, 0.60}, {1e9, 0.50}}                                                        // [ISO-10133] annex A, from memory
	countIEC  = []step{{2, 1}, {4, 0.80}, {6, 0.70}, {8, 0.65}, {10, 0.60}, {12, 0.57}, {18, 0.50}, {40, 0.38}, {1e9, 0}} // [IEC-60364-5-52] table B.52.17, two conductors a circuit
)

// Air temperature factors of [NEC] table 310.15(B)(1)(1), by the column used. Past the last step the table ends: no current at all.
var (
	air60 = []step{{10, 1.29}, {15, 1.22}, {20, 1.15}, {25, 1.08}, {30, 1}, {35, 0.91}, {40, 0.82}, {45, 0.71}, {50, 0.58}, {55, 0.41}}
	air75 = []step{{10, 1.20}, {15, 1.15}, {20, 1.11}, {25, 1.05}, {30, 1}, {35, 0.94}, {40, 0.88}, {45, 0.82}, {50, 0.75}, {55, 0.67}, {60, 0.58}, {65, 0.47}, {70, 0.33}}
	air90 = []step{{10, 1.15}, {15, 1.12}, {20, 1.08}, {25, 1.04}, {30, 1}, {35, 0.96}, {40, 0.91}, {45, 0.87}, {50, 0.82}, {55, 0.76}, {60, 0.71}, {65, 0.65}, {70, 0.58}, {75, 0.50}, {80, 0.41}, {85, 0.29}}
)

// Engine-space factors by column temperature [°C]: what 50 °C air leaves of the table.
var (
	engineBoat = []step{{60, 0.58}, {75, 0.75}, {80, 0.78}, {90, 0.82}, {105, 0.85}, {125, 0.89}, {1e9, 1}} // [CFR-183] 183.425 table 5 note 1; only 105 °C seen
	engineISO  = []step{{60, 0.58}, {70, 0.75}, {90, 0.82}, {105, 0.86}, {125, 0.89}, {1e9, 1}}             // [ISO-10133] annex A, from memory
)

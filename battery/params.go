package battery

import (
	"fmt"
	"math"
)

// Chemistry is the kind of battery.
type Chemistry uint8

// The chemistries. The zero value is none of them, so that a forgotten choice is refused.
const (
	LFP     Chemistry = iota + 1 // lithium iron phosphate
	Flooded                      // lead-acid with free acid
	AGM                          // lead-acid, acid held in glass mat
	Gel                          // lead-acid, acid held in a gel
)

// String returns the trade's word for the chemistry.
func (c Chemistry) String() string {
	switch c {
	case LFP:
		return "LFP"
	case Flooded:
		return "flooded"
	case AGM:
		return "AGM"
	case Gel:
		return "gel"
	}
	return fmt.Sprintf("chemistry %d", uint8(c))
}

// LeadAcid tells whether the chemistry is one of the three lead-acid kinds.
func (c Chemistry) LeadAcid() bool { return c == Flooded || c == AGM || c == Gel }

// Params describe a bank of identical blocks. Every field must be set: Typical fills them all with the usual values of a chemistry, for
// the caller to overwrite with what is known.
type Params struct {
	Chemistry Chemistry
	Series    int // blocks in series, 1 or more
	Parallel  int // strings of blocks in parallel, 1 or more
	Cells     int // cells in series in one block

	// One block.
	CapacityAh      float64 // when new, at 25 C, over RatedHours
	RatedHours      float64 // discharge time at which the capacity is rated [h]
	Health          float64 // share of the capacity left, 0.1..1.5; above 1 for a block better than its label
	ResistanceOhm   float64 // at 25 C, terminals to terminals, electronics included
	CellOhm         float64 // the part of ResistanceOhm that lies in the cells and follows their temperature, 0..ResistanceOhm
	ChargeLimitA    float64 // largest charge current
	DischargeLimitA float64 // largest lasting discharge current, as a positive number
	PolarisationV   float64 // per cell: what voltage stands above rest when charging and below it when discharging, whatever the current
	TaperHours      float64 // lead-acid: time constant of the current's decline at absorption voltage if all were stored [h]; 0 for LFP
	AbsorptionV     float64 // charging voltage of one block
	FloatV          float64 // resting voltage of one block under charge

	// Temperature of the cells [C].
	ChargeAboveC    float64 // charging is blocked below this
	ChargeBelowC    float64 // charging is blocked above this
	DischargeAboveC float64 // discharging is blocked below this
	DischargeBelowC float64 // discharging is blocked above this

	RateExponent float64 // how capacity falls with current, 1..1.5; 1 is not at all. See Peukert
	Efficiency   Coulombic
	SelfPerMonth float64 // share of the capacity lost in a month of 730.5 h at 25 C, 0..0.5
}

// Coulombic is the share of the charge current that is stored, in three bands of state of charge. The rest makes gas or heat.
type Coulombic struct {
	Bulk float64 // below 0.8
	Late float64 // 0.8 to 0.9
	Full float64 // above 0.9
}

// IdealParams describe a bank as a plain store of energy with efficiencies and power limits, for comparison with energy balances that
// know no voltage. Its open-circuit curve is flat at the nominal voltage and it has no resistance.
type IdealParams struct {
	NominalV       float64 // of the bank
	CapacityAh     float64 // of the bank
	ChargeEff      float64 // stored per energy charged, 0..1
	DischargeEff   float64 // delivered per energy taken from the store, 0..1
	MaxChargeW     float64
	MaxDischargeW  float64
	SoCMin, SoCMax float64 // the window used, 0..1
}

// NominalCellV returns the nominal voltage of one cell [V]: 3.2 for LFP, 2 for lead-acid, 0 for an unknown chemistry.
func (c Chemistry) NominalCellV() float64 {
	switch {
	case c == LFP:
		return 3.2
	case c.LeadAcid():
		return 2
	}
	return 0
}

// CellsFor returns how many cells in series a block of the given nominal voltage [V] has: "12 V" and "12.8 V" LFP blocks have 4, "24 V"
// blocks 8; "48 V" means 16 unless it is exactly 48.0 V by label and built of 15, which only the maker can tell. It returns 0 for a
// voltage that is not positive or an unknown chemistry.
func CellsFor(c Chemistry, nominalV float64) int {
	cell := c.NominalCellV()
	if cell == 0 || !(nominalV > 0) || nominalV > 1000 {
		return 0
	}
	if c == LFP {
		// Trade labels count in twelves: 12, 24, 36 and 48 V stand for 12.8, 25.6, 38.4 and 51.2 V.
		if twelves := nominalV / 12; twelves == math.Trunc(twelves) {
			return 4 * int(twelves)
		}
	}
	return max(1, int(math.Round(nominalV/cell)))
}

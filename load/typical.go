package load

// btuPerH is one BTU/h in watts.
const btuPerH = 0.29307107017

// The typical cold boxes and furnaces below are where a catalogue starts. Running powers and duties are the middle of ranges seen in
// owners' tables and service columns: common practice, no source, unless a source is named.

// ChestCompressor returns a chest of 40 to 60 L with a 12 V compressor: 45 W, duty 0.42 at 32 C. From it follow 0.24 at 20 C and 0.59 at
// 43 C, inside the ranges of practice.
func ChestCompressor() CoolerParams {
	return CoolerParams{InsideC: 4, ReferenceC: 32, Duty: 0.42, RunningW: 45}
}

// UprightCompressor returns an upright box of 8 to 10 cu ft with a 12 V compressor: 80 W, duty 0.40 at 25 C.
func UprightCompressor() CoolerParams {
	return CoolerParams{InsideC: 4, ReferenceC: 25, Duty: 0.40, RunningW: 80}
}

// HouseholdRefrigerator returns a household box of 16 to 18 cu ft on AC: 130 W, duty 0.40 at 25 C. Measured household boxes ran 60 to
// 138 W with duty 0.15 to 0.59 [TRACEBASE].
func HouseholdRefrigerator() CoolerParams {
	return CoolerParams{InsideC: 4, ReferenceC: 25, Duty: 0.40, RunningW: 130}
}

// AbsorptionElectric returns an absorption box of 6 to 8 cu ft on its AC element: 325 W, duty 0.70 at 25 C, without rest above 34 C.
func AbsorptionElectric() CoolerParams {
	return CoolerParams{InsideC: 4, ReferenceC: 25, Duty: 0.70, RunningW: 325, AlwaysW: 0}
}

// AbsorptionPropane returns the same box burning propane: 1,500 BTU/h, duty 0.65 at 25 C. Its control board's draw is electric and
// belongs to the electric side.
func AbsorptionPropane() CoolerParams {
	return CoolerParams{InsideC: 4, ReferenceC: 25, Duty: 0.65, RunningW: 1500 * btuPerH}
}

// MediumFurnace returns a furnace of 30,000 BTU/h input in a rig of 26 ft: 78 % to the room, blower 95 W, three burns an hour at most
// and a minute and a half of purge.
func MediumFurnace(keepsC float64) FurnaceParams {
	return FurnaceParams{KeepsC: keepsC, HeatLossWK: 160, FreeHeatW: 200, InputW: 30000 * btuPerH, Efficiency: 0.78, BlowerW: 95, PurgeMin: 1.5,
		CyclesPerH: 3}
}

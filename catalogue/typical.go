// Package catalogue holds what the program knows about generic parts: what a value usually is, how far it spreads, why, and where that
// comes from. It fills what an owner leaves out; it names no maker and no product. What only a data sheet can say (a module's voltages,
// a bank's capacity) is not here.
package catalogue

import "campwright/quantity"

// Typical is what a value usually is.
type Typical struct {
	Kind             quantity.Kind
	Value, Low, High float64 // in the base unit of Kind; low and high are the plausible span
	Why              string
	Source           string // citation key, or "common practice, no source"
}

// practice marks trade practice.
const practice = "common practice, no source"

// Modules and arrays.
var (
	VocPerC   = Typical{quantity.PerDegree, -0.0029, -0.0036, -0.0025, "crystalline silicon modules lie between -0.25 and -0.36 %/C", "[PVLIB-MODULES]"}
	IscPerC   = Typical{quantity.PerDegree, 0.0005, 0.0003, 0.0006, "crystalline silicon modules lie between 0.03 and 0.06 %/C", "[PVLIB-MODULES]"}
	PowerPerC = Typical{quantity.PerDegree, -0.0037, -0.0045, -0.0029, "crystalline silicon modules lie between -0.29 and -0.45 %/C", "[PVLIB-MODULES]"}
	VmpOfVoc  = Typical{quantity.Share, 0.825, 0.80, 0.86, "crystalline silicon modules work at 80 to 86 % of their open-circuit voltage", "[PVLIB-MODULES]"}
	IscOfImp  = Typical{quantity.Share, 1.06, 1.04, 1.10, "crystalline silicon modules give 4 to 10 % more current shorted than at maximum power", "[PVLIB-MODULES]"}
	NOCT      = Typical{quantity.Temperature, 45, 42, 48, "framed modules lie between 42 and 48 C", practice}
	Soiling   = Typical{quantity.Share, 0.04, 0.01, 0.08, "dust on a level roof between rains", practice}
	Mismatch  = Typical{quantity.Share, 0.07, 0.03, 0.11, "label tolerance, some years of age, unlike modules and what a tracker misses", practice}
	RoofShade = Typical{quantity.Share, 0.0, 0.0, 0.0, "nothing on the roof is said to shade it", practice}
	RunGauge  = Typical{quantity.Section, 5.26, 5.26, 5.26, "10 AWG is the usual roof cable", practice}
	RunLength = Typical{quantity.Length, 8, 4, 13, "from roof to controller", practice}
)

// Charge controllers.
var (
	ControllerHeadroom   = Typical{quantity.Voltage, 1, 0.5, 2, "a step-down controller needs about a volt of surplus to run", practice}
	ControllerStarts     = Typical{quantity.Voltage, 5, 3, 5, "a step-down controller waits for about 5 V of surplus to start", practice}
	ControllerEfficiency = Typical{quantity.Share, 0.97, 0.94, 0.985, "peak of a tracking controller", practice}
	DirectEfficiency     = Typical{quantity.Share, 0.99, 0.97, 1, "a switching controller without tracking loses little but the voltage", practice}
	ControllerOwnUse     = Typical{quantity.Power, 0.6, 0.1, 1.5, "what a controller draws day and night", practice}
)

// Battery bank, per block where it says so.
var (
	LFPVoltage        = Typical{quantity.Voltage, 12.8, 12.8, 12.8, "four cells in series", practice}
	LeadVoltage       = Typical{quantity.Voltage, 12, 12, 12, "six cells in series", practice}
	LFPOhmAh          = Typical{quantity.Resistance, 0.3, 0.15, 0.6, "3 milliohm for a 100 Ah block, electronics included; times its Ah", practice}
	LeadOhmAh         = Typical{quantity.Resistance, 0.5, 0.3, 0.9, "5 milliohm for a 100 Ah block; times its Ah", practice}
	LFPChargeRate     = Typical{quantity.None, 0.5, 0.3, 1, "charge current over capacity per hour", practice}
	LeadChargeRate    = Typical{quantity.None, 0.2, 0.1, 0.3, "charge current over capacity per hour", practice}
	LFPDischargeRate  = Typical{quantity.None, 1, 0.5, 1, "discharge current over capacity per hour", practice}
	LeadDischargeRate = Typical{quantity.None, 0.5, 0.25, 1, "discharge current over capacity per hour", practice}
	LFPColdCharge     = Typical{quantity.Temperature, 0, 0, 5, "lithium plating below freezing: the electronics refuse", "[PETZL-2014]"}
	LeadColdCharge    = Typical{quantity.Temperature, -20, -30, -15, "lead-acid takes charge in the cold, slowly", practice}
	HotCharge         = Typical{quantity.Temperature, 45, 45, 55, "upper limit of charging", practice}
	Health            = Typical{quantity.Share, 1, 0.95, 1.02, "taken as new", practice}
	FloodedExponent   = Typical{quantity.Count, 1.2, 1.15, 1.3, "flooded lead-acid gives less at high current", practice}
	AGMExponent       = Typical{quantity.Count, 1.02, 1.0, 1.1, "absorbed-mat blocks lose little between 6 and 33 hours", practice}
	GelExponent       = Typical{quantity.Count, 1.1, 1.05, 1.15, "between flooded and absorbed mat", practice}
	StartsAt          = Typical{quantity.Share, 1, 1, 1, "a trip starts with a full bank", practice}
	LFPFloor          = Typical{quantity.Share, 0.2, 0.2, 0.2, "leaves a reserve and spares the cells", practice}
	LeadFloor         = Typical{quantity.Share, 0.5, 0.5, 0.5, "lead-acid ages fast below half", practice}
	LFPAbsorption     = Typical{quantity.Voltage, 3.55, 3.5, 3.6, "per cell", practice}
	LFPFloat          = Typical{quantity.Voltage, 3.375, 3.35, 3.4, "per cell", practice}
	LFPRestart        = Typical{quantity.Voltage, 3.3, 3.2, 3.35, "per cell", practice}
	LeadAbsorption    = Typical{quantity.Voltage, 2.4, 2.37, 2.47, "per cell", practice}
	LeadFloat         = Typical{quantity.Voltage, 2.25, 2.2, 2.3, "per cell", practice}
	LeadRestart       = Typical{quantity.Voltage, 2.1, 2.05, 2.15, "per cell", practice}
	LeadCompensation  = Typical{quantity.VoltagePerDegree, -0.004, -0.005, -0.003, "per cell", practice}
	LFPAbsorbFor      = Typical{quantity.Duration, 0.5, 0.2, 1, "LFP is full soon after it reaches the charging voltage", practice}
	LeadAbsorbFor     = Typical{quantity.Duration, 3, 2, 4, "lead-acid needs hours at the charging voltage", practice}
	LFPInverterOff    = Typical{quantity.Voltage, 3.0, 2.9, 3.05, "per cell; first of the cut-offs", practice}
	LFPLoadsOff       = Typical{quantity.Voltage, 2.9, 2.8, 2.95, "per cell", practice}
	LFPOpensAt        = Typical{quantity.Voltage, 2.55, 2.3, 2.8, "per cell; last of the cut-offs", practice}
	LeadInverterOff   = Typical{quantity.Voltage, 1.88, 1.75, 1.92, "per cell", practice}
	LeadLoadsOff      = Typical{quantity.Voltage, 1.8, 1.75, 1.85, "per cell", practice}
	LeadOpensAt       = Typical{quantity.Voltage, 1.6, 1.5, 1.7, "per cell: nothing opens by itself; the block is empty", practice}
	BayInside         = Typical{quantity.TempDifference, 0, 0, 0, "inside the warm part", practice}
	BayOutside        = Typical{quantity.TempDifference, 1, 0, 3, "an outside bay is little warmer than the night", practice}
	BayInsulated      = Typical{quantity.TempDifference, 4, 2, 7, "an insulated bay keeps some warmth", practice}
	BankHeatsBelow    = Typical{quantity.Temperature, 4, 2, 6, "a bank heater starts a little above freezing", practice}
)

// Inverters, per watt of rated power where it says so.
var (
	InverterIdleShare  = Typical{quantity.Share, 0.012, 0.008, 0.025, "8 to 25 W for each kilowatt of rating", practice}
	InverterEfficiency = Typical{quantity.Share, 0.91, 0.88, 0.94, "peak, at a fifth to two fifths of its rating", practice}
	InverterSurge      = Typical{quantity.Count, 2, 1.5, 3, "times its rating", practice}
)

// Appliances.
var (
	FurnaceKeeps      = Typical{quantity.Temperature, 18, 16, 20, "a usual thermostat setting", practice}
	FurnaceEfficiency = Typical{quantity.Share, 0.78, 0.72, 0.82, "output 0.75 to 0.80 of input", practice}
	FurnaceBlower     = Typical{quantity.Power, 95, 70, 130, "7 to 10 A for a medium furnace", practice}
	FurnaceInput      = Typical{quantity.Power, 8792, 7300, 10300, "30,000 BTU/h, a medium furnace", "[PROPANE]"}
	FurnaceControl    = Typical{quantity.Power, 1, 0.5, 3, "thermostat and control board", practice}
	HeatLossPerArea   = Typical{quantity.HeatLoss, 1.5, 1.0, 2.3, "for each square metre of floor, walls and roof; thin walls, single panes, cold bridges", practice}
	FreeHeatPerPerson = Typical{quantity.Power, 100, 70, 130, "a resting person", practice}
	FridgeControl     = Typical{quantity.Power, 6, 4, 12, "control board and gas valve of an absorption refrigerator", "[RV-MANUALS]"}
	AbsorptionDuty    = Typical{quantity.Share, 0.6, 0.45, 0.8, "share of time it burns at 25 C", practice}
	AbsorptionInput   = Typical{quantity.Power, 440, 320, 560, "1,500 BTU/h, eight cubic feet", practice}
	AbsorptionElement = Typical{quantity.Power, 325, 250, 420, "2.5 to 3.0 A at 120 V", "[RV-MANUALS]"}
	CompressorDuty    = Typical{quantity.Share, 0.35, 0.25, 0.5, "share of time it runs at 25 C", practice}
	CompressorPower   = Typical{quantity.Power, 50, 40, 75, "a 12 V chest or small upright", practice}
	HeaterInput       = Typical{quantity.Power, 2931, 2579, 3517, "10,000 BTU/h, a six gallon tank", practice}
	HeaterElement     = Typical{quantity.Power, 1440, 1300, 1500, "a six gallon tank", practice}
	HeaterControl     = Typical{quantity.Power, 8, 5, 12, "valve and board of a water heater while it burns", practice}
	HotWater          = Typical{quantity.FlowPerDay, 8, 4, 15, "hot water one person uses in a day when careful", practice}
	CoolerPower       = Typical{quantity.Power, 1400, 1200, 1800, "a 13,500 BTU/h roof unit", practice}
	CoolerKeeps       = Typical{quantity.Temperature, 25, 23, 27, "a usual thermostat setting", practice}
	UnknownDC         = Typical{quantity.Power, 10, 1, 40, "a small thing on 12 V of which nothing is known", practice}
	UnknownAC         = Typical{quantity.Power, 300, 20, 1500, "a household thing of which nothing is known", practice}
	UnknownBurn       = Typical{quantity.Power, 1000, 150, 3000, "a propane appliance of which nothing is known", practice}
	PowerFactor       = Typical{quantity.Share, 0.95, 0.6, 1, "mixed household loads", practice}
)

// Stores.
var (
	WaterUse  = Typical{quantity.FlowPerDay, 15, 8, 30, "a careful camper uses 2 to 8 gallons a day", practice}
	GreyShare = Typical{quantity.Share, 0.8, 0.7, 0.9, "what is not drunk, cooked or flushed", practice}
	BlackUse  = Typical{quantity.FlowPerDay, 4, 2.5, 7, "about a gallon a day each", practice}
	People    = Typical{quantity.Count, 2, 2, 2, "two people", practice}
)

// VocOfPower is the open-circuit voltage with which modules of a power are sold [V]: small ones mostly with 36 cells, made for a 12 V bank, larger
// ones mostly with 60 to 72 or twice as many halves. The span holds both kinds, and cells of every efficiency.
func VocOfPower(watts float64) Typical {
	const why = "sold with 32 to 72 cells in series, and nothing but the power is said"
	if watts <= 240 {
		return Typical{quantity.Voltage, 22.6, 18, 46, why, practice}
	}
	return Typical{quantity.Voltage, 41, 30, 55, why, practice}
}

package catalogue

import "campwright/quantity"

// Vehicle and charge line.
var (
	OwnLoad        = Typical{quantity.Current, 40, 25, 55, "engine, lamps, fans and comfort of a tow vehicle or chassis", practice}
	VehicleVolts   = Typical{quantity.Voltage, 14.0, 13.6, 14.4, "engine running, warm", practice}
	RestsAt        = Typical{quantity.Voltage, 12.9, 12.6, 13.2, "a variable regulator rests near the starter battery's own voltage", practice}
	RestShare      = Typical{quantity.Share, 0.5, 0.2, 0.7, "share of driving for which a variable regulator rests", practice}
	LineGauge      = Typical{quantity.Section, 8.366, 8.366, 8.366, "8 AWG is a usual charge line", practice}
	LineLength     = Typical{quantity.Length, 7, 5, 10, "from the vehicle's battery to the trailer's", practice}
	HotIdleShare   = Typical{quantity.Share, 0.45, 0.35, 0.55, "hot at idle, of what is printed on it", practice}
	HotCruiseShare = Typical{quantity.Share, 0.75, 0.7, 0.85, "hot at cruise, of what is printed on it", practice}
	DCDCEfficiency = Typical{quantity.Share, 0.9, 0.85, 0.94, "vehicle to bank", practice}
	DCDCCutsOut    = Typical{quantity.Voltage, 11.0, 10.5, 12.0, "most units stop when the line's voltage falls too far; which, its manual says", practice}
	DCDCRestarts   = Typical{quantity.Voltage, 12.8, 12.5, 13.3, "and start again when it has recovered", practice}
)

// Resistance of a charge line's small parts, there and back [Ω], and the times of a unit that cuts out and starts again [s]. Common
// practice, no source.
const (
	FuseOhm   = 0.0008
	PlugOhm   = 0.0010
	CutRampS  = 10
	CutDelayS = 1
	CutOffS   = 30
)

// Shore and generator.
var (
	ChargerEfficiency  = Typical{quantity.Share, 0.86, 0.8, 0.92, "wall to battery", practice}
	ChargerPowerFactor = Typical{quantity.Share, 0.7, 0.65, 0.99, "0.7 for a plain charger, near 1 for a corrected one", practice}
	GeneratorBurnsPerW = Typical{quantity.Flow, 0.0005, 0.0004, 0.0007, "litres an hour at half load, for each watt of rating", practice}
)

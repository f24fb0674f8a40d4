package catalogue

import "campwright/quantity"

// Spread returns how far an owner's "about" may be off when no ends are given, as a share of the value, and, for kinds whose zero is
// arbitrary or whose values are small shares, as an amount in the base unit instead. One of the two is zero. The spreads are judgement
// (common practice, no source): a guess of a draw in watts is good to about a fifth, of a length to about a sixth, of a volume on a
// tank's label to a tenth.
func Spread(kind quantity.Kind) (relative, absolute float64) {
	switch kind {
	case quantity.Power, quantity.Current, quantity.Energy, quantity.Flow, quantity.FlowPerDay:
		return 0.2, 0
	case quantity.HeatLoss:
		return 0.3, 0
	case quantity.Resistance:
		return 0.4, 0
	case quantity.Duration:
		return 0.25, 0
	case quantity.Length:
		return 0.15, 0
	case quantity.Charge, quantity.Volume, quantity.Mass, quantity.Section, quantity.Area:
		return 0.1, 0
	case quantity.Voltage:
		return 0.03, 0
	case quantity.PerDegree, quantity.VoltagePerDegree, quantity.CurrentPerDegree:
		return 0.2, 0
	case quantity.Temperature, quantity.TempDifference:
		return 0, 3
	case quantity.Angle:
		return 0, 10
	case quantity.Share:
		return 0, 0.05
	case quantity.Count:
		return 0.05, 0
	default:
		return 0.2, 0
	}
}

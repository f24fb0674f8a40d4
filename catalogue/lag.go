package catalogue

import "math"

// Heat a battery holds and the ease with which its bay passes it, for the time in which a bank follows the temperature of its bay.
// The heat capacity of 1.0 kJ/(kg·K) lies among measured values for LFP and lead-acid packs; the conductances per square root of weight
// are judgement. Common practice, no source.
const (
	bankKJPerKgK      = 1.0
	wattsPerKOpen     = 0.55 // per square root of kilogram, in a plain bay
	wattsPerKInsulate = 0.14 // likewise, in an insulated box
)

// BankLagHours returns the time constant with which a bank of the given weight [kg, above zero] follows the temperature of its bay [h].
// A heavier bank follows more slowly, by the square root: weight grows with volume and loss with surface, about.
func BankLagHours(kg float64, bay string) float64 {
	if !(kg > 0) {
		return 0
	}
	return bankKJPerKgK * 1000 * kg / BankLossWK(kg, bay) / 3600
}

// BankLossWK returns the heat that a bank of the given weight [kg, above zero] loses to its bay for each kelvin that it is warmer [W/K].
func BankLossWK(kg float64, bay string) float64 {
	perRoot := wattsPerKOpen
	if bay == "insulated" {
		perRoot = wattsPerKInsulate
	}
	return perRoot * math.Sqrt(math.Max(kg, 0))
}

package load

// StartDCA returns the current that a start or a load asks of the bank through an inverter [A].
//
//	acVA       apparent power on the AC side, zero or positive; for a running load its real power
//	efficiency of the inverter, above 0, up to 1
//	bankV      voltage of the bank under that load [V], above zero
//
// At a start the inverter's own reserves are left out, so it is an upper estimate. It is zero where an argument makes no sense.
func StartDCA(acVA, efficiency, bankV float64) float64 {
	if !(acVA > 0 && efficiency > 0 && efficiency <= 1 && bankV > 0) {
		return 0
	}
	return acVA / efficiency / bankV
}

package battery

// FreezingC returns the temperature at which the acid of a lead-acid battery freezes [C], which bursts its cells.
//
//	soc  state of charge, 0..1, held outside
//
// Straight between -70.6 C when full, -52.2 at 75 %, -35 at 50 %, -17.2 at 25 % and -7.8 when empty; the last is from memory. For
// other chemistries there is no such temperature. Good to some 5 K, since specific gravity and charge go together only roughly.
//
// Source: [TM-6140].
func FreezingC(soc float64) float64 {
	fahrenheit := [5]float64{18, 1, -31, -62, -95}
	x := clamp01(soc) * 4
	i := min(int(x), 3)
	f := fahrenheit[i] + (fahrenheit[i+1]-fahrenheit[i])*(x-float64(i))
	return (f - 32) * 5 / 9
}

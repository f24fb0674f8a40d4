package battery

// Rest voltages of one cell at 25 C against state of charge, as knots of a piecewise linear curve. Every knot lies on a multiple of
// 0.5 %, which the look-up of the model relies on.

// knot is one point of a curve: state of charge in half per cent, volts of one cell.
type knot struct {
	half int
	v    float64
}

// lfpRest is an LFP cell's open-circuit voltage from the half-cell fits of an open parameter set [BPX], evaluated at 25 C. It ends at
// the cell's cut-offs, 2.0 and 3.65 V. Measured cells rest 5 mV lower to 30 mV higher after a charge [LFP-COLD]; the curve stands for the
// middle between charging and discharging, and the half-width of the hysteresis, 14 to 23 mV, is in Params.PolarisationV.
var lfpRest = []knot{
	{0, 2.0000}, {2, 2.8370}, {4, 2.9482}, {6, 3.0352}, {8, 3.0963}, {10, 3.1365}, {12, 3.1606}, {16, 3.1810}, {20, 3.1882},
	{25, 3.1949}, {30, 3.2039}, {35, 3.2159}, {40, 3.2296}, {50, 3.2541}, {60, 3.2674}, {70, 3.2727}, {80, 3.2750}, {90, 3.2764},
	{100, 3.2781}, {110, 3.2809}, {120, 3.2864}, {130, 3.2953}, {140, 3.3057}, {150, 3.3136}, {160, 3.3181}, {170, 3.3205},
	{180, 3.3218}, {190, 3.3227}, {194, 3.3230}, {196, 3.3235}, {198, 3.3340}, {199, 3.3823}, {200, 3.6486},
}

// leadRest is the rest voltage of a lead-acid cell at 25 C [BCI-REST], from memory; published tables differ by 0.1 V in twelve.
var leadRest = []knot{{0, 1.98167}, {50, 2.01}, {100, 2.04}, {150, 2.075}, {200, 2.10833}}

// restAt returns the voltage of a curve at a state of charge in half per cent, 0..200, between knots by straight lines.
func restAt(curve []knot, half int) float64 {
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if half <= b.half {
			return a.v + (b.v-a.v)*float64(half-a.half)/float64(b.half-a.half)
		}
	}
	return curve[len(curve)-1].v
}

package sun

// table is a smooth function of one variable, as a cubic for each of many equal steps. It is filled once, when the program starts or
// a model is made, and only read afterwards.
type table struct {
	low, perStep float64 // start, and steps per unit of the variable
	cubics       [][4]float64
}

// newTable tabulates f from low to high in n steps. Each cubic runs through four neighbouring points; f must be smooth one step
// beyond both ends.
func newTable(f func(float64) float64, low, high float64, n int) table {
	step := (high - low) / float64(n)
	t := table{low: low, perStep: 1 / step, cubics: make([][4]float64, n)}
	at := func(i int) float64 { return f(low + float64(i)*step) }
	window := [4]float64{at(-1), at(0), at(1), at(2)}
	for i := range t.cubics {
		t.cubics[i] = cubic(window)
		window = [4]float64{window[1], window[2], window[3], at(i + 3)}
	}
	return t
}

// at returns the tabulated function; outside the table it follows the end's cubic.
func (t *table) at(x float64) float64 {
	u := (x - t.low) * t.perStep
	i := min(max(int(u), 0), len(t.cubics)-1)
	c := &t.cubics[i]
	u -= float64(i)
	return c[0] + u*(c[1]+u*(c[2]+u*c[3]))
}

// cubic returns the coefficients, lowest power first, of the cubic that takes the four values at -1, 0, 1 and 2.
func cubic(f [4]float64) [4]float64 {
	return [4]float64{
		f[1],
		f[2] - f[0]/3 - f[1]/2 - f[3]/6,
		f[0]/2 - f[1] + f[2]/2,
		(f[3]-f[0])/6 + (f[1]-f[2])/2,
	}
}

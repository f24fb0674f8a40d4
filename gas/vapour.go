package gas

import "math"

// The chart of the largest lasting draw from a 100 lb cylinder [PROPANE-VAPOR], BTU/h, by pounds left and temperature. The first column
// of the source had lost its label; 0 F is inferred from the even steps of the others.
var (
	drawF  = [5]float64{0, 20, 40, 60, 70}
	drawLb = [10]float64{10, 20, 30, 40, 50, 60, 70, 80, 90, 100}
	draw   = [10][5]float64{
		{28000, 38000, 49000, 60000, 66000},
		{36000, 51000, 68000, 83000, 92000},
		{45000, 66000, 85000, 107000, 118000},
		{55000, 79000, 105000, 131000, 141000},
		{64000, 94000, 125000, 154000, 167000},
		{75000, 109000, 140000, 176000, 192000},
		{83000, 122000, 160000, 199000, 214000},
		{94000, 137000, 180000, 214000, 236000},
		{104000, 152000, 200000, 247000, 277000},
		{113000, 167000, 214000, 277000, 300000},
	}
)

// charted is the cylinder that the chart is for.
var charted = Cylinder{100, 14.5, 48}

// wetted returns the area of a standing cylinder's wall and bottom that liquid touches [in2] at a filling, 1 being its limit, at which
// liquid stands at 0.8 of the height.
func (c Cylinder) wetted(filling float64) float64 {
	return math.Pi*c.DiameterIn*c.HeightIn*FillShare*filling + math.Pi*c.DiameterIn*c.DiameterIn/4
}

// DrawLimitW returns the largest lasting heat rate that one cylinder can feed as vapour [W].
//
//	filling  share of what the cylinder holds, 0..1, held outside
//	tC       temperature of the air around it [C]
//
// Below a tenth full it falls to zero with the filling; below 0 F (-17.8 C) straight to zero at the boiling point, -44 F; above 70 F
// (21.1 C) it is held. The 100 lb cylinder follows the chart; any other size is the chart at the same filling times the ratio of wetted
// areas: ours, good to 30 % at best. For a burst of minutes a cylinder gives more, from the warmth of its liquid and steel. Cylinders
// feeding side by side add.
//
// Source: [PROPANE-VAPOR].
func (c Cylinder) DrawLimitW(filling, tC float64) float64 {
	if !(filling > 0) || math.IsNaN(tC) {
		return 0
	}
	filling = math.Min(filling, 1)
	lb := filling * charted.Pounds
	tF := tC*9/5 + 32
	cold := 1.0
	if tF < drawF[0] {
		cold = math.Max(0, (tF-BoilingF)/(drawF[0]-BoilingF))
		tF = drawF[0]
	}
	tF = math.Min(tF, drawF[len(drawF)-1])
	col := 0
	for col < len(drawF)-2 && tF > drawF[col+1] {
		col++
	}
	across := (tF - drawF[col]) / (drawF[col+1] - drawF[col])
	at := func(row int) float64 { return draw[row][col] + (draw[row][col+1]-draw[row][col])*across }
	var btu float64
	if lb <= drawLb[0] {
		btu = at(0) * lb / drawLb[0]
	} else {
		row := 0
		for row < len(drawLb)-2 && lb > drawLb[row+1] {
			row++
		}
		btu = at(row) + (at(row+1)-at(row))*(lb-drawLb[row])/(drawLb[row+1]-drawLb[row])
	}
	return btu * cold * whPerBTU * c.wetted(filling) / charted.wetted(filling)
}

// FillingFor returns the least filling, 0..1, at which one cylinder can feed a heat rate [W] at a temperature [C], and false when not
// even a full one can. To a thousandth, never on the low side.
func (c Cylinder) FillingFor(heatW, tC float64) (float64, bool) {
	if !(heatW > 0) {
		return 0, true
	}
	if c.DrawLimitW(1, tC) < heatW {
		return 1, false
	}
	low, high := 0.0, 1.0
	for high-low > 0.0005 {
		mid := (low + high) / 2
		if c.DrawLimitW(mid, tC) >= heatW {
			high = mid
		} else {
			low = mid
		}
	}
	return high, true
}

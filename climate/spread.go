package climate

import "math"

// The days of a month scatter about the month's clearness. [BENDT] give the distribution of daily clearness for a mean: exponential
// between 0.05 and a clearest day that depends on the mean. Its spread is taken, its form is not: days follow a beta distribution on the
// same range with the same mean and standard deviation, which has fewer days at the very bottom, as measured years have.

// leastDay is the clearness of the darkest day, [BENDT].
const leastDay = 0.05

// clearestDay returns the clearness of the clearest day of a month with a mean clearness, 0.08 to 0.8. [BENDT] eq. 10.
func clearestDay(mean float64) float64 {
	d := mean - 0.75
	d2 := d * d
	d4 := d2 * d2
	return 0.6313 + 0.267*mean - 11.9*d4*d4
}

// bendt returns place and spread of [BENDT]'s distribution for a mean clearness, on a scale where the darkest day is 0 and the clearest
// 1: the mean, and the standard deviation.
func bendt(mean float64) (place, sd float64) {
	place = (mean - leastDay) / (clearestDay(mean) - leastDay)
	// The density is exp(g x) on 0 to 1; its mean 1/(1 - exp(-g)) - 1/g rises with g, so g is found by halving.
	low, high := -700.0, 700.0
	for range 100 {
		if g := (low + high) / 2; exponentialMean(g) < place {
			low = g
		} else {
			high = g
		}
	}
	return place, math.Sqrt(exponentialVariance((low + high) / 2))
}

// exponentialMean is the mean of the density exp(g x) on 0 to 1.
func exponentialMean(g float64) float64 {
	if math.Abs(g) < 1e-4 {
		return 0.5 + g/12
	}
	return -1/math.Expm1(-g) - 1/g
}

// exponentialVariance is the variance of the density exp(g x) on 0 to 1.
func exponentialVariance(g float64) float64 {
	if math.Abs(g) < 1e-2 {
		return (1 - g*g/20) / 12
	}
	s := math.Sinh(g / 2)
	return 1/(g*g) - 1/(4*s*s)
}

// The table of daily clearness by mean clearness and normal score.
const (
	meanFirst   = 0.08
	meanStep    = 0.01
	meanCount   = 73 // to 0.80
	scoreLast   = 4.5
	scoreStep   = 0.125
	scoreCount  = 2*scoreLast/scoreStep + 1
	angleSlices = 512
)

// days is a table of daily clearness: for each mean clearness, the clearness at each normal score.
type days struct {
	value [meanCount][int(scoreCount)]float64
}

// newDays fills the table. For a beta distribution with the angle t in x = sin² t the density is sin^(2a-1) t cos^(2b-1) t, which is
// summed over slices of the right angle and turned round by straight lines.
func newDays() *days {
	d := new(days)
	var logSin, logCos [angleSlices]float64
	for i := range angleSlices {
		s, c := math.Sincos((float64(i) + 0.5) * math.Pi / 2 / angleSlices)
		logSin[i], logCos[i] = math.Log(s), math.Log(c)
	}
	var shares [int(scoreCount)]float64
	for j := range shares {
		shares[j] = 0.5 * math.Erfc(-(float64(j)*scoreStep-scoreLast)/math.Sqrt2)
	}
	var below [angleSlices + 1]float64
	for i := range d.value {
		mean := meanFirst + float64(i)*meanStep
		top := clearestDay(mean)
		place, sd := bendt(mean)
		n := place*(1-place)/(sd*sd) - 1
		a, b := 2*place*n-1, 2*(1-place)*n-1
		for k := range angleSlices {
			below[k+1] = below[k] + math.Exp(a*logSin[k]+b*logCos[k])
		}
		k := 0
		for j, share := range shares {
			want := share * below[angleSlices]
			for k < angleSlices-1 && below[k+1] < want {
				k++
			}
			t := (float64(k) + (want-below[k])/(below[k+1]-below[k])) * math.Pi / 2 / angleSlices
			s := math.Sin(min(t, math.Pi/2))
			d.value[i][j] = leastDay + (top-leastDay)*s*s
		}
	}
	return d
}

// at returns the clearness of a day for a mean clearness and a normal score; both are held within the table.
func (d *days) at(mean, score float64) float64 {
	y := min(max((mean-meanFirst)/meanStep, 0), meanCount-1.001)
	x := min(max((score+scoreLast)/scoreStep, 0), scoreCount-1.001)
	i, j := int(y), int(x)
	y -= float64(i)
	x -= float64(j)
	return (1-y)*((1-x)*d.value[i][j]+x*d.value[i][j+1]) + y*((1-x)*d.value[i+1][j]+x*d.value[i+1][j+1])
}

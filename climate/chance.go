package climate

import "math"

// Random numbers are keyed, not drawn in turn: every number is a hash of what it is for (seed, member, place, date, purpose), so that a
// date has the same weather whatever range it is asked in, and rigs that are compared live through the same days. The hash is all
// integer arithmetic and the same on every platform; only the last bits of what is made of it may differ.

// mix is the finishing step of the SplitMix64 generator: every bit of x moves about half the bits of the result. Source: [STEELE].
func mix(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, the step of [STEELE]

// key hashes words to one.
func key(words ...uint64) uint64 {
	h := uint64(golden)
	for _, w := range words {
		h = mix(h ^ mix(w+golden))
	}
	return h
}

// Purposes of random numbers.
const (
	forClearness = iota + 1
	forTemperature
	forRange
	forHours
	forMonth
	forLevel
	forMonthLevel
	forTemperatureLevel
)

// uniform makes a number above 0 and below 1 of a hash.
func uniform(h uint64) float64 {
	return (float64(h>>12) + 0.5) / (1 << 52)
}

// normal makes a standard normal number of a hash.
func normal(h uint64) float64 {
	return quantile(uniform(h))
}

// held is a standard normal number kept within three standard deviations, for factors that must not run away.
func held(h uint64) float64 {
	return min(max(normal(h), -3), 3)
}

// quantile returns the standard normal number below which the share p of all lie, for p above 0 and below 1; within 1e-9 from -6 to 6.
// It is the inverse error function of the standard library.
func quantile(p float64) float64 {
	return -math.Sqrt2 * math.Erfcinv(2*p)
}

// A chain is a first-order autoregressive series written as a sum of the last independent normal numbers, so that any of its values can
// be had without those before. Its length is cut where the weight falls below 1e-5.
type chain struct {
	weights []float64 // of the day itself and the days before
}

// newChain returns the chain of a correlation from one day to the next, above 0 and below 1, of variance one.
func newChain(phi float64) chain {
	var w []float64
	sum := 0.0
	for v := 1.0; v > 1e-5; v *= phi {
		w = append(w, v)
		sum += v * v
	}
	for i := range w {
		w[i] /= math.Sqrt(sum)
	}
	return chain{weights: w}
}

// at returns the value of the chain at place i of independent numbers, which must hold as many numbers before it.
func (c chain) at(independent []float64, i int) float64 {
	sum := 0.0
	last := independent[i-len(c.weights)+1 : i+1]
	for k, w := range c.weights {
		sum += w * last[len(last)-1-k]
	}
	return sum
}

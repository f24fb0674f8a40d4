// Package near compares numbers in tests, and is the only place that does. Every comparison names its tolerance and the reason
// for it, so that a reader can judge whether the check means anything.
package near

import (
	"math"
	"testing"
)

// Abs fails the test when got is farther from want than tol, or either is not finite.
func Abs(t testing.TB, what string, got, want, tol float64, why string) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= tol) {
		t.Errorf("%s: got %.12g, want %.12g, off by %.3g, allowed %.3g (%s)", what, got, want, d, tol, why)
	}
}

// Rel fails the test when got is farther from want than the share tol of want's size, or either is not finite.
func Rel(t testing.TB, what string, got, want, tol float64, why string) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g, off by %.3g of it, allowed %.3g (%s)", what, got, want, d/math.Abs(want), tol, why)
	}
}

// Within fails the test when got lies outside [low, high] or is not finite.
func Within(t testing.TB, what string, got, low, high float64, why string) {
	t.Helper()
	if !(got >= low && got <= high) {
		t.Errorf("%s: got %.12g, want %.12g to %.12g (%s)", what, got, low, high, why)
	}
}

// Printed fails the test when got, rounded as a source prints it, is not the printed value: half a unit of the last of the given
// number of decimals is allowed.
func Printed(t testing.TB, what string, got, printed float64, decimals int, source string) {
	t.Helper()
	Abs(t, what, got, printed, 0.5*math.Pow(10, -float64(decimals))*(1+1e-9), "half the last digit printed in "+source)
}

// Worst keeps the largest deviation met over many comparisons, for tests and tools that report one figure per column.
type Worst struct {
	What  string
	Count int
	Off   float64
	Place string
}

// See takes one comparison into account. A value that is not finite counts as infinitely far off.
func (w *Worst) See(got, want float64, place string) {
	w.Count++
	d := math.Abs(got - want)
	if math.IsNaN(d) {
		d = math.Inf(1)
	}
	if d > w.Off || w.Count == 1 {
		w.Off, w.Place = d, place
	}
}

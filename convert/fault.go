package convert

import (
	"errors"
	"fmt"
	"math"
)

// Unlimited stands for no limit in a result that would otherwise be infinite. It is finite, so that sums and JSON stay sound.
const Unlimited = math.MaxFloat64

// faults collects what is wrong with one device's parameters, so that all of it is reported at once.
type faults struct {
	place string
	found []error
}

// within notes a fault when v is outside [low, high] or not finite.
func (f *faults) within(name string, v, low, high float64, unit string) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		f.add("%s is not a finite number", name)
	case v < low:
		f.add("%s %s below limit %s", name, withUnit(v, unit), withUnit(low, unit))
	case v > high:
		f.add("%s %s above limit %s", name, withUnit(v, unit), withUnit(high, unit))
	}
}

// optional is within, but lets zero through as "not given".
func (f *faults) optional(name string, v, low, high float64, unit string) {
	if v != 0 {
		f.within(name, v, low, high, unit)
	}
}

func (f *faults) add(format string, args ...any) {
	f.found = append(f.found, fmt.Errorf(f.place+": "+format, args...))
}

// withUnit writes a figure of a message.
func withUnit(v float64, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%.6g", v)
	}
	return fmt.Sprintf("%.6g %s", v, unit)
}

func (f *faults) err() error { return errors.Join(f.found...) }

// placed names a device for its messages: kind and, when it has one, its name in quotes.
func placed(kind, name string) string {
	if name == "" {
		return kind
	}
	return fmt.Sprintf("%s %q", kind, name)
}

// positive returns v when it is finite and above zero, and zero otherwise: methods take what is no number for nothing at all.
func positive(v float64) float64 {
	if v > 0 && v <= math.MaxFloat64 {
		return v
	}
	return 0
}

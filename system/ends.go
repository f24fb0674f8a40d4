package system

import (
	"math"

	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// usualSpread is why an estimate without ends has some.
const usualSpread = "its ends are the usual spread of an estimate"

// ends gives every estimate the ends it lacks.
func (f *filler) ends(path string, v *rig.Value) {
	if v.State != figure.About || v.Low != 0 || v.High != 0 {
		return
	}
	relative, absolute := catalogue.Spread(v.Quantity.Kind)
	v.Why = usualSpread
	half := relative*math.Abs(v.Quantity.Base) + absolute
	v.Low, v.High = v.Quantity.Base-half, v.Quantity.Base+half
	if v.Quantity.Kind == quantity.Share {
		v.Low, v.High = math.Max(0, v.Low), math.Min(1, v.High)
	}
	if low, high, limited := rig.LimitsOf(path, v.Quantity.Kind); limited {
		v.Low, v.High = math.Max(v.Low, math.Min(low, v.Quantity.Base)), math.Min(v.High, math.Max(high, v.Quantity.Base))
	}
	if v.At.Path == "" {
		v.At.Path = path
	}
}

// AsWritten returns what a document says of a value of its completed form: nothing where the program filled it in, and an estimate without the ends that it
// was given.
func AsWritten(v rig.Value) string {
	if v.State == figure.Default || v.State == figure.Absent {
		return ""
	}
	if v.Why == usualSpread {
		v.Low, v.High = 0, 0
	}
	return v.Text()
}

package system

import (
	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// fromPower fills the figures of a module of which nothing but the power is said, and tells whether it did: as unknowns over all that such a
// power is sold with, so that an answer can be given and no rule passes on them. What stands for them fits together: the usual voltage of
// that power, and the current that it takes.
func (f *filler) fromPower(m *rig.Module, p string) bool {
	if m.Voc.Given() || m.Vmp.Given() || m.Imp.Given() || m.Isc.Given() || !m.Power.Given() || !(m.Power.Quantity.Base > 0) {
		return false
	}
	watts, voc := m.Power.Quantity.Base, catalogue.VocOfPower(m.Power.Quantity.Base)
	vmp, isc := catalogue.VmpOfVoc, catalogue.IscOfImp
	unknown := func(v *rig.Value, key string, t catalogue.Typical) {
		v.State = figure.Unknown
		f.value(v, p+key, t)
		v.Quantity.Base = t.Value
	}
	unknown(&m.Voc, "voc", voc)
	volts := catalogue.Typical{Kind: quantity.Voltage, Value: voc.Value * vmp.Value, Low: voc.Low * vmp.Low, High: voc.High * vmp.High, Why: vmp.Why}
	unknown(&m.Vmp, "vmp", volts)
	amps := catalogue.Typical{Kind: quantity.Current, Value: watts / volts.Value, Low: watts / volts.High, High: watts / volts.Low, Why: "power over voltage at maximum power"}
	unknown(&m.Imp, "imp", amps)
	unknown(&m.Isc, "isc", catalogue.Typical{Kind: quantity.Current, Value: amps.Value * isc.Value, Low: amps.Low * isc.Low, High: amps.High * isc.High, Why: isc.Why})
	return true
}

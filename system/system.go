// Package system turns a rig's document into models that only know floats. This is the one place where defaults are applied, guesses
// become numbers and parts of the document become models of the science packages. Complete says what the document means with everything
// filled in; Assemble makes the System of one draw.
package system

import (
	"campwright/battery"
	"campwright/convert"
	"campwright/gas"
	"campwright/pv"
)

// System is a rig as numbers, for one draw of its guesses. It is safe to read from any goroutine.
type System struct {
	Name        string
	Arrays      []Array
	Controllers []Controller
	Bank        Bank
	Inverters   []Inverter
	Supply      Supply
	Loads       []Load
	Burns       []Burn
	Propane     Propane
	Water       Water
	People      float64
	Floor       float64 // share of the bank's capacity not to go below
	DarkAim     float64 // chance of a night below it that is allowed
}

// Array is one array on its controller.
type Array struct {
	Name       string
	Controller int // index into Controllers
	Unit       pv.Module
	Table      *pv.PowerTable // of one module
	Series     float64        // modules in a string
	Strings    float64
	Tilt       float64 // [deg] from level
	Faces      float64 // [deg] clockwise from true north; NaN when it faces the equator
	OnRig      float64 // [deg] clockwise from the rig's front, for one that turns with the rig; NaN for one that does not
	Cell       pv.CellTemperature
	Clean      float64 // share of light that dirt lets through
	Keeps      float64 // share of current left after mismatch, ageing and label tolerance
	Sky        string  // class of shade above it, for one set out apart from the rig; empty for the site's own
	Beam       float64 // share of beam light that things on the roof let through
	LoopOhm    float64 // cable from the array to its controller, there and back
	OpenRatio  float64 // open-circuit voltage over the voltage at maximum power, at standard test conditions
	RatedW     float64 // of the whole array
}

// Controller is one charge controller with its settings.
type Controller struct {
	Name string
	Unit convert.Controller
	Set  convert.Setpoints
}

// Bank is the house battery with what hangs on it.
type Bank struct {
	Model        battery.Model
	CapacityAh   float64
	StartSoC     float64
	InverterOffV float64
	LoadsOffV    float64
	OpensV       float64
	Acid         bool    // lead-acid, which freezes when it is low
	Inside       bool    // lives in the warm part
	RoomC        float64 // what is kept there [°C]
	AboveC       float64 // how much warmer its bay is than the air
	LagH         float64 // time constant of its temperature [h]
	LossWK       float64 // heat lost to its bay for each kelvin [W/K]
	HeaterW      float64
	HeatsBelowC  float64
	ColdChargeC  float64
}

// Inverter is one inverter with the hours it is on.
type Inverter struct {
	Name   string
	Unit   convert.Inverter
	On     func(minute int) bool // by the minute of the civil day
	Used   bool                  // on only while something asks for AC
	Parked bool                  // on even when nobody is there: the owner says always
}

// Bus says which circuit a load hangs on.
type Bus uint8

// The circuits.
const (
	DC Bus = iota
	AC
)

// Load is one user of electricity.
type Load struct {
	Name     string
	Part     string // what of the appliance it is: empty, "blower", "control", "standby"
	Bus      Bus
	Inverter int       // for AC: index into Inverters
	Amps     bool      // rated in amps: its power follows the bus voltage
	Day      []float64 // mean over each step of the civil day [W], or [A] with Amps
	ByAir    *ByAir    // share of Day by outside air temperature; nil for one that does not follow it
	RunW     float64   // while it runs, all of them together [W]; zero for one that never stops
	Parked   bool      // draws even when nobody is there
	When     Feed      // whether it depends on AC from outside
}

// Busy returns the share of a step in which the load runs, when its mean over the step is w [W].
func (l *Load) Busy(w float64) float64 {
	switch {
	case w <= 0:
		return 0
	case l.RunW <= w:
		return 1
	}
	return w / l.RunW
}

// Feed says whether a load or a burner depends on AC coming in from shore or generator.
type Feed uint8

// The feeds.
const (
	Ever    Feed = iota // runs whatever feeds the rig
	OnAC                // only while AC comes in
	OffGrid             // only while none comes in
)

// Holds tells whether something with this feed runs while AC comes in or not.
func (f Feed) Holds(acIn bool) bool {
	return f == Ever || f == OnAC && acIn || f == OffGrid && !acIn
}

// Burn is one user of propane.
type Burn struct {
	Name  string
	Day   []float64 // mean heat released over each step of the civil day [W]
	ByAir *ByAir
	When  Feed
}

// Propane is what is carried and the models it is used with.
type Propane struct {
	KgFull  float64 // usable, all vessels full; zero when there is none
	StartKg float64
	KgPerWh float64 // propane burned for each watt-hour of heat
	Each    float64 // usable propane in one full vessel [kg]
	Vessel  gas.Cylinder
	Boils   bool // whether Vessel is a size whose cold draw is known
}

// Water is what is carried.
type Water struct {
	FreshL, GreyL, BlackL                float64 // tanks; zero when there is none
	FreshPerDay, GreyPerDay, BlackPerDay float64
}

// Air temperatures that ByAir knows [°C]; colder and hotter air counts as the end.
const (
	coldestAir = -50
	hottestAir = 60
)

// ByAir is a share that follows the outside air temperature, one value for each degree.
type ByAir [hottestAir - coldestAir + 1]float64

// At returns the share at an air temperature [°C], on straight lines between whole degrees.
func (b *ByAir) At(airC float64) float64 {
	x := airC - coldestAir
	if !(x > 0) {
		return b[0]
	}
	i := int(x)
	if i >= hottestAir-coldestAir {
		return b[hottestAir-coldestAir]
	}
	f := x - float64(i)
	return b[i] + f*(b[i+1]-b[i])
}

// NewByAir tabulates a function of the air temperature.
func NewByAir(share func(airC float64) float64) *ByAir {
	b := new(ByAir)
	for i := range b {
		b[i] = share(float64(i + coldestAir))
	}
	return b
}

// Temperature returns the temperature that the bank's bay tends to [°C] at an outside air temperature. In a rig that is lived in, a bank
// inside the warm part is as warm as the room; in a parked one nothing warms it.
func (b *Bank) Temperature(airC float64, lives bool) float64 {
	if b.Inside && lives {
		return max(b.RoomC, airC+roomAboveC)
	}
	return airC + b.AboveC
}

// Best returns the best power of one of the array's modules [W] and its voltage [V] under an effective irradiance [W/m²] and cell
// temperature [°C], out of the module's table.
func (a *Array) Best(effective, cellC float64) (power, volts float64) {
	return a.Table.Look(effective, cellC)
}

package system

import (
	"fmt"
	"math"

	"campwright/catalogue"
	"campwright/figure"
	"campwright/gas"
	"campwright/load"
	"campwright/quantity"
	"campwright/rig"
)

// Fixed settings of cold boxes and heaters that no document asks for. Common practice, no source.
const (
	fridgeInsideC  = 3  // mean of fresh and frozen food compartments, for how the duty follows the room
	fridgeKnownAtC = 25 // air at which a refrigerator's duty is known
	roomAboveC     = 3  // how much warmer a rig is inside than the air, lived in and unheated
	purgeMin       = 1
	cyclesPerH     = 3
	hotWaterC      = 55
	coldWaterC     = 12
	tankLossWK     = 1.2
	heaterShare    = 0.75 // of the propane's heat that reaches the water
	livedC         = 12   // who lives aboard without a furnace in the file keeps it above this by some means
	coolestRoomC   = 10   // no roof air conditioner keeps less
	coolingPerWatt = 2.8  // heat removed for each watt of a roof air conditioner
)

// appliances turns every appliance into its electric loads and its propane.
func (a *assembler) appliances() {
	for i := range a.doc.Appliances {
		if err := a.appliance(&a.doc.Appliances[i]); err != nil {
			a.fail(fmt.Errorf("appliance %q: %w", a.doc.Appliances[i].Name, err))
		}
	}
}

func (a *assembler) appliance(r *rig.Appliance) error {
	if r.Standby.Known() && a.of(r.Standby) > 0 {
		if err := a.steady(r, "standby", busOf(r), r.Standby, true); err != nil {
			return err
		}
	}
	if r.Runs == "off" {
		return nil
	}
	switch r.Kind {
	case "furnace":
		return a.furnace(r)
	case "absorption refrigerator":
		return a.absorption(r)
	case "compressor refrigerator":
		return a.compressor(r)
	case "water heater":
		return a.waterHeater(r)
	case "air conditioner":
		return a.airConditioner(r)
	}
	return a.plainLoad(r)
}

// busOf returns the circuit that feeds an appliance's electricity.
func busOf(r *rig.Appliance) Bus {
	if r.Runs == "ac" {
		return AC
	}
	return DC
}

// day returns the shares of each step of the civil day for which an appliance is scheduled.
func (a *assembler) day(r *rig.Appliance, times float64) ([]float64, error) {
	p := load.ScheduleParams{When: load.Always}
	if r.PerDay.Known() {
		p.PerDayMin = 60 * a.of(r.PerDay)
		if p.PerDayMin <= 0 {
			return make([]float64, load.Steps(a.stepMin)), nil
		}
	}
	if spans := spansOf(r.On); len(r.On.Spans) > 0 || r.On.Word == "night" || r.On.Word == "day" {
		p.When = load.Hours
		for _, s := range spans {
			p.Spans = append(p.Spans, load.Span{From: float64(s.From), To: float64(s.Until)})
		}
	} else if r.On.Word == "never" {
		p.When = load.Never
	}
	s, err := load.NewSchedule(p)
	if err != nil {
		return nil, err
	}
	out := make([]float64, load.Steps(a.stepMin))
	return out, s.AddShares(out, a.stepMin, load.Sun{Down: true}, times)
}

// add puts an electric load into the system. An AC load without an inverter is left to hookups.
func (a *assembler) add(l Load) {
	if l.Bus == AC {
		l.Inverter = a.inverterOf(l.Name)
	}
	a.sys.Loads = append(a.sys.Loads, l)
}

// inverterOf returns the inverter that feeds an appliance: the one it names, or the first; -1 when there is none.
func (a *assembler) inverterOf(appliance string) int {
	if len(a.doc.Inverters) == 0 {
		return -1
	}
	for i := range a.doc.Appliances {
		if r := &a.doc.Appliances[i]; r.Name == appliance {
			for k := range a.doc.Inverters {
				if a.doc.Inverters[k].Name == r.Inverter && r.Inverter != "" {
					return k
				}
			}
		}
	}
	return 0
}

// amps tells whether a value is a current on a DC circuit, whose power follows the voltage.
func amps(v rig.Value, bus Bus) bool { return bus == DC && v.Quantity.Kind == quantity.Current }

// rate returns what a value stands for on a circuit: watts, or amps where amps says so. A current on AC is at the outlet's voltage.
func (a *assembler) rate(v rig.Value, bus Bus) float64 {
	if bus == AC && v.Quantity.Kind == quantity.Current {
		return a.of(v) * outletV(a.doc.Book)
	}
	return a.of(v)
}

// outletV returns the voltage of an AC outlet where a rule book applies.
func outletV(book string) float64 {
	if book == "au-nz" {
		return 230
	}
	return 120
}

// steady adds a load that draws all day and night.
func (a *assembler) steady(r *rig.Appliance, part string, bus Bus, v rig.Value, parked bool) error {
	day, rate := make([]float64, load.Steps(a.stepMin)), a.rate(v, bus)*a.of(r.Count)
	for i := range day {
		day[i] = rate
	}
	a.add(Load{Name: r.Name, Part: part, Bus: bus, Amps: amps(v, bus), Day: day, Parked: parked})
	return nil
}

func (a *assembler) plainLoad(r *rig.Appliance) error {
	if r.Runs == "propane" {
		day, err := a.day(r, a.of(r.Propane.Rate)*a.of(r.Propane.Duty)*a.of(r.Count))
		if err != nil {
			return err
		}
		a.sys.Burns = append(a.sys.Burns, Burn{Name: r.Name, Day: day})
		if r.Control.Known() {
			return a.steady(r, "control", DC, r.Control, false)
		}
		return nil
	}
	bus := busOf(r)
	day, err := a.day(r, a.rate(r.Power.Rate, bus)*a.of(r.Power.Duty)*a.of(r.Count))
	if err != nil {
		return err
	}
	a.add(Load{Name: r.Name, Bus: bus, Amps: amps(r.Power.Rate, bus), Day: day, RunW: a.rate(r.Power.Rate, bus) * a.of(r.Count), When: acFeed(r), Parked: r.On.Word == "always" && r.On.State >= figure.Plain && !r.PerDay.Known()})
	return nil
}

// furnaceC returns what the furnace keeps [°C], the mean of day and night for one that is set back, and without one the least that people aboard put
// up with.
func (a *assembler) furnaceC() float64 {
	keeps := float64(livedC)
	for i := range a.doc.Appliances {
		if r := &a.doc.Appliances[i]; r.Kind == "furnace" && r.Runs != "off" {
			keeps = a.of(r.Keeps)
			if night := a.setBack(r); night != nil {
				keeps += meanOf(night) * (a.of(r.KeepsNight) - keeps)
			}
		}
	}
	return keeps
}

// room returns the air inside at an outside temperature [°C], for a rig that is lived in: what the furnace keeps, or somewhat warmer
// than outside.
func (a *assembler) room() func(airC float64) float64 {
	keeps := a.furnaceC()
	return func(airC float64) float64 { return math.Max(keeps, airC+roomAboveC) }
}

// byRoom tabulates a cooler's running share against outside air, through the air of the room.
func (a *assembler) byRoom(c load.Cooler) *ByAir {
	room := a.room()
	return NewByAir(func(airC float64) float64 {
		duty, _ := c.Duty(room(airC))
		return duty
	})
}

func (a *assembler) cooler(duty rig.Value) (load.Cooler, error) {
	return load.NewCooler(load.CoolerParams{InsideC: fridgeInsideC, ReferenceC: fridgeKnownAtC, Duty: a.of(duty)})
}

func (a *assembler) compressor(r *rig.Appliance) error {
	c, err := a.cooler(r.Power.Duty)
	if err != nil {
		return err
	}
	bus := busOf(r)
	day, err := a.day(r, a.rate(r.Power.Rate, bus)*a.of(r.Count))
	if err != nil {
		return err
	}
	a.add(Load{Name: r.Name, Bus: bus, Amps: amps(r.Power.Rate, bus), Day: day, RunW: a.rate(r.Power.Rate, bus) * a.of(r.Count), ByAir: a.byRoom(c), When: acFeed(r)})
	return nil
}

// acFeed returns whether an appliance on AC waits for AC from outside: one that its owner keeps off the inverter does.
func acFeed(r *rig.Appliance) Feed {
	if r.Runs == "ac" && r.TakesAC == "shore only" {
		return OnAC
	}
	return Ever
}

// takesAC returns how an appliance that can burn propane or take AC is fed by itself: on propane with no AC in sight, and on AC when there
// is some; an appliance that also takes the inverter's AC is on AC always, as long as there is an inverter.
func (a *assembler) takesAC(r *rig.Appliance) (onGas, onAC Feed, both bool) {
	if r.Runs != "propane" || r.TakesAC == "never" || r.TakesAC == "" {
		return Ever, Ever, false
	}
	if r.TakesAC == "always" && len(a.doc.Inverters) > 0 {
		return OffGrid, Ever, true
	}
	return OffGrid, OnAC, true
}

func (a *assembler) absorption(r *rig.Appliance) error {
	onGas, onAC, both := a.takesAC(r)
	if !both {
		return a.coldBox(r, r.Runs, acFeed(r))
	}
	if onAC == OnAC {
		if err := a.coldBox(r, "propane", onGas); err != nil {
			return err
		}
	}
	if err := a.coldBox(r, "ac", onAC); err != nil {
		return err
	}
	return nil
}

// coldBox adds an absorption refrigerator on one of its feeds, with its control board.
func (a *assembler) coldBox(r *rig.Appliance, runs string, when Feed) error {
	draw := r.Propane
	if runs != "propane" {
		draw = r.Electric
	}
	c, err := a.cooler(draw.Duty)
	if err != nil {
		return err
	}
	bus := DC
	if runs == "ac" {
		bus = AC
	}
	day, err := a.day(r, a.rate(draw.Rate, bus))
	if err != nil {
		return err
	}
	if runs == "propane" {
		a.sys.Burns = append(a.sys.Burns, Burn{Name: r.Name, Day: day, ByAir: a.byRoom(c), When: when})
	} else {
		a.add(Load{Name: r.Name, Bus: bus, Amps: amps(draw.Rate, bus), Day: day, RunW: a.rate(draw.Rate, bus), ByAir: a.byRoom(c), When: when})
	}
	board, rate := make([]float64, load.Steps(a.stepMin)), a.rate(r.Control, DC)
	for i := range board {
		board[i] = rate
	}
	a.add(Load{Name: r.Name, Part: "control", Bus: DC, Amps: amps(r.Control, DC), Day: board, When: when})
	return nil
}

func (a *assembler) waterHeater(r *rig.Appliance) error {
	draw, share := r.Propane, heaterShare
	if r.Runs == "ac" || r.Runs == "dc" {
		draw, share = r.Electric, 1
	}
	rate := a.rate(draw.Rate, busOf(r))
	inWatts := rate
	if amps(draw.Rate, busOf(r)) {
		inWatts = rate * a.nominalV()
	}
	h, err := load.NewWaterHeater(load.WaterHeaterParams{KeepsC: hotWaterC, InletC: coldWaterC, LossWK: tankLossWK, InputW: inWatts, Efficiency: share})
	if err != nil {
		return err
	}
	day, err := a.day(r, rate)
	if err != nil {
		return err
	}
	var follows *ByAir
	if !r.PerDay.Known() {
		litres := catalogue.HotWater.Value * a.of(a.doc.People)
		room, hours := a.room(), meanOf(day)/rate*24
		follows = NewByAir(func(airC float64) float64 {
			need, _ := h.HoursPerDay(litres, room(airC))
			return math.Min(1, need/math.Max(hours, 1e-9))
		})
	}
	if r.Runs != "propane" {
		a.add(Load{Name: r.Name, Bus: busOf(r), Amps: amps(draw.Rate, busOf(r)), Day: day, RunW: rate, ByAir: follows, When: acFeed(r)})
		return nil
	}
	a.sys.Burns = append(a.sys.Burns, Burn{Name: r.Name, Day: day, ByAir: follows})
	board, watts := make([]float64, len(day)), a.watts(r.Control)
	for i := range day {
		board[i] = day[i] / rate * watts
	}
	a.add(Load{Name: r.Name, Part: "control", Day: board, ByAir: follows})
	return nil
}

func meanOf(day []float64) float64 {
	sum := 0.0
	for _, v := range day {
		sum += v
	}
	return sum / float64(len(day))
}

func (a *assembler) airConditioner(r *rig.Appliance) error {
	rate := a.rate(r.Power.Rate, busOf(r))
	c, err := load.NewAirConditioner(load.AirConditionerParams{
		KeepsC: math.Max(coolestRoomC, a.of(r.Keeps)), HeatLossWK: a.of(r.HeatLoss), FreeHeatW: catalogue.FreeHeatPerPerson.Value * a.of(a.doc.People),
		CoolingW: coolingPerWatt * rate, RunningW: rate,
	})
	if err != nil {
		return err
	}
	day, err := a.day(r, rate*a.of(r.Count))
	if err != nil {
		return err
	}
	a.add(Load{Name: r.Name, Bus: busOf(r), Day: day, RunW: rate * a.of(r.Count), When: acFeed(r),
		ByAir: NewByAir(func(airC float64) float64 { return c.MeanW(airC, 0) / rate })})
	return nil
}

// usablePropane is the share of a full vessel that can be drawn before the flame starves. Common practice, no source.
const usablePropane = 0.98

func (a *assembler) stores() {
	s := a.doc.Stores
	if each := s.Propane.Each; each.Given() {
		kg := a.of(each)
		if each.Quantity.Kind == quantity.Volume {
			kg *= gas.KgPerL
		}
		store, err := gas.NewStore(gas.StoreParams{Count: int(math.Round(math.Max(1, a.of(s.Propane.Count)))), Kg: kg, UsableShare: usablePropane})
		a.fail(err)
		a.sys.Propane = Propane{KgFull: store.KgFull(), StartKg: store.KgFull() * a.of(s.PropaneAt), KgPerWh: 1 / gas.WhPerKg, Each: kg * usablePropane}
		a.sys.Propane.Vessel, a.sys.Propane.Boils = vesselOf(kg)
	}
	people := a.of(a.doc.People)
	a.sys.Water = Water{
		FreshL: given(s.Fresh), GreyL: given(s.Grey), BlackL: given(s.Black),
		FreshPerDay: people * a.of(s.WaterUse), GreyPerDay: people * a.of(s.WaterUse) * a.of(s.GreyShare), BlackPerDay: people * a.of(s.BlackUse),
	}
}

// vesselOf returns the usual portable cylinder that holds about so much propane [kg]; false for a size that is none, such as a fixed tank.
func vesselOf(kg float64) (gas.Cylinder, bool) {
	const kgPerLb = 0.45359237
	for _, c := range gas.Cylinders() {
		if math.Abs(kg-c.Pounds*kgPerLb) < 0.15*kg {
			return c, true
		}
	}
	return gas.Cylinder{}, false
}

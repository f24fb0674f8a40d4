package trip

import (
	"fmt"
	"testing"
	"time"

	"campwright/quantity"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
	"campwright/weather"
)

// fullRig is a rig of two arrays and twenty appliances, written here so that the benchmark does not move with the examples.
func fullRig() rig.Rig {
	v := func(base float64, kind quantity.Kind) rig.Value {
		return rig.Value{Quantity: quantity.Quantity{Base: base, Kind: kind}, State: 4}
	}
	doc := rig.Rig{Version: 1, Name: "benchmark", Kind: "fifth wheel"}
	doc.Modules = []rig.Module{{Name: "200", Power: v(200, quantity.Power), Voc: v(24.3, quantity.Voltage), Isc: v(10.4, quantity.Current), Vmp: v(20.4, quantity.Voltage), Imp: v(9.8, quantity.Current)}}
	doc.Controllers = []rig.Controller{{Name: "a", Survives: v(100, quantity.Voltage), Output: v(30, quantity.Current)}, {Name: "b", Survives: v(150, quantity.Voltage), Output: v(60, quantity.Current)}}
	doc.Arrays = []rig.Array{
		{Name: "front", Module: "200", Controller: "a", Strings: v(2, quantity.Count)},
		{Name: "rear", Module: "200", Controller: "b", InSeries: v(3, quantity.Count), Tilt: v(20, quantity.Angle), Faces: v(170, quantity.Angle)},
	}
	doc.Bank = &rig.Bank{Chemistry: "LFP", Blocks: v(4, quantity.Count), Block: rig.Block{Capacity: v(100, quantity.Charge)}}
	doc.Inverters = []rig.Inverter{{Name: "main", Power: v(2000, quantity.Power)}}
	for i := range 17 {
		on := rig.Hours{Spans: []rig.Span{{From: (i * 71) % 1440, Until: (i*71 + 200) % 1440}}, State: 4}
		a := rig.Appliance{Name: fmt.Sprint("load ", i), Runs: "dc", Power: rig.Draw{Rate: v(5+float64(i), quantity.Power)}, On: on}
		if i%3 == 0 {
			a.Runs = "ac"
		}
		doc.Appliances = append(doc.Appliances, a)
	}
	doc.Appliances = append(doc.Appliances,
		rig.Appliance{Name: "furnace", Kind: "furnace", Runs: "propane"},
		rig.Appliance{Name: "cold", Kind: "compressor refrigerator", Runs: "dc"},
		rig.Appliance{Name: "gas cold", Kind: "absorption refrigerator", Runs: "propane"})
	doc.Stores = &rig.Stores{Propane: rig.Cylinders{Count: v(2, quantity.Count), Each: v(13.6, quantity.Mass)}}
	return doc
}

// yearCase prepares a year of the full rig on the bundled invented weather.
func yearCase(tb testing.TB, stepMin int) (*system.System, *Course, Weather) {
	tb.Helper()
	doc, gaps := system.Complete(fullRig())
	if len(gaps) > 0 {
		tb.Fatal(gaps)
	}
	sys, err := system.Assemble(&doc, system.Draw{}, stepMin)
	if err != nil {
		tb.Fatal(err)
	}
	invented := weather.Invented()
	site := Site{Name: "invented", Place: sun.Place{Latitude: invented.Site.Latitude, Longitude: invented.Site.Longitude, Elevation: invented.Site.ElevationM},
		Zone: time.FixedZone("invented", int(3600*invented.Site.UTCOffsetH)), Nights: 365}
	c, err := newCourse(time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), []Site{site}, stepMin)
	if err != nil {
		tb.Fatal(err)
	}
	w, err := inventedYear(tb, stepMin).along(c)
	if err != nil {
		tb.Fatal(err)
	}
	return sys, c, w
}

func inventedYear(tb testing.TB, stepMin int) Year {
	tb.Helper()
	cols, err := weather.Invented().Columns(stepMin)
	if err != nil {
		tb.Fatal(err)
	}
	return Year{Words: "invented", Start: cols.Start, StepMin: stepMin, Weather: Weather{GHI: cols.GHI, DNI: cols.DNI, DHI: cols.DHI, AirC: cols.AirC, WindMS: cols.WindMS}}
}

// BenchmarkYear plays a year of the full rig at 5 minutes: two arrays, twenty appliances, geometry shared, array power out of tables. "answer"
// is the run that answers rest on; "booked" also books every watt and every appliance.
func BenchmarkYear(b *testing.B) {
	sys, c, w := yearCase(b, 5)
	planes, err := newPlanes(sys, c)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("answer", func(b *testing.B) {
		work := &worker{f: &Forecast{course: c}}
		work.grow(sys)
		fast := newSwift(sys, c, newSchedule(sys, c), true)
		out := outcome{lows: make([]float32, len(c.Days)), gas: make([]float32, len(c.Days))}
		pot, air := make([]float32, c.N), make([]float32, c.N)
		for i, t := range w.AirC {
			air[i] = float32(t)
		}
		skies := skiesOf(c)
		b.ReportAllocs()
		for b.Loop() {
			lightOn(sys, c, w, planes, skies, work.offers)
			work.potential(sys, pot, nil)
			fast.run(pot, nil, air, &out)
		}
	})
	b.Run("booked", func(b *testing.B) {
		r := newRunner(sys, c, true)
		skies := skiesOf(c)
		b.ReportAllocs()
		for b.Loop() {
			lightOn(sys, c, w, planes, skies, r.offers)
			r.run(w)
		}
	})
}

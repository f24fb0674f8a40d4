package convert

import "testing"

// Results on 2 shared cores, go1.26.8, by go test -run '^$' -bench . ./convert; the best of three runs, none allocates:
//
//	Deliver/tracking    11 ns   budget 20 ns
//	Deliver/limited     14 ns   budget 20 ns
//	Deliver/dark         9 ns
//	Deliver/held       190 ns   an array outside the window, its current estimated
//	Throttle            10 ns
//	InverterSupply      14 ns
//	SolveLine/runs      23 ns
//	SolveLine/cycles   620 ns
//	ShareHookup         30 ns

var (
	sinkOutput Output
	sinkSupply ACSupply
	sinkPoint  LinePoint
	sinkShare  HookupShare
)

func benchController(b *testing.B) Controller {
	b.Helper()
	c, err := NewController(ControllerParams{Kind: StepDown, SurvivesV: 100, HeadroomV: 1, StartV: 5, OutputA: 50, PowerW: 650, BankV: 12.8,
		Peak: 0.97, Curve: TypicalCurve()})
	if err != nil {
		b.Fatal(err)
	}
	return c
}

func BenchmarkDeliver(b *testing.B) {
	c := benchController(b)
	for _, k := range []struct {
		name string
		in   Input
	}{
		{"tracking", Input{MPPW: 400, MPPV: 36, OpenV: 44, BusV: 13.3}},
		{"limited", Input{MPPW: 900, MPPV: 36, OpenV: 44, BusV: 13.3}},
		{"dark", Input{BusV: 13.3}},
		{"held", Input{MPPW: 90, MPPV: 13.5, OpenV: 18, BusV: 14.2, Ran: true}},
	} {
		b.Run(k.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkOutput = c.Deliver(k.in)
			}
		})
	}
}

func BenchmarkThrottle(b *testing.B) {
	c := benchController(b)
	out := c.Deliver(Input{MPPW: 400, MPPV: 36, OpenV: 44, BusV: 13.3})
	b.ReportAllocs()
	for b.Loop() {
		sinkOutput = c.Throttle(out, 150)
	}
}

func BenchmarkInverterSupply(b *testing.B) {
	v, err := NewInverter(InverterParams{RatedW: 2000, IdleW: 22, Peak: 0.92, CutOffV: 11})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		sinkSupply = v.Supply(ACDemand{LoadW: 640, BusV: 12.9, On: true, Was: InverterOn})
	}
}

func BenchmarkSolveLine(b *testing.B) {
	u, err := NewDCDC(DCDCParams{OutputA: 40, BankV: 13.6, Peak: 0.9, Curve: TypicalCurve(), CutsOutV: 12, RampS: 5, OffS: 20})
	if err != nil {
		b.Fatal(err)
	}
	for _, k := range []struct {
		name string
		ohms float64
		want LineState
	}{{"runs", 0.02, Runs}, {"cycles", 0.1, Cycles}} {
		b.Run(k.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkPoint = SolveLine(&u, LineInput{SourceV: 13.8, LoopOhm: k.ohms, BusV: 13.4, AskW: Unlimited, EngineRuns: true})
			}
			if sinkPoint.State != k.want {
				b.Fatalf("%v, want %v", sinkPoint.State, k.want)
			}
		})
	}
}

func BenchmarkShareHookup(b *testing.B) {
	s, _ := ServiceNamed("50 A")
	b.ReportAllocs()
	for b.Loop() {
		sinkShare = ShareHookup(Hookup{Service: s, LimitA: 45, LoadVA: [2]float64{3000, 6200}, ChargerVA: 1500, MakeUpVA: [2]float64{2000, 0}})
	}
}

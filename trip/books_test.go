package trip

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// TestBooksClose holds the two sides of the ledger against each other at every step of a year and over the whole: what came to the bus
// against what was taken from it, each summed by itself. The limit is the promise, a billionth of what went through.
func TestBooksClose(t *testing.T) {
	for _, stepMin := range []int{5, 60} {
		sys, c, w := yearCase(t, stepMin)
		for _, start := range []float64{1, 0.3} {
			sys.Bank.StartSoC = start
			run, err := play(sys, c, w, skiesOf(c), true)
			if err != nil {
				t.Fatal(err)
			}
			through := run.BankInWh + run.BankOutWh
			for _, a := range run.Arrays {
				through += a.Potential
			}
			if through < 1e5 {
				t.Fatalf("only %.0f Wh went through: the year did not run", through)
			}
			near.Abs(t, "worst step", run.WorstStepWh, 0, 1e-9*through/float64(c.N), "a billionth of a step's throughput")
			near.Abs(t, "whole year", imbalance(run), 0, 1e-9*through, "a billionth of the throughput")
			for i, a := range run.Arrays {
				near.Abs(t, "array "+sys.Arrays[i].Name, a.Bus+a.Loss+a.Cable+a.ByVoltage+a.ByCurrent+a.ByPower+a.ByBank, a.Potential, 1e-9*a.Potential, "every watt of an array's best power is booked")
			}
			stored := run.BankInWh - run.BankOutWh - run.ResistiveWh - run.PolarisationWh - run.CoulombicWh - run.LeakWh
			near.Abs(t, "stored energy", stored, run.EndWh-run.StartWh, 1e-9*through, "the bank's terminals against its open-circuit energy")
		}
	}
}

// TestTraceAddsUp sums the published trace by itself and compares it with the ledger: two roads to one figure.
func TestTraceAddsUp(t *testing.T) {
	sys, c, w := yearCase(t, 5)
	run, err := play(sys, c, w, skiesOf(c), true)
	if err != nil {
		t.Fatal(err)
	}
	var solar, load float64
	for i := range run.SolarW {
		solar += float64(run.SolarW[i]) * c.StepH
		load += float64(run.LoadW[i]) * c.StepH
	}
	ledger := 0.0
	for _, a := range run.Arrays {
		ledger += a.Bus
	}
	near.Rel(t, "sun of the trace", solar, ledger, 1e-5, "the trace holds single precision")
	day := 0.0
	for _, d := range run.Days {
		day += d.ServedWh
	}
	near.Rel(t, "loads of the trace", load, day, 1e-5, "the trace holds single precision")
}

// TestTenSecondTwin plays the bus at steps of ten seconds on the light and loads of each 5-minute step, for a quarter of a year that
// empties and fills the bank. The 5-minute run must follow it.
func TestTenSecondTwin(t *testing.T) {
	sys, c, w := yearCase(t, 5)
	coarse, err := play(sys, c, w, skiesOf(c), true)
	if err != nil {
		t.Fatal(err)
	}
	planes, err := newPlanes(sys, c)
	if err != nil {
		t.Fatal(err)
	}
	r := newRunner(sys, c, true)
	lightOn(sys, c, w, planes, skiesOf(c), r.offers)
	const parts = 30
	b := newBus(sys, c.StepH/parts, w.AirC[0], true)
	worst := near.Worst{What: "state of charge"}
	low := 1.0
	for i := range 90 * 288 {
		r.offer(i)
		for range parts {
			b.step(r.inputs, r.ask(i, w.AirC[i], b.volts), w.AirC[i])
		}
		worst.See(float64(coarse.SoC[i]), b.state.SoC, c.instant(i).Format("2006-01-02 15:04"))
		low = math.Min(low, b.state.SoC)
	}
	if low > 0.3 {
		t.Errorf("the bank stayed above %.2f: the quarter is too easy to tell anything", low)
	}
	near.Abs(t, "state of charge, worst at "+worst.Place, worst.Off, 0, 0.01, "voltage limits and cut-offs act up to one 5-minute step late, a hundredth of the bank's energy at most")
}

// TestLedgerCloses adds the printed ledger up: what comes in is what is used and lost between, on a stay with every source in it.
func TestLedgerCloses(t *testing.T) {
	sys, c, w := yearCase(t, 15)
	sys.Bank.StartSoC = 0.5
	run, err := play(sys, c, w, skiesOf(c), true)
	if err != nil {
		t.Fatal(err)
	}
	l := ledgerOf(run)
	sum := func(list []Entry) (wh float64) {
		for _, e := range list {
			wh += e.Wh
		}
		return wh
	}
	in, out := sum(l.Sources), sum(l.Uses)+sum(l.Losses)
	if in < 1e5 {
		t.Fatalf("only %.0f Wh came in", in)
	}
	near.Rel(t, "uses and losses against sources", out, in, 1e-9, "the ledger closes")
}

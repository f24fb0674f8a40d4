package system

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// TestServe asks 300 W through 40 ft of 16 AWG. With the posts at V0 behind a loop of R no load above V0²/4R has a voltage: REFERENCE section on constant power.
// The state is answered without that load, which is named, and what is left obeys Kirchhoff as in a rig without it.
func TestServe(t *testing.T) {
	const head = `campwright: 1
name: thin line
kind: van
bank: {chemistry: LFP, block: {capacity: 400 Ah, resistance: 1 mohm, charge limit: 200 A, discharge limit: 400 A}}
appliances: [{name: lights, runs on: dc, power: 300 W}, {name: pump, runs on: dc, power: 60 W}]
wiring:
  fuse blocks:
    house:
      rating: 100 A
      branches:
        - {name: lights, feeds: [lights], fuse: 30 A, family: blade fuse, gauge: 16 AWG, length: 60 ft}
        - {name: pump, feeds: [pump], fuse: 10 A, family: blade fuse, gauge: 12 AWG, length: 10 ft}
  runs:
    - {name: house feed, from: bank, to: fuse block house, gauge: 4 AWG, length: 2 ft}
`
	n := network(t, head, Nominal)
	state, ok := n.State(StateLoads)
	if !ok {
		t.Fatal("no state with all loads")
	}
	if plain := n.Solve(state); plain.Problem == "" {
		t.Fatal("300 W have an operating point behind 60 ft of 16 AWG")
	}
	s := n.Serve(state)
	if s.Problem != "" || len(s.Unserved) != 1 || s.Unserved[0].Name != "lights" {
		t.Fatalf("problem %q, unserved %+v", s.Problem, s.Unserved)
	}
	u := s.Unserved[0]
	near.Rel(t, "what it asks", u.Watts, 300, 1e-9, "as written")
	// 60 ft of 16 AWG, both ways, at 4.99 Ω/kft: 0.599 Ω; 13.0 V squared over four times that is 70.6 W. The rest is the fuse and the feed.
	near.Rel(t, "what the line gives", u.MostW, 13.0*13.0/(4*0.599), 0.06, "V²/4R by hand; fuse, feed and the bank's rest voltage aside")
	pump, found := s.Part("load 1 pump")
	if !found {
		t.Fatalf("the pump is not served: %+v", s.Parts)
	}
	near.Rel(t, "pump", pump.Watts, 60, 1e-9, "as written")
	if math.Abs(s.State.ACW) > 0 {
		t.Errorf("AC of %v W", s.State.ACW)
	}
}

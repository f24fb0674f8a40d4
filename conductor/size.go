package conductor

import (
	"errors"
	"fmt"
)

// ErrNoSize says that no standard size does the job.
var ErrNoSize = errors.New("no standard size suffices")

// Need is what a conductor has to do.
type Need struct {
	Use       Use     // its surroundings; Use.Gauge is ignored
	System    System  // in which sizes to look
	Lasting   float64 // lasting current it must carry [A], zero or more
	Fuse      float64 // device that must be allowed to protect it [A]; zero when it is chosen later
	OneWayM   float64 // one-way length of the two-wire run [m], above zero
	Volts     float64 // of the circuit [V], above zero
	DropAmps  float64 // current at which the drop is judged [A], zero or more
	DropShare float64 // share of Volts that may be lost, above zero to 1
	DropC     float64 // conductor temperature at which the drop is judged [°C]
}

// Reason is what decided a size.
type Reason uint8

// The reasons.
const (
	Suffices   Reason = iota // nothing stands against it
	ByAmpacity               // it cannot carry the current
	ByFuse                   // the fuse would be larger than the book allows before it
	ByDrop                   // it loses too much voltage
	ByTable                  // the book's table has no value for it
)

// String tells the reason in words.
func (r Reason) String() string {
	switch r {
	case Suffices:
		return "suffices"
	case ByAmpacity:
		return "ampacity"
	case ByFuse:
		return "fuse"
	case ByDrop:
		return "voltage drop"
	}
	return "not in the table"
}

// Trial is one size held against a need.
type Trial struct {
	Gauge     Gauge
	Rating    Rating
	Limit     FuseLimit
	Drop      float64 // [V]
	DropShare float64 // of the circuit's voltage
	Against   Reason  // the first thing that stands against it, in the order of the constants
}

// Choice is the smallest standard size that does a job.
type Choice struct {
	Trial          // the size chosen
	Decided Reason // what the next thinner size failed at; Suffices for the thinnest of all
	Thinner []Trial
}

// Size returns the smallest standard size that meets a need, with what each thinner size failed at, so that the limit that forced the
// size can be told. The error is ErrNoSize when even the thickest does not suffice; the choice then holds all trials.
func Size(n Need) (Choice, error) {
	if err := n.check(); err != nil {
		return Choice{}, err
	}
	var c Choice
	for _, g := range Gauges(n.System) {
		t, err := n.try(g)
		if err != nil {
			return Choice{}, err
		}
		if t.Against == Suffices {
			c.Trial = t
			return c, nil
		}
		c.Thinner, c.Decided = append(c.Thinner, t), t.Against
	}
	last := c.Thinner[len(c.Thinner)-1]
	return c, fmt.Errorf("size for %.6g A over %.6g m: %s fails by %s: %w", n.Lasting, n.OneWayM, last.Gauge, last.Against, ErrNoSize)
}

// try holds one size against the need.
func (n Need) try(g Gauge) (Trial, error) {
	u := n.Use
	u.Gauge = g
	t := Trial{Gauge: g}
	t.Drop = n.DropAmps * g.LoopOhms(n.OneWayM, n.DropC)
	t.DropShare = t.Drop / n.Volts
	r, err := Ampacity(u)
	if errors.Is(err, ErrNotInTable) {
		t.Against = ByTable
		return t, nil
	}
	if err != nil {
		return Trial{}, err
	}
	t.Rating = r
	if t.Limit, err = LargestFuse(r, n.Volts); err != nil {
		return Trial{}, err
	}
	margin, _ := r.Carries(n.Lasting)
	switch {
	case margin < 0:
		t.Against = ByAmpacity
	case n.Fuse > 0 && !t.Limit.Allows(n.Fuse):
		t.Against = ByFuse
	case t.DropShare > n.DropShare:
		t.Against = ByDrop
	}
	return t, nil
}

func (n Need) check() error {
	if len(Gauges(n.System)) == 0 {
		return fmt.Errorf("size: system %d is neither AWG nor metric", n.System)
	}
	for _, v := range []struct {
		name             string
		value, low, high float64
		unit             string
	}{
		{"lasting current", n.Lasting, 0, 1e5, "A"},
		{"fuse", n.Fuse, 0, 1e5, "A"},
		{"one-way length", n.OneWayM, 1e-6, 1e4, "m"},
		{"circuit", n.Volts, 1e-3, 1000, "V"},
		{"current for the drop", n.DropAmps, 0, 1e5, "A"},
		{"share that may be lost", n.DropShare, 1e-6, 1, ""},
		{"conductor temperature", n.DropC, -60, 250, "C"},
	} {
		if !(v.value >= v.low && v.value <= v.high) {
			return within("size: "+v.name, v.value, v.low, v.high, v.unit)
		}
	}
	return nil
}

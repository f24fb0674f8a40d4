package trip

import (
	"context"
	"fmt"
	"sync"

	"campwright/rig"
)

// Teller answers again and again while a rig is being changed. It keeps the forecast of the last stay, so that a change which leaves the stay
// alone is answered without its sun, and one that leaves the arrays alone without its weather too. It is safe for any goroutine; answers
// come one at a time. A rig is answered for as it is on the first day of its trip: see AsOf.
type Teller struct {
	options Options
	lock    sync.Mutex
	key     string
	kept    *Forecast
}

// NewTeller returns a teller whose answers take these options.
func NewTeller(o Options) *Teller { return &Teller{options: o} }

// Answer answers for a completed document.
func (t *Teller) Answer(ctx context.Context, doc *rig.Rig) (Answer, error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	then := AsOf(*doc)
	f, err := t.forecast(&then)
	if err != nil {
		return Answer{}, err
	}
	return f.Answer(ctx, &then, t.options.Progress)
}

// Advise tries out what could be done.
func (t *Teller) Advise(ctx context.Context, doc *rig.Rig) (Advice, error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	then := AsOf(*doc)
	f, err := t.forecast(&then)
	if err != nil {
		return Advice{}, err
	}
	return f.Advise(ctx, &then)
}

// forecast returns the forecast of the document's stay, the one kept when the stay is the same.
func (t *Teller) forecast(doc *rig.Rig) (*Forecast, error) {
	key := fmt.Sprintf("%+v", doc.Trip)
	if t.kept != nil && t.key == key {
		t.kept.plan.Rig = *doc
		return t.kept, nil
	}
	plan, err := NewPlan(*doc, Locate)
	if err != nil {
		return nil, err
	}
	f, err := NewForecast(plan, t.options)
	if err != nil {
		return nil, err
	}
	t.key, t.kept = key, f
	return f, nil
}

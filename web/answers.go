package web

import (
	"context"
	"sync"

	"campwright/trip"
)

// answers keeps the last few answers, so that a closer look at a curve or a second tab does not compute anew. One answer is computed at
// a time: it uses all processors anyway.
type answers struct {
	ask TripAnswer

	mu   sync.Mutex
	kept []keptAnswer  // newest last
	turn chan struct{} // holds one token; whoever has it computes
}

type keptAnswer struct {
	key    answerKey
	answer *trip.Answer
}

// answerKey is all that an answer hangs on.
type answerKey struct {
	revision string
	ask      TripAsk
}

// mostKept bounds the memory: an answer for a year holds some 2 MB.
const mostKept = 6

func newAnswers(ask TripAnswer) *answers {
	a := &answers{ask: ask, turn: make(chan struct{}, 1)}
	a.turn <- struct{}{}
	return a
}

// get returns the answer for a rig, computed or kept. It must not be changed.
func (a *answers) get(ctx context.Context, r reading, ask TripAsk) (*trip.Answer, error) {
	key := answerKey{r.revision, ask}
	if found := a.find(key); found != nil {
		return found, nil
	}
	select {
	case <-a.turn:
		defer func() { a.turn <- struct{}{} }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if found := a.find(key); found != nil { // somebody computed it while we waited
		return found, nil
	}
	answer, err := a.ask(ctx, r.full, ask)
	if err != nil {
		return nil, err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if len(a.kept) == mostKept {
		a.kept = append(a.kept[:0], a.kept[1:]...)
	}
	a.kept = append(a.kept, keptAnswer{key, &answer})
	return &answer, nil
}

func (a *answers) find(key answerKey) *trip.Answer {
	a.mu.Lock()
	defer a.mu.Unlock()
	for _, k := range a.kept {
		if k.key == key {
			return k.answer
		}
	}
	return nil
}

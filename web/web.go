// Package web serves the page: one rig, its questions and the answers, to a browser on the same machine.
//
// An operation reads the rig file, asks the packages that know, and hands on what they said: figures leave here as text with their
// unit, in US and metric units both, together with the plain number that the page needs to draw. There is no arithmetic here beyond
// thinning a curve to what a screen can show.
//
// The server answers only the machine it runs on, and on the local network only when asked to, to whoever holds the token. The page it
// serves fetches nothing from anywhere else: fonts, script and style are inside the program.
//
// Left out: accounts, because the file belongs to whoever can open it; and TLS, because a certificate for a name that exists only in
// a camp cannot be had, so on a local network what the page shows can be read along.
package web

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"campwright/rig"
	"campwright/store"
	"campwright/trip"
)

// Options are what a server needs.
type Options struct {
	Rig     OpenRig          // the rig that is open at first
	Trip    TripAnswer       // answers "Will it last?" where no year of weather is asked for; nil answers out of the climate of the places
	Advise  TripAdvice       // tries out what could be done; nil tries in the same weathers
	Weather []WeatherFile    // years that may be chosen beside what Trip takes by itself
	Now     func() time.Time // the clock
	Log     *slog.Logger     // faults that are ours and not the visitor's
	Version string           // of the program
	Hosts   []string         // names and addresses, with port, under which the page may be asked for
	Links   []string         // under which the local network reaches the page, token included
	Demos   []Demo           // rigs inside the program
	Folder  string           // in which rig files are looked for and made; empty for none
	Recent  store.Recent     // list of the rigs opened last
	Token   string           // asked of every visitor; empty on the loopback address
	Page    fs.FS            // the built page; nil takes the one inside the program
}

// OpenRig is what the page needs of a rig that is open. Package store keeps one in a file.
type OpenRig interface {
	Name() string // of the file, without its folder
	State() (store.State, error)
	Edit(revision string, edits []rig.Edit, note string) (store.State, error)
	Try(edits []rig.Edit) ([]byte, error)
	Write(revision string, text []byte, note string) (store.State, error)
	Undo(revision string) (store.State, error)
	Redo(revision string) (store.State, error)
	Keep(name, note string) (store.State, error)
	Kept() []store.Kept
	Changes(most int) []store.Change
	Text(revision string) ([]byte, error)
}

// TripAsk is what the page may choose about an answer.
type TripAsk struct {
	Weather string // name of a WeatherFile; empty for what the program takes by itself
	StepMin int
}

// TripAnswer answers for a completed rig.
type TripAnswer func(ctx context.Context, full rig.Rig, ask TripAsk) (trip.Answer, error)

// TripAdvice tries out what could be done about the answer for a completed rig.
type TripAdvice func(ctx context.Context, full rig.Rig) (trip.Advice, error)

// Server answers the page's requests.
type Server struct {
	options Options
	handler http.Handler
	answers *answers
	last    lastReading
	wired   wirings

	mu  sync.Mutex
	rig OpenRig // the rig that is open
}

// New makes a server. It does not listen yet: it is an http.Handler.
func New(o Options) (*Server, error) {
	switch {
	case o.Rig == nil:
		return nil, errors.New("web: no rig to serve")
	case o.Now == nil:
		return nil, errors.New("web: no clock")
	case o.Log == nil:
		return nil, errors.New("web: no log")
	case len(o.Hosts) == 0:
		return nil, errors.New("web: no host name to answer to")
	}
	if o.Page == nil {
		o.Page = builtPage()
	}
	teller := trip.NewTeller(trip.Options{})
	if o.Trip == nil {
		o.Trip = func(ctx context.Context, full rig.Rig, _ TripAsk) (trip.Answer, error) {
			return teller.Answer(ctx, &full)
		}
	}
	if o.Advise == nil {
		o.Advise = func(ctx context.Context, full rig.Rig) (trip.Advice, error) { return teller.Advise(ctx, &full) }
	}
	year := yearAnswer(o.Weather)
	s := &Server{options: o, rig: o.Rig, answers: newAnswers(func(ctx context.Context, full rig.Rig, ask TripAsk) (trip.Answer, error) {
		if ask.Weather != "" {
			return year(ctx, full, ask)
		}
		a, err := o.Trip(ctx, full, ask)
		if err != nil && ctx.Err() == nil {
			err = refused{err} // its texts are made for people: a stop without nights, a place that is not known
		}
		return a, err
	})}
	mux := http.NewServeMux()
	s.operations(mux)
	mux.Handle("/", pageHandler(o.Page))
	s.handler = guard(o, mux)
	return s, nil
}

// open is the rig that is open.
func (s *Server) open() OpenRig {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.rig
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

package web

import (
	"context"
	"net/http"
	"sync"

	"campwright/design"
	"campwright/rig"

	"github.com/danielgtaylor/huma/v2"
)

// WiredSheet is the sheet "How is it wired?".
type WiredSheet struct {
	Revision string        `json:"revision"`                          // of the rig that is shown
	State    string        `json:"state" enum:"answered,gaps,faults"` // whether there is an answer
	Gaps     []GapView     `json:"gaps" nullable:"false"`             // what must be known first
	Sentence string        `json:"sentence"`                          // the answer
	Book     string        `json:"book"`                              // of the rule tables
	Facts    []WiredFact   `json:"facts" nullable:"false"`            // the ends of the answer: worst drop, hottest run, largest fault
	Counts   []Count       `json:"counts" nullable:"false"`           // runs by how well they are known
	States   []WiredState  `json:"states" nullable:"false"`           // of the whole; values of runs stand in this order
	Groups   []WiredGroup  `json:"groups" nullable:"false"`           // runs by their side
	Devices  []WiredDevice `json:"devices" nullable:"false"`
	AC       []WiredFeed   `json:"ac" nullable:"false"`    // currents of the AC side by leg, one feed after the other
	Bars     []WiredChoice `json:"bars" nullable:"false"`  // choices that belong to no run: bars, combiners
	Edits    []rig.Edit    `json:"edits" nullable:"false"` // that accept every proposal
	Proposed int           `json:"proposed"`               // how many runs are proposals
	Guesses  []WiredGuess  `json:"guesses" nullable:"false"`
	Loose    []WiredLoose  `json:"loose" nullable:"false"`
	Since    string        `json:"since"`                     // the revision that shifts are counted from; empty when none was asked for or it is lost
	Shifts   []WiredShift  `json:"shifts" nullable:"false"`   // what is another size or rating since then
	Problems []string      `json:"problems" nullable:"false"` // what no standard part does
	Caution  string        `json:"caution"`
}

// WiredFact is one end of the answer.
type WiredFact struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Where string `json:"where"`
	Note  string `json:"note"`
}

// WiredState is one state of the whole.
type WiredState struct {
	Name    string   `json:"name"`
	Words   string   `json:"words"`
	Problem string   `json:"problem"` // why nothing flows as asked; empty when it does
	BankV   string   `json:"bankV"`
	BankA   string   `json:"bankA"` // positive when charging
	Notes   []string `json:"notes" nullable:"false"`
}

// WiredGroup is the runs of one side.
type WiredGroup struct {
	Title string     `json:"title"`
	Runs  []WiredRun `json:"runs" nullable:"false"`
}

// WiredRun is one run of cable.
type WiredRun struct {
	Path      string        `json:"path"`
	Name      string        `json:"name"`
	From      string        `json:"from"`
	To        string        `json:"to"`
	Gauge     Both          `json:"gauge"`
	Known     string        `json:"known" enum:"written,proposed,guess,measured,unknown"`
	Length    Both          `json:"length"`
	LengthWay string        `json:"lengthWay"` // how the length is known
	Devices   []string      `json:"devices" nullable:"false" doc:"paths"`
	Ampacity  string        `json:"ampacity"` // empty where not known
	MostFuse  string        `json:"mostFuse"`
	Book      string        `json:"book"`
	At        []WiredAt     `json:"at" nullable:"false"` // one for each state
	Worst     WiredAt       `json:"worst"`               // largest current and largest drop of all lasting states
	WorstIn   string        `json:"worstIn"`             // state of the largest current
	DropIn    string        `json:"dropIn"`              // state of the largest drop
	Ends      string        `json:"ends"`                // that drop at both ends of the guesses; empty where none moves it
	Choices   []WiredChoice `json:"choices" nullable:"false"`
	Measure   []string      `json:"measure" nullable:"false"` // what would settle its guesses
	Along     []string      `json:"along" nullable:"false"`   // names of the runs that a proposed one hangs on, accepted with it
	Values    []WiredValue  `json:"values" nullable:"false"`  // that can be changed here
}

// WiredAt is a run in one state. Its texts are empty where nothing is known of it.
type WiredAt struct {
	Amps  string  `json:"amps"` // negative towards where the run begins
	Drop  string  `json:"drop"`
	Share string  `json:"share"` // the drop, of the nominal voltage
	Bar   float64 `json:"bar"`   // current as a share of what the run may carry, for drawing; above one is too much
	Load  string  `json:"load"`  // the same in words
	Loss  string  `json:"loss"`
}

// WiredShift is a run or device that is not what it was. A side is empty where it is not there.
type WiredShift struct {
	Name   string `json:"name"`
	Before Both   `json:"before"`
	After  Both   `json:"after"`
}

// WiredFeed is what one source of AC gives to its legs.
type WiredFeed struct {
	Name   string     `json:"name"`
	Words  string     `json:"words"`
	Legs   []WiredLeg `json:"legs" nullable:"false"`
	Untold []string   `json:"untold" nullable:"false"` // what hangs on a leg that nobody told
	Left   []string   `json:"left" nullable:"false"`   // what cannot run on it
}

// WiredLeg is the current on one leg, or on the neutral.
type WiredLeg struct {
	Name    string  `json:"name"`
	Hours   string  `json:"hours"` // of what runs for hours; empty for the neutral
	All     string  `json:"all"`   // with everything on
	MadeUp  string  `json:"madeUp"`
	Breaker string  `json:"breaker"`
	Cord    string  `json:"cord"`
	Bar     float64 `json:"bar"` // with everything on as a share of the least of breaker and cord, for drawing; zero where there is none
	Words   string  `json:"words"`
	Over    bool    `json:"over"`
}

// WiredDevice is one fuse, switch or plug.
type WiredDevice struct {
	Path    string       `json:"path"`
	Name    string       `json:"name"`
	What    string       `json:"what"`
	Rating  string       `json:"rating"`
	Volts   string       `json:"volts"`
	Run     string       `json:"run"`
	Worst   string       `json:"worst"`
	WorstIn string       `json:"worstIn"`
	Fault   string       `json:"fault"` // that a short can drive through it; empty where none was found
	Stops   string       `json:"stops"` // largest fault it can stop by itself
	Bar     float64      `json:"bar"`   // fault as a share of that, for drawing
	Words   string       `json:"words"` // the two compared
	Over    bool         `json:"over"`  // the fault is larger
	Known   string       `json:"known" enum:"written,proposed"`
	Opens   bool         `json:"opens"`                   // it can be opened
	Values  []WiredValue `json:"values" nullable:"false"` // that can be changed here

	Choice *WiredChoice `json:"choice,omitempty"` // why it is as it is; left out for one that is no proposal
}

// WiredChoice is one decision of a proposal.
type WiredChoice struct {
	Path   string `json:"path"`
	Part   string `json:"part"`
	Chosen Both   `json:"chosen"`
	Why    Both   `json:"why"`
	Relax  Both   `json:"relax"`
	Book   string `json:"book"`
	Ends   Both   `json:"ends"`  // what it would be at both ends of a guessed length; empty where the length is no guess
	Final  bool   `json:"final"` // no guess can change it
}

// WiredGuess is something that nobody measured.
type WiredGuess struct {
	Path    string `json:"path"`
	What    string `json:"what"`
	Moves   string `json:"moves"`
	Measure string `json:"measure"`
	Raw     string `json:"raw"`   // what stands there in the file; empty where the file does not say it yet
	Hangs   string `json:"hangs"` // the proposed run that is accepted along with a change; empty where the file has the run
}

// WiredLoose is a part that no run reaches.
type WiredLoose struct {
	Path string `json:"path"`
	Part string `json:"part"`
	Why  string `json:"why"`
}

// LiveView says what opening one device does.
type LiveView struct {
	Sentence  string   `json:"sentence"`
	Dark      []string `json:"dark" nullable:"false"`
	Unsteady  []string `json:"unsteady" nullable:"false"` // what only a charger still feeds, without the bank
	Ends      []LiveAt `json:"ends" nullable:"false"`
	Order     []string `json:"order" nullable:"false"`
	Remaining []string `json:"remaining" nullable:"false"` // what no device takes away
	Prove     []string `json:"prove" nullable:"false"`
}

// LiveAt is one end of the opened device.
type LiveAt struct {
	Towards string   `json:"towards"`
	Sources []string `json:"sources" nullable:"false"`
}

// AcceptView is what takes a proposed run into the file.
type AcceptView struct {
	Revision string     `json:"revision"` // for which the edits are made
	Edits    []rig.Edit `json:"edits" nullable:"false"`
}

type acceptInput struct {
	Run  string `query:"run" required:"true" maxLength:"400" doc:"path of a proposed run"`
	Path string `query:"path" maxLength:"500" doc:"of a value that is changed along with it"`
	Text string `query:"text" maxLength:"5000" doc:"what shall stand there; empty leaves the value out"`
}

type acceptOutput struct{ Body AcceptView }

type wiredOutput struct{ Body WiredSheet }

type liveInput struct {
	Device string `query:"device" required:"true" maxLength:"400" doc:"path or name of a fuse, switch or plug"`
}

type liveOutput struct{ Body LiveView }

func (s *Server) wiredOperations(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "wired", Method: http.MethodGet, Path: "/api/wired", Summary: "How is it wired?",
		Description: "Every run and device in every state, what is proposed and why, and the edits that accept it.", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *safeInput) (*wiredOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("wired", err)
		}
		sheet := emptyWired(r.revision)
		switch {
		case len(r.faults) > 0:
			return &wiredOutput{sheet}, nil
		case len(r.gaps) > 0:
			sheet.State, sheet.Gaps = "gaps", gapViews(r.gaps, r.text.Bytes)
			return &wiredOutput{sheet}, nil
		}
		k, err := s.wired.get(r)
		if err != nil {
			return nil, s.fail("wired", refused{err})
		}
		sheet = k.sheet
		if was, ok := s.wiredAt(in.Since); ok {
			sheet.Since, sheet.Shifts = in.Since, wiredShifts(&was.sheet, &sheet)
		}
		return &wiredOutput{sheet}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "live", Method: http.MethodGet, Path: "/api/wired/live", Summary: "What stays live when this is open?",
		Description: "What goes dark, what stays live and from which source, in which order to open, and how a meter proves it dead.", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *liveInput) (*liveOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("live", err)
		}
		if len(r.faults)+len(r.gaps) > 0 {
			return &liveOutput{liveView(&design.LiveAnswer{Sentence: "The rig cannot be wired yet, so nothing can be said of its devices."})}, nil
		}
		k, err := s.wired.get(r)
		if err != nil {
			return nil, s.fail("live", refused{err})
		}
		a, err := k.wired.Live(in.Device)
		if err != nil {
			return nil, s.fail("live", refused{err})
		}
		return &liveOutput{liveView(&a)}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "accept", Method: http.MethodGet, Path: "/api/wired/accept", Summary: "What takes a proposed run into the file?",
		Description: "Edits that write one proposed run with its devices and what it hangs on, and change one value of it.", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *acceptInput) (*acceptOutput, error) {
		edits, text, revision, err := s.taken(in.Run)
		if err == nil && in.Path != "" {
			edits, err = withValue(edits, text, in.Path, s.meant(in.Path, in.Text).text)
		}
		if err != nil {
			return nil, s.fail("accept", err)
		}
		return &acceptOutput{AcceptView{revision, edits}}, nil
	})
}

// wirings keeps the last solved rigs: the states of one, and going back to another, are not solved anew.
type wirings struct {
	mu   sync.Mutex
	kept []keptWiring // newest last
}

type keptWiring struct {
	revision string
	wired    *design.Wired
	sheet    WiredSheet
}

// mostWirings is enough for an edit and its undo.
const mostWirings = 3

// get solves a rig, or finds it solved. What it returns must not be changed.
func (w *wirings) get(r reading) (keptWiring, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, k := range w.kept {
		if k.revision == r.revision {
			return k, nil
		}
	}
	wired, err := design.Wire(r.said)
	if err != nil {
		return keptWiring{}, err
	}
	k := keptWiring{r.revision, wired, emptyWired(r.revision)}
	k.sheet.fill(wired)
	if len(w.kept) == mostWirings {
		w.kept = append(w.kept[:0], w.kept[1:]...)
	}
	w.kept = append(w.kept, k)
	return k, nil
}

func liveView(a *design.LiveAnswer) LiveView {
	v := LiveView{
		Sentence: plainWords(a.Sentence), Dark: listed(a.Dark), Unsteady: listed(a.Unsteady), Order: listed(a.Order), Remaining: listed(a.Remaining), Prove: listed(a.Prove), Ends: []LiveAt{},
	}
	for _, e := range []design.LiveEnd{a.Before, a.Behind} {
		if e.Towards != "" {
			v.Ends = append(v.Ends, LiveAt{e.Towards, listed(e.Sources)})
		}
	}
	return v
}

// listed makes no list an empty one.
func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

package trip

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"campwright/climate"
	"campwright/convert"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// Members is how many runs of weather and guesses an answer rests on.
const Members = 200

// Forecast answers for a stay in many possible weathers at once, with every guess drawn anew in each. It keeps what the sun and the weather
// gave, so that a change of an appliance is answered without them. It is for one goroutine at a time; inside it uses all processors.
type Forecast struct {
	plan    Plan
	members int
	seed    uint64
	course  *Course
	places  []site
	kept    kept
	hooks   []hook // what each site's hookup feeds the rig of the last answer
	sunny   []int  // members in the order of their sun; made when first asked for
}

// site is what a forecast knows of one place.
type site struct {
	climate climate.Climate
	days    *climate.Generator
	skies   []*climate.Sky  // by civil day
	veils   []*climate.Veil // by civil day; nil where nothing stands in the way
	shade   climate.Shade
	shaded  bool
	roofed  bool
}

// kept is the light and air of all members, and what they were made for. Arrays lie as they nominally do in all members: a guessed tilt is
// not drawn.
type kept struct {
	key    string
	planes planes
	of     []columns       // by member
	plain  map[int]columns // with every guess at its nominal, of those tried for the typical run
}

// keepAtMost bounds what a forecast keeps [bytes].
const keepAtMost = 128 << 20

// Options are the choices of a forecast.
type Options struct {
	Members  int    // 0: Members
	Seed     uint64 // 0: 1
	StepMin  int    // 0: 5
	Climate  func(latitude, longitude float64, elevation *float64) (climate.Climate, error)
	Progress func(done, total int) // called now and then, from one goroutine at a time; nil for none
}

// NewForecast prepares the places of a plan: the sun over them and the weather they may have.
func NewForecast(p Plan, o Options) (*Forecast, error) {
	p.Sites = slices.Clone(p.Sites)
	f := &Forecast{plan: p, members: o.Members, seed: o.Seed}
	if f.members == 0 {
		f.members = Members
	}
	if f.members < 1 || f.members > 5000 {
		return nil, fmt.Errorf("forecast: %d members outside 1 to 5000", f.members)
	}
	if f.seed == 0 {
		f.seed = 1
	}
	step := o.StepMin
	if step == 0 {
		step = 5
	}
	look := o.Climate
	if look == nil {
		look = climate.At
	}
	climates := make([]climate.Climate, len(p.Sites))
	for i := range p.Sites {
		s := &f.plan.Sites[i]
		var elevation *float64
		if !math.IsNaN(s.Place.Elevation) {
			elevation = &s.Place.Elevation
		}
		c, err := look(s.Place.Latitude, s.Place.Longitude, elevation)
		if err != nil {
			return nil, fmt.Errorf("place %q: %w", s.Name, err)
		}
		s.Place.Elevation = c.Elevation
		climates[i] = c
	}
	var err error
	if f.course, err = newCourse(p.First, f.plan.Sites, step); err != nil {
		return nil, err
	}
	for i := range climates {
		place, err := f.site(i, climates[i])
		if err != nil {
			return nil, fmt.Errorf("place %q: %w", f.plan.Sites[i].Name, err)
		}
		f.places = append(f.places, place)
	}
	return f, nil
}

// site prepares one place.
func (f *Forecast) site(i int, c climate.Climate) (site, error) {
	s := site{climate: c}
	var err error
	if s.days, err = climate.New(climate.Params{Climate: c, Seed: f.seed, Doubt: 1}); err != nil {
		return s, err
	}
	at := f.plan.Sites[i]
	span := &f.course.Spans[i]
	horizon := climate.Horizon{}
	walled := at.Horizon != ""
	if walled {
		if horizon, err = horizonOf(at.Horizon); err != nil {
			return s, err
		}
	}
	switch at.Sky {
	case "", "open":
	case "roofed":
		s.roofed = true
	default:
		if s.shade, err = climate.ShadeNamed(at.Sky); err != nil {
			return s, err
		}
		s.shaded = true
	}
	for _, day := range span.Civil {
		sky, err := climate.NewSky(climate.SkyParams{Sun: span.Sun, First: day.First, Count: day.Steps, StepMinutes: float64(f.course.StepMin), Elevation: c.Elevation})
		if err != nil {
			return s, err
		}
		s.skies = append(s.skies, sky)
		if walled || s.shaded {
			veil, err := climate.NewVeil(horizon, span.Sun, day.First, day.Steps)
			if err != nil {
				return s, err
			}
			s.veils = append(s.veils, veil)
		}
	}
	return s, nil
}

// horizonSteps is how finely a written skyline is sampled.
const horizonSteps = 72

// horizonOf reads a skyline as written: heights at some bearings, straight between them.
func horizonOf(text string) (climate.Horizon, error) {
	line, err := rig.ParseHorizon(text)
	if err != nil {
		return climate.Horizon{}, err
	}
	heights := make([]float64, horizonSteps)
	for i := range heights {
		heights[i] = heightAt(line, 360*float64(i)/horizonSteps)
	}
	return climate.NewHorizon(heights)
}

// Answer answers for a completed document on the same stay as the plan's. Context ends it early.
func (f *Forecast) Answer(ctx context.Context, doc *rig.Rig, progress func(done, total int)) (Answer, error) {
	return f.answer(ctx, doc, progress, f.members >= fewestForPoor)
}

// answer answers, with a poor run where that is asked for.
func (f *Forecast) answer(ctx context.Context, doc *rig.Rig, progress func(done, total int), withPoor bool) (Answer, error) {
	kit, err := system.NewKit(doc)
	if err != nil {
		return Answer{}, err
	}
	runs, guesses, draws, err := f.play(ctx, doc, kit, progress)
	if err != nil {
		return Answer{}, err
	}
	return f.assemble(doc, kit, guesses, draws, runs, withPoor)
}

// play runs all members and returns what each told, with the guesses and how they were drawn.
func (f *Forecast) play(ctx context.Context, doc *rig.Rig, kit *system.Kit, progress func(done, total int)) ([]memberRun, []rig.Value, map[string][]float64, error) {
	guesses := guessesOf(doc, f.plan.Sites)
	paths := make([]string, len(guesses))
	for i, g := range guesses {
		paths[i] = g.At.Path
	}
	draws := shares(paths, f.members, f.seed)
	nominal, err := kit.Assemble(system.Draw{}, f.course.StepMin)
	if err != nil {
		return nil, nil, nil, err
	}
	key := lightKey(doc)
	fresh := f.kept.key != key
	if fresh {
		lies, err := newPlanes(nominal, f.course)
		if err != nil {
			return nil, nil, nil, err
		}
		f.kept = kept{key: key, planes: lies, of: make([]columns, f.members), plain: map[int]columns{}}
	}
	// What comes in hangs on inlet and generator, which no guess moves by much: the members of one answer share it.
	comes := newSchedule(nominal, f.course)
	f.hooks = comes.hooks
	runs := make([]memberRun, f.members)
	fits := f.members*f.course.N*8 <= keepAtMost
	err = f.each(ctx, f.members, progress, func(w *worker, m int) error {
		sys, err := kit.Assemble(memberDraw(draws, m), f.course.StepMin)
		if err != nil {
			return err
		}
		light := f.kept.of[m]
		if fresh {
			if light, err = w.light(sys, m, draws); err != nil {
				return err
			}
			if fits {
				f.kept.of[m] = light
			}
		}
		out := outcome{lows: make([]float32, len(f.course.Days)), gas: make([]float32, len(f.course.Days))}
		newSwift(sys, f.course, comes, !f.plan.Parked).run(light.potW, light.alsoW, light.airC, &out)
		runs[m] = memberRun{outcome: out, water: sys.Water, gasStart: sys.Propane.StartKg, floor: sys.Floor}
		return nil
	})
	if !fits || err != nil {
		f.kept.key = "" // too much to keep, or not whole: made anew by the next answer
	}
	return runs, guesses, draws, err
}

// memberRun is one member's part of an answer.
type memberRun struct {
	outcome
	water    system.Water
	gasStart float64
	floor    float64
}

// memberDraw picks one member out of the draws.
func memberDraw(draws map[string][]float64, m int) system.Draw {
	one := make(map[string]float64, len(draws))
	for path, col := range draws {
		one[path] = col[m]
	}
	return system.Member(one)
}

// lightKey names everything that what the controllers could give depends on, and nothing else: where in the file it stands does not matter.
func lightKey(doc *rig.Rig) string {
	var key strings.Builder
	rig.Walk(doc, func(path string, v *rig.Value) {
		for _, part := range [...]string{"modules/", "arrays/", "controllers/", "bank/block/voltage", "bank/in series"} {
			if strings.HasPrefix(path, part) {
				fmt.Fprintf(&key, "%s %v %v %v %v;", path, v.Quantity.Base, v.Low, v.High, v.State)
				return
			}
		}
	})
	for _, a := range doc.Arrays {
		fmt.Fprintf(&key, "%s %s %s %s %s;", a.Name, a.Module, a.Controller, a.Mounting, a.Site)
	}
	for _, c := range doc.Controllers {
		fmt.Fprintf(&key, "%s %s;", c.Name, c.Kind)
	}
	if doc.Wiring != nil {
		homeRuns(&key, doc.Wiring)
	}
	for _, l := range doc.ChargeLine {
		if l.DCDC != nil {
			key.WriteString(l.DCDC.Controller)
		}
	}
	return key.String() + doc.Bank.Chemistry
}

// homeRuns adds what a wiring says of the cables from the roof beyond what the arrays take over from it.
func homeRuns(key *strings.Builder, w *rig.Wiring) {
	for i := range w.Combiners {
		fmt.Fprintf(key, "%s %q;", w.Combiners[i].Name, w.Combiners[i].Arrays)
	}
	number := func(v *rig.Value) { fmt.Fprintf(key, " %v %v %v %v", v.Quantity.Base, v.Low, v.High, v.State) }
	for i := range w.Runs {
		r := &w.Runs[i]
		ends := r.From + ";" + r.To
		if !strings.Contains(ends, "array ") && !strings.Contains(ends, "combiner ") {
			continue
		}
		key.WriteString(ends)
		number(&r.Ohms)
		if read := r.Reading; read != nil {
			number(&read.Start)
			number(&read.End)
			number(&read.Current)
		}
	}
}

// worker has the memory one goroutine needs.
type worker struct {
	f      *Forecast
	days   []climate.Day
	lights []sun.Light // by site
	air    [][]float64
	offers []offer
	inputs []convert.Input
}

// each does n pieces of work on all processors.
func (f *Forecast) each(ctx context.Context, n int, progress func(done, total int), work func(*worker, int) error) error {
	var next, done atomic.Int64
	var wait sync.WaitGroup
	var lock sync.Mutex
	var first error
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Go(func() {
			w := &worker{f: f}
			for ctx.Err() == nil {
				m := int(next.Add(1)) - 1
				if m >= n {
					return
				}
				if err := work(w, m); err != nil {
					lock.Lock()
					if first == nil {
						first = err
					}
					lock.Unlock()
					cancel()
					return
				}
				so := int(done.Add(1))
				if progress != nil && so%10 == 0 {
					lock.Lock()
					progress(so, n)
					lock.Unlock()
				}
			}
		})
	}
	wait.Wait()
	if first != nil {
		return first
	}
	if int(done.Load()) < n {
		return ctx.Err()
	}
	return nil
}

// heightAt returns the height of a skyline at a bearing [deg], straight between its points around the circle.
func heightAt(line []rig.Bearing, azimuth float64) float64 {
	before, after := line[len(line)-1], line[0]
	before.Azimuth -= 360
	after.Azimuth += 360
	for _, p := range line {
		if p.Azimuth <= azimuth && p.Azimuth > before.Azimuth {
			before = p
		}
		if p.Azimuth >= azimuth && p.Azimuth < after.Azimuth {
			after = p
		}
	}
	if after.Azimuth <= before.Azimuth {
		return before.Height
	}
	return before.Height + (azimuth-before.Azimuth)/(after.Azimuth-before.Azimuth)*(after.Height-before.Height)
}

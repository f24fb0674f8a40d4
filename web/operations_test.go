package web

import (
	"context"
	"math"
	"net/http"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/trip"
)

func testPageOf(names ...string) fstest.MapFS {
	page := fstest.MapFS{}
	for _, n := range names {
		page[n] = &fstest.MapFile{}
	}
	return page
}

func rowOf(t *testing.T, v RigView, path string) Row {
	t.Helper()
	var found []Row
	for _, s := range v.Sections {
		eachRow(s.Parts, func(r *Row) {
			if r.Path == path {
				found = append(found, *r)
			}
		})
	}
	if len(found) == 1 {
		return found[0]
	}
	if len(found) > 1 {
		t.Fatalf("%d rows for %s", len(found), path)
	}
	t.Fatalf("no row for %s", path)
	return Row{}
}

// TestRig holds the view of a demo rig against what stands in its file.
func TestRig(t *testing.T) {
	v := decoded[RigView](t, get(newTestServer(t, exampleRig(t)), "/api/rig"))
	if v.Name != "Ocotillo" || v.Kind != "travel trailer" || v.File != "rig.yaml" || len(v.Revision) != 16 || v.Today != "25 November 2026" {
		t.Errorf("view %q %q %q %q %q", v.Name, v.Kind, v.File, v.Revision, v.Today)
	}
	if len(v.Faults) != 0 || len(v.Gaps) != 0 {
		t.Errorf("faults %v, gaps %v", v.Faults, v.Gaps)
	}
	var keys []string
	for _, s := range v.Sections {
		if s.There {
			keys = append(keys, s.Path)
		}
	}
	want := " roof modules controllers arrays bank inverters vehicle charge line shore generators appliances stores home trip aims accepted"
	if got := strings.Join(keys, " "); got != want {
		t.Errorf("sections %s\nwant     %s", got, want)
	}
	// The texts are those of examples/desert-trailer.yaml; conversions by 1 ft = 0.3048 m, 1 in = 2.54 cm, 1 lb = 0.45359237 kg.
	for _, c := range []struct{ path, us, metric, state string }{
		{"modules/field 200/voc", "24.3 V", "24.3 V", "stated"},
		{"arrays/front pair/run/length", "31 ft", "9.45 m", "stated"},
		{"vehicle/volts", "13.9 V", "13.9 V", "measured"},
		{"vehicle/alternators/1/rated", "160 A", "160 A", "stated"},
		{"arrays/front pair/tilt", "0°", "0°", "default"},
		{"bank/block/charge limit", "50 A", "50 A", "stated"},
		{"bank/bay", "inside", "inside", "stated"},
		{"stores/propane", "2 × 30 lb", "2 × 13.6 kg", "stated"},
		{"charge line/5/dc-dc/output", "30 A", "30 A", "stated"},
		{"appliances/furnace/keeps", "64 °F", "17.8 °C", "stated"},
		{"shore/battery make-up", "no", "no", "default"},
	} {
		r := rowOf(t, v, c.path)
		if r.Text.US != c.us || r.Text.Metric != c.metric || r.State != c.state {
			t.Errorf("%s: %q, %q, %s; want %q, %q, %s", c.path, r.Text.US, r.Text.Metric, r.State, c.us, c.metric, c.state)
		}
	}
	soiling := rowOf(t, v, "arrays/front pair/soiling")
	if soiling.State != "about" || !strings.HasPrefix(soiling.Text.US, "5 % (") {
		t.Errorf("soiling %+v", soiling)
	}
	unknown := rowOf(t, v, "controllers/wardrobe/own use")
	if unknown.State != "unknown" || unknown.Why == "" {
		t.Errorf("an unknown without what is taken meanwhile: %+v", unknown)
	}
	defaults := 0
	for _, s := range v.Sections {
		eachRow(s.Parts, func(r *Row) {
			if r.State == "default" {
				defaults++
			}
			if r.Text.US == "" || r.Text.Metric == "" || r.Key == "" || r.Pattern == "" {
				t.Errorf("empty row %+v", r)
			}
		})
	}
	if defaults < 20 {
		t.Errorf("only %d defaults are shown", defaults)
	}
}

func TestRigWithFaults(t *testing.T) {
	s := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\nbanc: {}\npeople: many\n"))
	v := decoded[RigView](t, get(s, "/api/rig"))
	if len(v.Faults) != 2 || v.Faults[0].Line != 4 || v.Faults[1].Line != 5 {
		t.Fatalf("faults %v", v.Faults)
	}
	sheet := decoded[TripSheet](t, get(s, "/api/trip"))
	if sheet.State != "faults" || sheet.Sentence != "" {
		t.Fatalf("state %q, sentence %q", sheet.State, sheet.Sentence)
	}
}

func TestRigThatIsGone(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{"/api/rig", "/api/trip", "/api/trip/trace"} {
		if w := get(s, target); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
	}
}

func TestTripWithGaps(t *testing.T) {
	s := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V}}\n"))
	sheet := decoded[TripSheet](t, get(s, "/api/trip"))
	if sheet.State != "gaps" || len(sheet.Gaps) != 1 || sheet.Gaps[0].Path != "bank/block/capacity" || sheet.Gaps[0].Hint == "" {
		t.Fatalf("state %q, gaps %v", sheet.State, sheet.Gaps)
	}
	if sheet.Gaps[0].Raw != "" {
		t.Errorf("%q stands where nothing does", sheet.Gaps[0].Raw)
	}
	u := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: unknown}}\n"))
	for _, gaps := range [][]GapView{decoded[TripSheet](t, get(u, "/api/trip")).Gaps, decoded[SafeSheet](t, get(u, "/api/safe")).Missing, decoded[WiredSheet](t, get(u, "/api/wired")).Gaps} {
		if len(gaps) != 1 || gaps[0].Raw != "unknown" {
			t.Errorf("gaps %+v", gaps)
		}
	}
	if c := decoded[Curve](t, get(s, "/api/trip/trace")); c.Low == nil || len(c.Low) != 0 {
		t.Errorf("a curve of a rig without an answer: %v", c.Low)
	}
}

// TestTrip answers for a demo rig with the models behind it and checks what the sheet makes of the answer.
func TestTrip(t *testing.T) {
	s := newTestServer(t, answerable(t))
	sheet := decoded[TripSheet](t, get(s, "/api/trip?weather=invented&step=15"))
	if sheet.State != "answered" || sheet.Sentence == "" || sheet.Days != 65 || len(sheet.Dates) != 65 || sheet.Floor != 20 {
		t.Fatalf("state %q, sentence %q, %v days, %d rows, floor %v", sheet.State, sheet.Sentence, sheet.Days, len(sheet.Dates), sheet.Floor)
	}
	// The stay of the file: 28 nights, 2 in town, 35.
	if len(sheet.Legs) != 3 || sheet.Legs[1].From != 28 || sheet.Legs[1].To != 30 || sheet.Legs[2].To != 65 {
		t.Errorf("legs %+v", sheet.Legs)
	}
	if sheet.Dates[0].Date != "Fri 27 Nov" || sheet.Dates[64].ISO != "2027-01-30" {
		t.Errorf("dates from %s to %s", sheet.Dates[0].Date, sheet.Dates[64].ISO)
	}
	names := ""
	for _, r := range sheet.Stores {
		names += " " + r.Store + ";"
	}
	for _, store := range []string{" battery;", " propane;", " fresh water;", " grey tank;", " black tank;"} {
		if !strings.Contains(names, store) {
			t.Errorf("no%s in%s", store, names)
		}
	}
	for _, r := range sheet.Stores {
		if r.Low > r.Lasts || r.Lasts > r.High || r.Text == "" {
			t.Errorf("store %+v", r)
		}
	}
	c := sheet.Curve
	if n := len(c.Low); n < 300 || n > mostPoints || len(c.High) != n || len(c.When) != n || len(c.Charge) != n || len(c.Solar) != n || len(c.Load) != n || len(c.Volts) != n {
		t.Fatalf("curve of %d, %d, %d, %d, %d, %d points", len(c.Low), len(c.High), len(c.When), len(c.Charge), len(c.Solar), len(c.Load))
	}
	// Whatever the buckets, no night's lowest is lost.
	lowest, nightly := math.Inf(1), math.Inf(1)
	for i := range c.Low {
		lowest = min(lowest, c.Low[i])
		if c.Low[i] > c.High[i] {
			t.Fatalf("bucket %d: low %v above high %v", i, c.Low[i], c.High[i])
		}
	}
	for _, d := range sheet.Dates {
		nightly = min(nightly, d.Low)
	}
	if lowest != nightly {
		t.Errorf("lowest of the curve %v, of the nights %v", lowest, nightly)
	}
	rows := 0
	for _, p := range sheet.Ledger {
		for _, r := range p.Rows {
			rows++
			if r.Bar < 0 || r.Bar > 1 || !strings.HasSuffix(r.PerDay.US, "h") && !strings.HasSuffix(r.PerDay.US, "lb") {
				t.Errorf("ledger row %+v", r)
			}
		}
	}
	if rows < 10 {
		t.Errorf("only %d rows in the ledger", rows)
	}

	close := decoded[Curve](t, get(s, "/api/trip/trace?weather=invented&step=15&from=3&days=2"))
	if close.From != 3 || close.Bucket != 15.0/1440 || len(close.Low) != 192 || close.When[0] != "Mon 30 Nov 12:00" {
		t.Errorf("closer look from %v in buckets of %v d, %d points, from %s", close.From, close.Bucket, len(close.Low), close.When[0])
	}
}

func TestTripRefusals(t *testing.T) {
	s := newTestServer(t, answerable(t))
	for _, c := range []struct {
		target string
		status int
		says   string
	}{
		{"/api/trip?weather=nowhere.epw", 422, "no weather of the name"},
		{"/api/trip?weather=..%2F..%2Fetc%2Fpasswd", 422, "no weather of the name"},
		{"/api/trip?weather=invented&step=7", 422, "step"},
		{"/api/trip?step=0", 422, "step"},
		{"/api/trip?step=61", 422, "step"},
		{"/api/trip?stepp=5", 422, "stepp"},
		{"/api/trip/trace?days=-1", 422, "days"},
		{"/api/trip/trace?from=NaN", 422, "from"},
	} {
		w := get(s, c.target)
		if w.Code != c.status || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s: status %d: %s", c.target, w.Code, w.Body)
		}
	}
}

// TestErrorsThatAreOurs do not reach the visitor.
func TestErrorsThatAreOurs(t *testing.T) {
	s := newTestServer(t, "", func(o *Options) { o.Rig = broken{} })
	for _, target := range []string{"/api/rig", "/api/trip", "/api/trip/trace", "/api/trip/advice"} {
		w := get(s, target)
		if w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "secret") || !strings.Contains(w.Body.String(), "internal error") {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
	}
}

// TestTripThatCannotBePlanned tells the visitor what to mend.
func TestTripThatCannotBePlanned(t *testing.T) {
	text := strings.Replace(string(readExample(t, "desert-trailer.yaml")), "    nights: 28\n", "", 1)
	w := get(newTestServer(t, rigFile(t, text)), "/api/trip")
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "nights") {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
}

// TestAnswersAreKept counts how often the models are asked: once for a rig and its choices, again when the file has changed.
func TestAnswersAreKept(t *testing.T) {
	path := answerable(t)
	var asked atomic.Int32
	s := newTestServer(t, path, func(o *Options) {
		o.Trip = func(context.Context, rig.Rig, TripAsk) (trip.Answer, error) {
			asked.Add(1)
			return trip.Answer{Sentence: "So it is."}, nil
		}
	})
	for range 3 {
		get(s, "/api/trip")
		get(s, "/api/trip/trace")
	}
	if n := asked.Load(); n != 1 {
		t.Fatalf("asked %d times", n)
	}
	get(s, "/api/trip?step=10")
	if n := asked.Load(); n != 2 {
		t.Fatalf("asked %d times after another step", n)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(text, '\n'), 0o644); err != nil {
		t.Fatal(err)
	}
	get(s, "/api/trip")
	if n := asked.Load(); n != 3 {
		t.Fatalf("asked %d times after a change of the file", n)
	}
}

// TestBucketsNeverLoseAnEnd thins a made-up trace at many lengths.
func TestBucketsNeverLoseAnEnd(t *testing.T) {
	for _, days := range []int{1, 3, 14, 65, 365, 1000} {
		a := &trip.Answer{Trace: trip.Trace{StepMin: 5, Zone: "UTC", SoC: make([]float32, days*288), SolarW: make([]float32, days*288)}}
		for i := range a.Trace.SoC {
			a.Trace.SoC[i] = 0.5
		}
		a.Trace.SoC[len(a.Trace.SoC)*2/3] = 0.125
		c := curve(a, 0, float64(days))
		low := 100.0
		for _, v := range c.Low {
			low = min(low, v)
		}
		if low != 12.5 {
			t.Errorf("%d days: the one low step is lost: %v", days, low)
		}
		if len(c.Low) > mostPoints || len(c.Low) < min(days, 288) {
			t.Errorf("%d days: %d points", days, len(c.Low))
		}
	}
}

func TestSpan(t *testing.T) {
	low, high := of(12.5, quantity.Temperature), of(15, quantity.Temperature)
	if got := span(low, high); got.Metric != "12.5 to 15 °C" || got.US != "54.5 to 59 °F" {
		t.Errorf("span %+v", got)
	}
	if got := span(low, low); got.Metric != "12.5 °C" {
		t.Errorf("span of nothing %+v", got)
	}
	if len(states) != 6 || states[figure.About] != "about" {
		t.Errorf("states %v", states)
	}
}

// TestTripSince makes two people of one and holds the difference against the tank's own arithmetic: half as many days.
func TestTripSince(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	first := decoded[TripSheet](t, get(s, "/api/trip?weather=invented"))
	if first.Difference != "" {
		t.Errorf("a difference from nothing: %q", first.Difference)
	}
	post(t, s, "/api/edit", EditAsk{Revision: first.Revision, Edits: []rig.Edit{{Path: "people", Old: "2", New: "4"}}})
	second := decoded[TripSheet](t, get(s, "/api/trip?weather=invented&since="+first.Revision))
	// 50 gal = 189.271 L at 2 and at 4 persons of 3.5 gal = 13.249 L a day: 7.14 and 3.57 days.
	if !strings.Contains(second.Difference, "fresh water 3.6 days less") || !strings.Contains(second.Difference, "generator fuel unchanged") && !strings.Contains(second.Difference, "all else as long as before") {
		t.Errorf("difference %q", second.Difference)
	}
}

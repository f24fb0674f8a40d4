package web

import (
	"bytes"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"campwright/rig"
)

func tryIn(t *testing.T, s *Server, path, text string) TryView {
	t.Helper()
	return decoded[TryView](t, get(s, "/api/try?path="+url.QueryEscape(path)+"&text="+url.QueryEscape(text)))
}

// TestDateMeant reads days as people write them, on Wednesday 25 November 2026. The expectations are the calendar's.
func TestDateMeant(t *testing.T) {
	now := testNow()
	for _, c := range []struct {
		text, means string
		offers      []string
	}{
		{"October 20", "2027-10-20", nil}, {"Oct 20", "2027-10-20", nil}, {"20 Oct", "2027-10-20", nil}, {"20th of October", "2027-10-20", nil},
		{"Dec 1st", "2026-12-01", nil}, {"November 25", "2026-11-25", nil}, {"November 24", "2027-11-24", nil}, {"Sept. 5, 2028", "2028-09-05", nil},
		{"Tue 20 October 2026", "2026-10-20", nil}, {"10/20/2026", "2026-10-20", nil}, {"20/10/2026", "2026-10-20", nil}, {"20.10.26", "2026-10-20", nil},
		{"2026/10/20", "2026-10-20", nil}, {"12/25", "2026-12-25", nil}, {"5/5/2027", "2027-05-05", nil}, {"tomorrow", "2026-11-26", nil}, {"today", "2026-11-25", nil},
		{"about Oct 20", "about 2027-10-20", nil}, {"Feb 29", "2028-02-29", nil}, {"2027-01-05", "2027-01-05", nil}, {"unknown", "unknown", nil},
		{"10/11/2026", "", []string{"2026-10-11", "2026-11-10"}}, {"1/2", "", []string{"2027-01-02", "2027-02-01"}}, {"October", "", []string{"2027-10-01"}},
		{"February 30", "", nil}, {"13/13/2026", "", nil},
	} {
		m := dateMeant(c.text, now)
		if c.means == "" {
			if m.problem == "" || len(m.offers) != len(c.offers) {
				t.Errorf("%s: problem %q, offers %v", c.text, m.problem, m.offers)
				continue
			}
			for i, o := range m.offers {
				if o.Text != c.offers[i] || o.Words == o.Text {
					t.Errorf("%s: offer %d is %+v, want %s", c.text, i, o, c.offers[i])
				}
			}
			continue
		}
		if m.text != c.means || m.problem != "" {
			t.Errorf("%s: %q (%s), want %s", c.text, m.text, m.problem, c.means)
		}
	}
	if m := dateMeant("Oct 20 2026", now); m.remark != "this day has passed" {
		t.Errorf("a day of last month: remark %q", m.remark)
	}
	if m := dateMeant("today", now); m.remark != "" {
		t.Errorf("today: remark %q", m.remark)
	}
	if m := dateMeant("whenever", now); m.text != "whenever" || m.problem != "" {
		t.Errorf("no day at all is left to the file's own refusal: %+v", m)
	}
}

func TestEditTakesDaysAsPeopleWriteThem(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	old := rowOf(t, decoded[RigView](t, get(s, "/api/rig")), "trip/1/from").Raw
	if v := tryIn(t, s, "trip/1/from", "10/20/2026"); v.Problem != "" || v.Means.US != "Tue 20 Oct 2026" || v.Remark != "this day has passed" {
		t.Errorf("tried %+v", v)
	}
	v := decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: revisionOf(t, s), Edits: []rig.Edit{{Path: "trip/1/from", Old: old, New: "Oct 20, 2026"}}}))
	row := rowOf(t, v, "trip/1/from")
	if row.Raw != "2026-10-20" || row.Text.US != "Tue 20 Oct 2026" || row.Why != "this day has passed" {
		t.Errorf("row %+v", row)
	}
	if !strings.Contains(fileText(t, path), "from: 2026-10-20") {
		t.Error("the file does not hold the day in its own form")
	}
	w := post(t, s, "/api/edit", EditAsk{Revision: v.Revision, Edits: []rig.Edit{{Path: "trip/1/from", Old: "2026-10-20", New: "3/4/2027"}}})
	if text := problem(t, w, http.StatusUnprocessableEntity); !strings.Contains(text, "4 March 2027 or 3 April 2027") {
		t.Errorf("an ambiguous day: %q", text)
	}
	later := newTestServer(t, path, func(o *Options) { o.Now = func() time.Time { return time.Date(2026, 10, 20, 8, 0, 0, 0, time.UTC) } })
	if row := rowOf(t, decoded[RigView](t, get(later, "/api/rig")), "trip/1/from"); row.Why != "" {
		t.Errorf("on the day itself: %q", row.Why)
	}
}

// TestEditKnowsPlaces refuses a misspelt town at once. Quartzsite, Arizona, is spelled so by its people; what is offered is in the table
// of package place, whose origin is named there.
func TestEditKnowsPlaces(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	view := decoded[RigView](t, get(s, "/api/rig"))
	old := rowOf(t, view, "trip/1/place").Raw
	w := post(t, s, "/api/edit", EditAsk{Revision: view.Revision, Edits: []rig.Edit{{Path: "trip/1/place", Old: old, New: "Quartzite"}}})
	if text := problem(t, w, http.StatusUnprocessableEntity); !strings.Contains(text, "did you mean Quartzsite, AZ, US") {
		t.Errorf("refused with %q", text)
	}
	if fileText(t, path) != before {
		t.Error("a refused place stands in the file")
	}
	v := tryIn(t, s, "trip/1/place", "Quartzite")
	if v.Problem == "" || len(v.Offers) == 0 || v.Offers[0].Text != "Quartzsite, AZ, US" {
		t.Fatalf("tried %+v", v)
	}
	if v := tryIn(t, s, "trip/1/place", v.Offers[0].Text); v.Problem != "" || v.Means.US != "Quartzsite, AZ, US" || v.Remark != "" {
		t.Errorf("the offer is not taken: %+v", v)
	}
	if v := tryIn(t, s, "trip/1/place", "springfield"); v.Problem != "" || !strings.HasPrefix(v.Remark, "taken as Springfield, ") || len(v.Offers) < 2 {
		t.Errorf("one of many: %+v", v)
	}
	for _, fine := range []string{"33.5 N 114.2 W", "12 mi N of Moab", "our land (33.5 N 114.2 W)", "unknown"} {
		if v := tryIn(t, s, "trip/1/place", fine); v.Problem != "" {
			t.Errorf("%s: %s", fine, v.Problem)
		}
	}
	add := PartAsk{Revision: view.Revision, Do: "add", Path: "trip", Values: map[string]string{"place": "Quartzite", "nights": "2"}}
	if text := problem(t, post(t, s, "/api/part", add), http.StatusUnprocessableEntity); !strings.Contains(text, "Quartzsite") {
		t.Errorf("a stop at a place that is not known: %q", text)
	}
}

func TestNearestUnitIsNamed(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	revision := revisionOf(t, s)
	for _, c := range []struct{ path, old, text, offer string }{
		{"stores/fresh water", "50 gal", "52 ga", "52 gal"},
		{"stores/fresh water", "50 gal", "about 52 glal", "about 52 gal"},
		{"bank/block/capacity", "100 Ah", "100 A", "100 Ah"},
		{"arrays/front pair/run/length", "31 ft", "12 fet", "12 ft"},
	} {
		v := tryIn(t, s, c.path, c.text)
		if !strings.Contains(v.Problem, c.offer) || !strings.HasSuffix(v.Problem, "?") || len(v.Offers) == 0 || v.Offers[0].Text != c.offer {
			t.Errorf("%s: %+v", c.text, v)
			continue
		}
		if again := tryIn(t, s, c.path, c.offer); again.Problem != "" {
			t.Errorf("%s, which was offered: %s", c.offer, again.Problem)
		}
		old := rowOf(t, decoded[RigView](t, get(s, "/api/rig")), c.path).Raw
		w := post(t, s, "/api/edit", EditAsk{Revision: revision, Edits: []rig.Edit{{Path: c.path, Old: old, New: c.text}}})
		if text := problem(t, w, http.StatusUnprocessableEntity); text != v.Problem {
			t.Errorf("%s: tried %q, edited %q", c.text, v.Problem, text)
		}
	}
	for _, c := range []struct{ text, means string }{{"12 ga", "12 AWG"}, {"#8", "8 AWG"}, {"2/0 gauge", "2/0 AWG"}, {"00 ga", "2/0 AWG"}} {
		if v := tryIn(t, s, "arrays/front pair/run/gauge", c.text); v.Problem != "" || !strings.HasPrefix(v.Means.US, c.means) {
			t.Errorf("%s: %+v", c.text, v)
		}
	}
	if v := tryIn(t, s, "arrays/front pair/run/gauge", "52 ga"); v.Problem == "" {
		t.Errorf("a gauge that is none: %+v", v)
	}
}

// TestNewRigTakesDaysAsPeopleWriteThem begins a rig on a day in words, on a month, and asks about a day that can be two.
// TestBareNumberIsAskedItsUnit: a number where a power and a current can stand is offered as either, and where only one kind can, as that.
func TestBareNumberIsAskedItsUnit(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	for path, want := range map[string][]string{
		"vehicle/own load": {"45 A", "45 W"}, "stores/fresh water": {"45 L"}, "modules/field 200/voc": {"45 V"}, "bank/blocks": {},
	} {
		v := tryIn(t, s, path, "45")
		var got []string
		for _, o := range v.Offers {
			got = append(got, o.Text)
		}
		if strings.Join(got, ", ") != strings.Join(want, ", ") || len(want) > 0 && v.Problem == "" {
			t.Errorf("%s: %q, wanted %q (%s)", path, got, want, v.Problem)
		}
	}
}

// shownEnds are the ends that stand behind a value; the page leaves them out where it takes what is shown.
var shownEnds = regexp.MustCompile(`\s*\([^)]*\)`)

// TestWhatIsShownCanBeSaidToBeRight: whatever was filled in on the sheet of each example can be written as it is shown, in both systems of
// units, and is the owner's then.
func TestWhatIsShownCanBeSaidToBeRight(t *testing.T) {
	tried := 0
	for _, name := range []string{"desert-trailer.yaml", "northern-van.yaml", "coastal-camper.yaml", "fifth-wheel.yaml"} {
		text := readExample(t, name)
		s := newTestServer(t, rigFile(t, string(text)))
		for _, section := range decoded[RigView](t, get(s, "/api/rig")).Sections {
			eachRow(section.Parts, func(row *Row) {
				if row.State != "default" || row.Text == alike(notThere) { // of what is not there nothing can be said
					return
				}
				for _, shown := range []string{row.Text.US, row.Text.Metric} {
					tried++
					edit := rig.Edit{Path: row.Path, New: shownEnds.ReplaceAllString(shown, "")}
					after, err := rig.Apply(text, []rig.Edit{edit})
					if err != nil {
						t.Errorf("%s: %v", name, err)
						continue
					}
					if _, faults := rig.Decode(bytes.NewReader(after)); len(faults) > 0 {
						t.Errorf("%s: %s %s: %v", name, row.Path, edit.New, faults)
					}
				}
			})
		}
	}
	if tried < 200 {
		t.Errorf("%d values were tried", tried)
	}
}

func TestNewRigTakesDaysAsPeopleWriteThem(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	begin := func(when, place string) NewAsk {
		return NewAsk{Answers: map[string]string{"kind": "van", "place": place, "when": when, "nights": "5"}}
	}
	for when, day := range map[string]string{"October 20": "2027-10-20", "20 Oct 2028": "2028-10-20", "3/14/2027": "2027-03-14", "2027-05-01": "2027-05-01"} {
		v := decoded[RigView](t, post(t, s, "/api/new", begin(when, "Moab")))
		if r := rowOf(t, v, "trip/1/from"); r.Raw != day {
			t.Errorf("%s: from %q, want %s", when, r.Raw, day)
		}
	}
	if v := decoded[RigView](t, post(t, s, "/api/new", begin("October", "Moab"))); !strings.Contains(rowOf(t, v, "trip/1/from").Raw, "-10-") {
		t.Errorf("a month alone: %+v", rowOf(t, v, "trip/1/from"))
	}
	if text := problem(t, post(t, s, "/api/new", begin("3/4/2027", "Moab")), http.StatusUnprocessableEntity); !strings.Contains(text, "4 March 2027 or 3 April 2027") {
		t.Errorf("an ambiguous day: %q", text)
	}
	if text := problem(t, post(t, s, "/api/new", begin("October 20", "Quartzite")), http.StatusUnprocessableEntity); !strings.Contains(text, "list of places") || !strings.Contains(text, "Quartzsite") {
		t.Errorf("a misspelt town: %q", text)
	}
}

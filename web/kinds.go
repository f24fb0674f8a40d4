package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// KindsView is what can be added to a list by picking it.
type KindsView struct {
	Kinds []KindRow `json:"kinds" nullable:"false"`
}

// KindRow is one kind of part with its typical values.
type KindRow struct {
	Name  string   `json:"name"`
	Group string   `json:"group"`
	Words Both     `json:"words"`                 // its main figures
	Also  []string `json:"also" nullable:"false"` // what else it is called, to search by
}

type kindsInput struct {
	List string `query:"list" required:"true" maxLength:"500" doc:"path of the list, such as appliances"`
}

type kindsOutput struct{ Body KindsView }

func (s *Server) kindsOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "kinds", Method: http.MethodGet, Path: "/api/kinds", Summary: "What can be added here?", Errors: []int{404, 500},
	}, func(_ context.Context, in *kindsInput) (*kindsOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("kinds", err)
		}
		v := KindsView{Kinds: []KindRow{}}
		for _, k := range kindsFor(in.List, &r.said) {
			row := KindRow{Name: k.name, Group: k.group, Words: k.words, Also: k.also}
			if row.Also == nil {
				row.Also = []string{}
			}
			v.Kinds = append(v.Kinds, row)
		}
		return &kindsOutput{v}, nil
	})
}

// kind is a kind of part as it would be written into the file.
type kind struct {
	name, group string
	also        []string
	words       Both
	call        string // what a new one is called; empty where parts of the list have no names
	taken       string // why its figures are what they are; empty where none is taken
	values      map[string]string
}

// catalogued are the lists whose parts come from the catalogue, and what a new one is called there.
var catalogued = map[string]struct{ part, below, call string }{
	"modules":             {catalogue.ModulePart, "", ""},
	"controllers":         {catalogue.ControllerPart, "", "controller"},
	"inverters":           {catalogue.InverterPart, "", "inverter"},
	"shore/chargers":      {catalogue.ChargerPart, "", "charger"},
	"generators":          {catalogue.GeneratorPart, "", "generator"},
	"vehicle/alternators": {catalogue.AlternatorPart, "", ""},
	"charge line":         {catalogue.DCDCPart, "dc-dc/", ""},
}

// kindsFor returns what can be added to a list of a rig by picking it.
func kindsFor(list string, said *rig.Rig) []kind {
	us := said.Book == "" || strings.HasPrefix(said.Book, "us")
	switch list {
	case "appliances":
		var kinds []kind
		for _, a := range catalogue.Appliances() {
			kinds = append(kinds, applianceKind(a, us))
		}
		return kinds
	case "arrays":
		return arrayKinds(said)
	}
	c, ok := catalogued[list]
	if !ok {
		return nil
	}
	var kinds []kind
	for _, p := range catalogue.Parts(c.part) {
		kinds = append(kinds, partKind(p, c.below, c.call, list == "modules"))
	}
	return kinds
}

// partKind is a part of the catalogue. Its main figures are the first few that it has.
func partKind(p catalogue.Part, below, call string, byName bool) kind {
	k := kind{name: p.Name, also: p.Called, call: call, taken: "usual for a " + p.Name, values: map[string]string{}}
	if byName {
		k.call = p.Name
	}
	var us, metric []string
	for _, v := range p.Values {
		text := v.Text
		if v.Typical.Kind != quantity.None {
			if q, err := quantity.Parse(v.Text, v.Typical.Kind); err == nil {
				text = aboutText(v.Typical, q.Unit)
				if len(us) < 3 {
					us, metric = append(us, v.Key+" "+quantity.Format(q, quantity.US)), append(metric, v.Key+" "+quantity.Format(q, quantity.Metric))
				}
			}
		}
		k.values[below+v.Key] = text
	}
	k.words = Both{strings.Join(us, ", "), strings.Join(metric, ", ")}
	return k
}

// arrayKinds are one module of each kind on each controller.
func arrayKinds(said *rig.Rig) []kind {
	var kinds []kind
	for _, m := range said.Modules {
		for _, c := range said.Controllers {
			words := both(m.Power.Quantity)
			kinds = append(kinds, kind{
				name: m.Name + " on " + c.Name, words: Both{"one module, " + words.US, "one module, " + words.Metric}, call: "array",
				values: map[string]string{"module": m.Name, "controller": c.Name, "in series": "1", "strings": "1"},
			})
		}
	}
	return kinds
}

// applianceKind is an appliance of the catalogue on what usually feeds it.
func applianceKind(a catalogue.Appliance, us bool) kind {
	k := kind{name: a.Name, group: a.Group, also: a.Called, call: a.Name, taken: "usual for " + a.Name, values: map[string]string{"runs on": a.Runs[0]}}
	heat := "W"
	if us {
		heat = "BTU/h"
	}
	put := func(key string, t catalogue.Typical, unit string) {
		if t.Kind != quantity.None {
			k.values[key] = aboutText(t, unit)
		}
	}
	draw := func(key string, d catalogue.Drawn, unit string) {
		put(key, d.Rate, unit)
		if d.Rate.Kind != quantity.None && d.Duty.Kind != quantity.None {
			k.values[key] += " at " + aboutText(d.Duty, "%")
		}
	}
	if a.Kind != "plain" {
		k.values["kind"] = a.Kind
	}
	if a.Feeds("propane") {
		propane := a.Propane
		if a.Kind == "furnace" || a.Kind == "water heater" {
			propane.Duty = catalogue.Typical{} // it follows the cold, and the water used
		}
		draw("propane", propane, heat)
	}
	switch {
	case a.Kind == "furnace":
		put("blower", a.Power.Rate, "W")
	case a.Feeds("propane"):
		put("control", a.Control, "W")
		if a.Kind != "plain" {
			put("electric", a.Power.Rate, "W")
		}
	case a.Kind == "air conditioner":
		put("power", a.Power.Rate, "W")
		k.values["per day"], k.values["on"] = "about 2 h (1 h to 4 h)", "13:00-18:00"
	default:
		draw("power", a.Power, "W")
		put("per day", a.PerDay, hoursOrMinutes(a.PerDay.Value))
		if a.On != "" {
			k.values["on"] = a.On
		}
	}
	if a.Runs[0] == "ac" && a.Surge.Kind != quantity.None && a.Surge.Value > a.Power.Rate.Value {
		put("surge", a.Surge, "W")
	}
	if a.Runs[0] == "dc" {
		put("standby", a.Standby, "W")
	}
	if a.Count.Kind != quantity.None && a.Count.Value > 1 {
		k.values["count"] = strconv.Itoa(int(a.Count.Value))
	}
	k.words = applianceWords(a)
	return k
}

// applianceWords are what an appliance takes while it runs and for how long, and what feeds it.
func applianceWords(a catalogue.Appliance) Both {
	var us, metric []string
	add := func(t catalogue.Typical, behind string) {
		if t.Kind == quantity.None {
			return
		}
		text := rounded(t)
		us, metric = append(us, quantity.Format(text, quantity.US)+behind), append(metric, quantity.Format(text, quantity.Metric)+behind)
	}
	if a.Runs[0] == "propane" {
		us, metric = append(us, quantity.In(rounded(a.Propane.Rate), "BTU/h")), append(metric, quantity.In(rounded(a.Propane.Rate), "W"))
	} else {
		add(a.Power.Rate, "")
	}
	add(a.PerDay, " a day")
	feeds := strings.NewReplacer("ac", "AC", "dc", "DC").Replace(figure.Or(a.Runs))
	return Both{strings.Join(append(us, feeds), ", "), strings.Join(append(metric, feeds), ", ")}
}

func hoursOrMinutes(hours float64) string {
	if hours < 1.5 {
		return "min"
	}
	return "h"
}

func rounded(t catalogue.Typical) quantity.Quantity {
	return quantity.Quantity{Base: t.Value, Kind: t.Kind}
}

// aboutText writes a typical number as an estimate with its ends, or plainly where it does not spread.
func aboutText(t catalogue.Typical, unit string) string {
	write := func(base float64) string {
		if t.Kind == quantity.Count {
			return strconv.FormatFloat(base, 'g', 3, 64)
		}
		x, err := quantity.Number(quantity.Quantity{Base: base, Kind: t.Kind}, unit)
		if err != nil {
			panic("web: internal error: " + err.Error())
		}
		if near := math.Round(x); math.Abs(x-near) > 1e-6*math.Abs(x) || math.Abs(x) >= 1e5 {
			x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
		} else {
			x = near
		}
		return strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64) + " " + unit)
	}
	if t.High > t.Low {
		return "about " + write(t.Value) + " (" + write(t.Low) + " to " + write(t.High) + ")"
	}
	return write(t.Value)
}

// addKind adds a part of a kind to a list. Its figures are remarked as taken.
func addKind(open OpenRig, state store.State, ask PartAsk) (store.State, string, error) {
	doc, _ := rig.Decode(bytes.NewReader(state.Text))
	kinds := kindsFor(ask.Path, &doc)
	at := slices.IndexFunc(kinds, func(k kind) bool { return k.name == ask.Kind })
	if at < 0 {
		return store.State{}, "", refused{fmt.Errorf("no kind %q can be added there", ask.Kind)}
	}
	k := kinds[at]
	ask.Values = k.values
	var edits []rig.Edit
	err := error(nil)
	for n := 1; n <= 200; n++ { // the first name that is free
		if ask.Name = k.call; n > 1 && k.call != "" {
			ask.Name = k.call + " " + strconv.Itoa(n)
		}
		if edits, err = addition(state.Text, ask); !errors.Is(err, errNameTaken) {
			break
		}
	}
	if err != nil {
		return store.State{}, "", refused{err}
	}
	text, err := open.Try(edits)
	if err != nil {
		return store.State{}, "", refused{err}
	}
	if err := spoilt(state.Text, text, "add"); err != nil {
		return store.State{}, "", err
	}
	if k.taken != "" {
		text = store.MarkTaken(state.Text, text, k.taken)
	}
	name := ask.Name
	if name == "" {
		name = k.name
	}
	after, err := open.Write(state.Revision, text, store.Where(ask.Path+"/"+name)+" added")
	return after, edits[0].Path, err
}

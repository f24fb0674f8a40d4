package catalogue

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"sync"

	"campwright/quantity"
	"campwright/rig"

	"github.com/goccy/go-yaml"
)

// This file reads the generic parts in the folder parts. Their keys are those of the rig file, so a part can be written into a rig as it
// stands, and a test holds every key and number against the document. A number is [low, typical, high], or alone. Sources beside common
// practice: [PVLIB-MODULES], [PETZL-2014], [AGM-MEASURED].

//go:embed parts/*.yaml
var partFiles embed.FS

// Kinds of part.
const (
	ModulePart     = "module"
	BlockPart      = "block"
	ControllerPart = "controller"
	InverterPart   = "inverter"
	ChargerPart    = "charger"
	DCDCPart       = "dc-dc"
	GeneratorPart  = "generator"
	AlternatorPart = "alternator"
)

// partPaths says where a part of a kind stands in a rig, with an asterisk for its name or number.
var partPaths = map[string]string{
	ModulePart: "modules/*/", BlockPart: "bank/block/", ControllerPart: "controllers/*/", InverterPart: "inverters/*/",
	ChargerPart: "shore/chargers/*/", DCDCPart: "charge line/1/dc-dc/", GeneratorPart: "generators/*/", AlternatorPart: "vehicle/alternators/1/",
}

// Part is a generic part that is not an appliance: a class of module, block, controller and so on.
type Part struct {
	Kind   string // one of the constants
	Name   string
	Called []string
	Values []PartValue // in the order of the rig file
}

// PartValue is one figure or word of a part.
type PartValue struct {
	Key     string  // of the rig file
	Typical Typical // of a number; kind None for a word or a size
	Text    string  // the typical value as the rig file writes it
}

// Get returns the value at a key; false where the part says nothing there.
func (p Part) Get(key string) (PartValue, bool) {
	i := slices.IndexFunc(p.Values, func(v PartValue) bool { return v.Key == key })
	if i < 0 {
		return PartValue{}, false
	}
	return p.Values[i], true
}

// Number returns the typical number at a key in the base unit; zero where the part has none.
func (p Part) Number(key string) float64 {
	v, _ := p.Get(key)
	return v.Typical.Value
}

// Parts returns the generic parts of a kind, small to large. The slices inside are shared: do not change them.
func Parts(kind string) []Part {
	var list []Part
	for _, p := range parts() {
		if p.Kind == kind {
			list = append(list, p)
		}
	}
	return list
}

// FindPart returns the generic part of a kind that goes by a name.
func FindPart(kind, name string) (Part, bool) {
	f := foldName(name)
	for _, p := range parts() {
		if p.Kind == kind && slices.ContainsFunc(append([]string{p.Name}, p.Called...), func(n string) bool { return foldName(n) == f }) {
			return p, true
		}
	}
	return Part{}, false
}

var parts = sync.OnceValue(func() []Part {
	all, err := readParts(partFiles)
	if err != nil {
		panic("catalogue: internal error: " + err.Error())
	}
	return all
})

func readParts(files fs.FS) ([]Part, error) {
	paths, err := fs.Glob(files, "parts/*.yaml")
	if err != nil {
		return nil, err
	}
	usual := map[string]string{"parts/modules.yaml": ModulePart, "parts/blocks.yaml": BlockPart}
	var all []Part
	for _, path := range paths {
		text, err := fs.ReadFile(files, path)
		if err != nil {
			return nil, err
		}
		var raw []yaml.MapSlice
		if err := yaml.Unmarshal(text, &raw); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		for i, entry := range raw {
			p, err := readPart(entry, usual[path])
			if err != nil {
				return nil, fmt.Errorf("%s: entry %d (%s): %w", path, i+1, p.Name, err)
			}
			all = append(all, p)
		}
	}
	return all, nil
}

// readPart turns an entry into a part of a kind, or of the kind it names itself.
func readPart(entry yaml.MapSlice, kind string) (Part, error) {
	p := Part{Kind: kind}
	rd := numberReader{from: map[string]string{}, used: map[string]bool{}}
	var values yaml.MapSlice
	for _, item := range entry {
		key := fmt.Sprint(item.Key)
		switch key {
		case "for":
			p.Kind = fmt.Sprint(item.Value)
		case "name":
			p.Name = fmt.Sprint(item.Value)
		case "called":
			p.Called = textsOf(item.Value)
		case "from":
			sources, ok := item.Value.(map[string]any)
			if !ok {
				return p, fmt.Errorf("from: want a group, have %T", item.Value)
			}
			for k, v := range sources {
				rd.from[k] = fmt.Sprint(v)
			}
		default:
			values = append(values, yaml.MapItem{Key: key, Value: item.Value})
		}
	}
	base, known := partPaths[p.Kind]
	if !known {
		return p, fmt.Errorf("no kind of part %q", p.Kind)
	}
	for _, item := range values {
		v, err := readPartValue(base, item.Key.(string), item.Value, &rd)
		if err != nil {
			return p, err
		}
		p.Values = append(p.Values, v)
	}
	for key := range rd.from {
		if !rd.used[key] {
			rd.fail("from: %q has no number", key)
		}
	}
	return p, rd.err
}

// readPartValue reads one value by the document's own description of its place.
func readPartValue(base, key string, raw any, rd *numberReader) (PartValue, error) {
	path := base + key
	if key == "chemistry" {
		path = "bank/" + key
	}
	field, ok := rig.FieldOf(path)
	if !ok {
		return PartValue{}, fmt.Errorf("the rig file has no place %s", path)
	}
	if field.Form != "value" {
		return PartValue{Key: key, Text: fmt.Sprint(raw)}, nil
	}
	var kinds []quantity.Kind
	for _, name := range field.Kinds {
		if k, ok := quantity.ParseKind(name); ok {
			kinds = append(kinds, k)
		}
	}
	v := PartValue{Key: key, Typical: rd.read(key, raw, kinds...), Text: fmt.Sprint(raw)}
	if list := textsOf(raw); len(list) == 3 {
		v.Text = list[1]
	}
	return v, nil
}

// textsOf returns the items of a list as texts, or nothing for anything else.
func textsOf(raw any) []string {
	list, _ := raw.([]any)
	var out []string
	for _, item := range list {
		out = append(out, fmt.Sprint(item))
	}
	return out
}

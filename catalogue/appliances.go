package catalogue

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"campwright/quantity"

	"github.com/goccy/go-yaml"
)

// This file reads the generic appliances in the folder appliances. One entry is one appliance, nameless, told in the words of the rig
// file. A number is [low, typical, high], or alone where it does not spread. Where an entry says nothing under "from", its numbers are
// common practice without a source; the keys that stand there are [DOE-APPLIANCES], [FSEC-PF-344], [LBNL-STANDBY], [PROPANE],
// [RV-MANUALS] and [TRACEBASE].

//go:embed appliances/*.yaml
var applianceFiles embed.FS

// Appliance is a generic appliance: what it usually takes, when, and what it can run on. A Typical of kind None does not apply to it.
type Appliance struct {
	Name        string
	Group       string   // the file it is in: "kitchen", "standing"
	Called      []string // what campers call it, for look-up
	Kind        string   // as the rig file names it: "plain", "furnace" and so on
	Runs        []string // what can feed it, the usual first: "dc", "ac", "propane"
	Power       Drawn    // electricity while it runs; of a furnace its blower, of a two-way appliance its element on AC
	Propane     Drawn
	Control     Typical // DC draw of its board while propane feeds it
	PerDay      Typical // running time in a day; none where it is on all day or follows its duty
	On          string  // usual hours, as the rig file writes them
	Standby     Typical
	Surge       Typical // at start
	PowerFactor Typical
	Count       Typical  // how many a rig usually has
	Instead     []string // appliances that do the same on another store
	Why         string
}

// Drawn is what an appliance takes while it runs, and the share of its hours for which it does.
type Drawn struct{ Rate, Duty Typical }

// rawAppliance is an entry as it stands in a file.
type rawAppliance struct {
	Name         string            `yaml:"name"`
	Called       []string          `yaml:"called"`
	Kind         string            `yaml:"kind"`
	Runs         []string          `yaml:"runs on"`
	Power        any               `yaml:"power"`
	Duty         any               `yaml:"duty"`
	Electric     any               `yaml:"electric"`
	ElectricDuty any               `yaml:"electric duty"`
	Blower       any               `yaml:"blower"`
	Propane      any               `yaml:"propane"`
	PropaneDuty  any               `yaml:"propane duty"`
	Control      any               `yaml:"control"`
	PerDay       any               `yaml:"per day"`
	On           string            `yaml:"on"`
	Standby      any               `yaml:"standby"`
	Surge        any               `yaml:"surge"`
	PowerFactor  any               `yaml:"power factor"`
	Count        any               `yaml:"count"`
	Why          string            `yaml:"why"`
	From         map[string]string `yaml:"from"`
	Instead      []string          `yaml:"instead"`
}

// Appliances returns all generic appliances, group by group. The slices inside are shared: do not change them.
func Appliances() []Appliance { return slices.Clone(appliances()) }

// appliances reads the files once. A file that does not read is a broken promise of ours.
var appliances = sync.OnceValue(func() []Appliance {
	all, err := readAppliances(applianceFiles)
	if err != nil {
		panic("catalogue: internal error: " + err.Error())
	}
	return all
})

func readAppliances(files fs.FS) ([]Appliance, error) {
	paths, err := fs.Glob(files, "appliances/*.yaml")
	if err != nil {
		return nil, err
	}
	var all []Appliance
	for _, path := range paths {
		text, err := fs.ReadFile(files, path)
		if err != nil {
			return nil, err
		}
		var raw []rawAppliance
		if err := yaml.UnmarshalWithOptions(text, &raw, yaml.Strict()); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		group := strings.TrimSuffix(strings.TrimPrefix(path, "appliances/"), ".yaml")
		for _, r := range raw {
			a, err := r.appliance(group)
			if err != nil {
				return nil, fmt.Errorf("%s: %q: %w", path, r.Name, err)
			}
			all = append(all, a)
		}
	}
	return all, nil
}

// appliance turns an entry into an appliance.
func (r *rawAppliance) appliance(group string) (Appliance, error) {
	a := Appliance{Name: r.Name, Group: group, Called: r.Called, Kind: r.Kind, Runs: r.Runs, On: r.On, Instead: r.Instead, Why: r.Why}
	if a.Kind == "" {
		a.Kind = "plain"
	}
	rd := numberReader{why: r.Why, from: r.From, used: map[string]bool{}}
	a.Power = Drawn{rd.read("power", r.Power, quantity.Power), rd.read("duty", r.Duty, quantity.Share)}
	if r.Electric != nil {
		a.Power = Drawn{rd.read("electric", r.Electric, quantity.Power), rd.read("electric duty", r.ElectricDuty, quantity.Share)}
	}
	if r.Blower != nil {
		a.Power.Rate = rd.read("blower", r.Blower, quantity.Power)
	}
	a.Propane = Drawn{rd.read("propane", r.Propane, quantity.Power), rd.read("propane duty", r.PropaneDuty, quantity.Share)}
	if a.Propane.Rate.Kind != quantity.None && r.PropaneDuty == nil {
		a.Propane.Duty = a.Power.Duty
	}
	a.Control = rd.read("control", r.Control, quantity.Power)
	a.PerDay = rd.read("per day", r.PerDay, quantity.Duration)
	a.Standby = rd.read("standby", r.Standby, quantity.Power)
	a.Surge = rd.read("surge", r.Surge, quantity.Power)
	a.PowerFactor = rd.read("power factor", r.PowerFactor, quantity.Share)
	a.Count = rd.read("count", r.Count, quantity.Count)
	for key := range r.From {
		if !rd.used[key] {
			rd.fail("from: %q has no number", key)
		}
	}
	return a, rd.err
}

// numberReader reads the numbers of one entry and keeps the first fault.
type numberReader struct {
	why  string
	from map[string]string
	used map[string]bool
	err  error
}

func (n *numberReader) fail(format string, args ...any) {
	if n.err == nil {
		n.err = fmt.Errorf(format, args...)
	}
}

// read makes a Typical of [low, typical, high], or of a value alone; the zero Typical where nothing stands.
func (n *numberReader) read(key string, raw any, kinds ...quantity.Kind) Typical {
	if raw == nil {
		return Typical{}
	}
	texts := []string{fmt.Sprint(raw)}
	if list, ok := raw.([]any); ok {
		texts = texts[:0]
		for _, item := range list {
			texts = append(texts, fmt.Sprint(item))
		}
	}
	var q []quantity.Quantity
	for _, text := range texts {
		v, err := quantity.Parse(text, kinds...)
		if err != nil {
			n.fail("%s: %w", key, err)
			return Typical{}
		}
		q = append(q, v)
	}
	n.used[key] = true
	t := Typical{Kind: q[0].Kind, Why: n.why, Source: practice}
	if source, ok := n.from[key]; ok {
		t.Source = "[" + source + "]"
	}
	switch len(q) {
	case 1:
		t.Value, t.Low, t.High = q[0].Base, q[0].Base, q[0].Base
	case 3:
		t.Low, t.Value, t.High = q[0].Base, q[1].Base, q[2].Base
	default:
		n.fail("%s: %d numbers; one, or low, typical and high", key, len(q))
	}
	if !(t.Low <= t.Value && t.Value <= t.High) || q[0].Kind != q[len(q)-1].Kind {
		n.fail("%s: %v are not in order", key, texts)
	}
	return t
}

// Feeds tells whether a circuit ("dc", "ac" or "propane") can feed the appliance.
func (a Appliance) Feeds(circuit string) bool { return slices.Contains(a.Runs, circuit) }

// Drawn returns what the appliance takes on a circuit while it runs: heat on propane [W], power otherwise [W]. A furnace on "dc" is its
// blower. False where the circuit gives it nothing.
func (a Appliance) Drawn(circuit string) (Drawn, bool) {
	d := a.Power
	if circuit == "propane" {
		d = a.Propane
	}
	blower := a.Kind == "furnace" && circuit == "dc"
	return d, d.Rate.Kind != quantity.None && (a.Feeds(circuit) || blower)
}

// DailyWh returns the energy that one of the appliance takes from a circuit in a day while it runs as usual [Wh], low, typical and high:
// rate by duty by running time. Standby and the control board are not in it. Zero where the circuit does not feed it.
func (a Appliance) DailyWh(circuit string) (low, typical, high float64) {
	d, ok := a.Drawn(circuit)
	if !ok {
		return 0, 0, 0
	}
	whole := Typical{Low: 1, Value: 1, High: 1}
	duty, hours := d.Duty, a.PerDay
	if duty.Kind == quantity.None {
		duty = whole
	}
	if hours.Kind == quantity.None {
		hours = Typical{Low: 24, Value: 24, High: 24}
	}
	return d.Rate.Low * duty.Low * hours.Low, d.Rate.Value * duty.Value * hours.Value, d.Rate.High * duty.High * hours.High
}

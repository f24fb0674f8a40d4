package store

import "strings"

// one names a member of a list of the document. Appliances go by their names alone.
var one = map[string]string{
	"modules": "module", "controllers": "controller", "arrays": "array", "inverters": "inverter", "generators": "generator", "appliances": "",
	"alternators": "alternator", "chargers": "charger", "trip": "stop", "runs": "run", "devices": "device", "bus bars": "bus bar",
	"fuse blocks": "fuse block", "branches": "branch", "combiners": "combiner",
}

// Where tells a place of a rig in words: "array front, tilt" for arrays/front/tilt, "kettle, power" for appliances/kettle/power.
func Where(path string) string {
	segments := strings.Split(path, "/")
	var words []string
	for i := 0; i < len(segments); i++ {
		kind, list := one[segments[i]]
		if !list || i+1 == len(segments) {
			words = append(words, segments[i])
			continue
		}
		name := segments[i+1]
		if kind != "" && name != kind && !strings.HasPrefix(name, kind+" ") { // a name that says what it is says it once
			name = kind + " " + name
		}
		words = append(words, name)
		i++
	}
	return strings.Join(words, ", ")
}

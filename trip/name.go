package trip

import (
	"strings"

	"campwright/figure"
	"campwright/rig"
)

// nameOf writes a path of the document as people would say it: "arrays/front/run/length" is "run length of front".
func nameOf(path string) string {
	parts := strings.Split(path, "/")
	switch {
	case len(parts) == 3 && parts[0] == "trip" && parts[2] == "site":
		return "shade at stop " + parts[1]
	case len(parts) == 3 && parts[0] == "arrays" && parts[2] == "site":
		return "shade on " + parts[1]
	case len(parts) >= 3 && (parts[0] == "appliances" || parts[0] == "arrays" || parts[0] == "controllers" || parts[0] == "inverters" || parts[0] == "modules"):
		tail := strings.Join(parts[2:], " ")
		tail = strings.TrimSuffix(tail, " rate")
		return tail + " of " + parts[1]
	case len(parts) == 4 && parts[0] == "charge line" && parts[2] == "dc-dc":
		return parts[3] + " of the dc-dc unit"
	case len(parts) == 4 && parts[0] == "charge line" && parts[2] == "relay":
		return parts[3] + " of the charge relay"
	case len(parts) == 4 && parts[0] == "charge line":
		return parts[3] + " of link " + parts[1] + " of the charge line"
	case len(parts) == 3 && parts[0] == "bank":
		return "bank block " + parts[2]
	}
	return strings.Join(parts, " ")
}

// figureOf returns a guess as a figure.
func figureOf(v rig.Value) figure.Figure {
	return figure.Figure{Name: nameOf(v.At.Path), Value: v.Quantity.Base, Kind: v.Quantity.Kind, Low: v.Low, High: v.High, State: v.State, Source: v.At.Path}
}

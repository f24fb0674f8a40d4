package trip

import (
	"strings"
	"testing"

	"campwright/rig"
)

// TestLocate_Label: a camp off a town is called by the town, then how far and which way, so that a number before it is not read with the miles. Ajo, Arizona
// lies at 32.372 N 112.861 W (a gazetteer, from memory), so that 32.45 N is 8.7 km north of it.
func TestLocate_Label(t *testing.T) {
	for asked, want := range map[string][2]string{
		"Ajo AZ":                     {"Ajo, AZ, US", "Ajo, AZ, US"},
		"5 mi N of Ajo AZ":           {"Ajo, AZ, US, 5 mi north", "Ajo, AZ, US, 5 mi north"},
		"12 km south-west of Ajo AZ": {"Ajo, AZ, US, 12 km south-west", "Ajo, AZ, US, 12 km south-west"},
		"3 miles nne from Ajo AZ":    {"Ajo, AZ, US, 3 miles north-northeast", "Ajo, AZ, US, 3 miles north-northeast"},
		"32.45 N 112.86 W":           {"Ajo, AZ, US, 5 mi north", "Ajo, AZ, US, 9 km north"},
		"32.372 N 112.80 W":          {"Ajo, AZ, US, 4 mi east", "Ajo, AZ, US, 6 km east"},
	} {
		doc, faults := rig.Decode(strings.NewReader("campwright: 1\nname: x\nkind: van\nhome: {place: " + asked + "}\n"))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		spot, err := Locate(doc.Home.Place)
		if err != nil {
			t.Errorf("%s: %v", asked, err)
			continue
		}
		site := Site{Name: spot.Name, named: spot.named}
		if got := site.called(); got.us != want[0] || got.metric != want[1] {
			t.Errorf("%s: %q and %q, wanted %q", asked, got.us, got.metric, want)
		}
	}
}

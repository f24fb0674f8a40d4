package place

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"campwright/internal/near"
)

// Towns everyone in the trade knows. Positions and elevations from memory of maps, to 0.1 degree and 150 m; clocks from memory: hours
// behind Greenwich in January and in July.
func TestKnownTowns(t *testing.T) {
	checked := 0
	for _, c := range []struct {
		ask, want           string
		latitude, longitude float64
		elevation           float64
		january, july       float64
	}{
		{"quartzsite", "Quartzsite, AZ, US", 33.66, -114.23, 270, -7, -7},
		{"Moab UT", "Moab, UT, US", 38.57, -109.55, 1230, -7, -6},
		{"moab, utah", "Moab, UT, US", 38.57, -109.55, 1230, -7, -6},
		{"Moab, UT, USA", "Moab, UT, US", 38.57, -109.55, 1230, -7, -6},
		{"MOAB UTAH USA", "Moab, UT, US", 38.57, -109.55, 1230, -7, -6},
		{"Halifax, CA", "Halifax, NS, CA", 44.65, -63.57, 50, -4, -3},
		{"Halifax Nova Scotia", "Halifax, NS, CA", 44.65, -63.57, 50, -4, -3},
		{"st john's, newfoundland", "St. John's, NL, CA", 47.56, -52.71, 40, -3.5, -2.5},
		{"Saint George UT", "Saint George, UT, US", 37.10, -113.58, 820, -7, -6},
		{"Key West", "Key West, FL, US", 24.56, -81.78, 2, -5, -4},
		{"Baker, CA", "Baker, CA, US", 35.27, -116.07, 285, -8, -7},
		{"Alice Springs", "Alice Springs, NT, AU", -23.70, 133.88, 580, 9.5, 9.5},
		{"Perth, WA", "Perth, WA, AU", -31.95, 115.86, 15, 8, 8},
		{"Queenstown, New Zealand", "Queenstown, NZ", -45.03, 168.66, 330, 13, 12},
		{"Zurich", "Zürich, CH", 47.37, 8.54, 410, 1, 2},
		{"zürich", "Zürich, CH", 47.37, 8.54, 410, 1, 2},
		{"paris, TX", "Paris, TX, US", 33.66, -95.56, 180, -6, -5},
		{"paris", "Paris, FR", 48.86, 2.35, 40, 1, 2},
		{"Inverness, Scotland", "Inverness, Scotland, GB", 57.48, -4.22, 15, 0, 1},
		{"Mt Isa", "Mount Isa, QLD, AU", -20.73, 139.49, 360, 10, 10},
		{"Ft Collins", "Fort Collins, CO, US", 40.59, -105.08, 1525, -7, -6},
		{"New York", "New York City, NY, US", 40.71, -74.01, 60, -5, -4},
		{"salt lake", "Salt Lake City, UT, US", 40.76, -111.89, 1300, -7, -6},
		{"portland oregon", "Portland, OR, US", 45.52, -122.68, 15, -8, -7},
		{"tok, alaska", "Tok, AK, US", 63.33, -143.0, 500, -9, -8},
		{"Whitehorse, Yukon", "Whitehorse, YT, CA", 60.72, -135.06, 640, -7, -7},
		{"San Felipe, Baja California, Mexico", "", 0, 0, 0, 0, 0},
	} {
		found, others, err := Find(c.ask)
		if err != nil {
			t.Fatal(err)
		}
		if c.want == "" {
			if len(found) > 0 {
				t.Errorf("%s: %v, though the table knows no regions there", c.ask, found)
			}
			continue
		}
		if len(found) == 0 {
			t.Errorf("%s: not found, near %v", c.ask, others)
			continue
		}
		p := found[0]
		if p.String() != c.want {
			t.Errorf("%s: %s, want %s", c.ask, p, c.want)
			continue
		}
		near.Abs(t, c.ask+": latitude", p.Latitude, c.latitude, 0.1, "from memory")
		near.Abs(t, c.ask+": longitude", p.Longitude, c.longitude, 0.1, "from memory")
		near.Abs(t, c.ask+": elevation [m]", p.Elevation, c.elevation, 150, "from memory")
		near.Abs(t, c.ask+": clock in January [h]", hours(t, p.Zone, 1), c.january, 0, "from memory")
		near.Abs(t, c.ask+": clock in July [h]", hours(t, p.Zone, 7), c.july, 0, "from memory")
		again, _, err := Find(p.String())
		if err != nil || !slices.Contains(again, p) {
			t.Errorf("%s: its own name finds %v, %v", p, again, err)
		}
		checked++
	}
	if checked < 24 {
		t.Fatalf("checked only %d towns", checked)
	}
}

// hours is how far a zone is ahead of Greenwich in the middle of a month of 2027.
func hours(t testing.TB, zone string, month time.Month) float64 {
	t.Helper()
	where, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	_, offset := time.Date(2027, month, 15, 12, 0, 0, 0, where).Zone()
	return float64(offset) / 3600
}

// Slips of the pen, missing accents, beginnings of names: the right town is among the first three.
func TestNearMisses(t *testing.T) {
	for ask, want := range map[string]string{
		"quartzite":        "Quartzsite, AZ, US",
		"quartsite az":     "Quartzsite, AZ, US",
		"Quartz":           "Quartzsite, AZ, US",
		"moba ut":          "Moab, UT, US",
		"Las Cruses":       "Las Cruces, NM, US",
		"Wahsington, DC":   "Washington, DC, US",
		"Albuqurque":       "Albuquerque, NM, US",
		"Flagstaf, AZ":     "Flagstaff, AZ, US",
		"Yosemite":         "Yosemite Valley, CA, US",
		"Alise Springs":    "Alice Springs, NT, AU",
		"Saskaton":         "Saskatoon, SK, CA",
		"Trois Riviere QC": "Trois-Rivières, QC, CA",
		"Borego Springs":   "Borrego Springs, CA, US",
	} {
		found, others, err := Find(ask)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, p := range others {
			names = append(names, p.String())
		}
		if len(found) > 0 || !slices.Contains(names[:min(3, len(names))], want) {
			t.Errorf("%s: found %v, near %v, want near %s", ask, found, names, want)
		}
	}
}

// Places of one name: all are offered, the largest first, each told from the others.
// Words that say that a place is thereabouts mean the town. (The towns are real ones.)
func TestThereabouts(t *testing.T) {
	for text, want := range map[string]string{
		"near Ajo, Arizona": "Ajo, AZ, US", "outside of Moab Utah": "Moab, UT, US", "somewhere near Quartzsite": "Quartzsite, AZ, US",
		"just outside Moab, UT": "Moab, UT, US", "around Halifax, CA": "Halifax, NS, CA",
	} {
		found, _, err := Find(text)
		switch {
		case err != nil:
			t.Errorf("%s: %v", text, err)
		case len(found) == 0 || found[0].String() != want:
			t.Errorf("%s: %v, wanted %s", text, found, want)
		}
	}
	if _, near, err := Find("near Quartsite"); err != nil || len(near) == 0 || near[0].String() != "Quartzsite, AZ, US" {
		t.Errorf("a slip of the pen after such a word: %v, %v", near, err)
	}
}

func TestNamesakes(t *testing.T) {
	found, _, err := Find("Springfield")
	if err != nil {
		t.Fatal(err)
	}
	if len(found) < 10 {
		t.Fatalf("only %d Springfields", len(found))
	}
	states := map[string]bool{}
	for i, p := range found {
		states[p.Region] = true
		if i > 0 && p.Population > found[i-1].Population {
			t.Errorf("%v is larger than %v before it", p, found[i-1])
		}
	}
	for _, s := range []string{"MO", "MA", "IL", "OH", "OR"} { // the five largest, from memory
		if !states[s] {
			t.Errorf("no Springfield, %s", s)
		}
	}
}

// What is not there is not made up.
func TestUnknown(t *testing.T) {
	for _, ask := range []string{"Xqzzyvw", "Slab Cyti Bombay Flats", "Atlantis Deep"} {
		found, others, err := Find(ask)
		if err != nil {
			t.Fatal(err)
		}
		if len(found) > 0 || len(others) > 0 {
			t.Errorf("%s: %v, %v", ask, found, others)
		}
	}
	for _, ask := range []string{"", "  ", ".,-", strings.Repeat("a", 101), "400 mi N of Moab"} {
		if found, others, err := Find(ask); err == nil || found != nil || others != nil {
			t.Errorf("%q: %v, %v, %v", ask, found, others, err)
		}
	}
	if _, _, err := Find(strings.Repeat("a", 100)); err != nil {
		t.Error(err)
	}
}

// Offsets: a tenth of a degree of latitude is 11.1 km; going out and coming back leads home.
func TestOffsets(t *testing.T) {
	moab, _, err := Find("Moab UT")
	if err != nil || len(moab) != 1 {
		t.Fatal(moab, err)
	}
	for ask, want := range map[string][2]float64{
		"12 mi N of Moab UT":               {38.573 + 12*1.609344/111.19, -109.55},
		"20 km south of moab, utah":        {38.573 - 20/111.19, -109.55},
		"10 miles East of Moab":            {38.573, -109.55 + 16.09344/(111.19*math.Cos(38.573*math.Pi/180))},
		"14.142 kilometers NW from Moab":   {38.573 + 10/111.19, -109.55 - 10/(111.19*math.Cos(38.62*math.Pi/180))},
		"14.142 km north-west of Moab, UT": {38.573 + 10/111.19, -109.55 - 10/(111.19*math.Cos(38.62*math.Pi/180))},
	} {
		found, _, err := Find(ask)
		if err != nil || len(found) == 0 {
			t.Errorf("%s: %v, %v", ask, found, err)
			continue
		}
		p := found[0]
		near.Abs(t, ask+": latitude", p.Latitude, want[0], 0.002, "a degree of latitude is 111.19 km on the sphere")
		near.Abs(t, ask+": longitude", p.Longitude, want[1], 0.002, "the same by the cosine of latitude")
		if again, _, err := Find(p.String()); err != nil || !slices.Contains(again, p) {
			t.Errorf("%s: its own name %q finds %v, %v", ask, p, again, err)
		}
	}
	for bearing := 0.0; bearing < 360; bearing += 30 {
		lat, lon := moab[0].moved(100, bearing)
		km, b := moab[0].Distance(lat, lon)
		near.Abs(t, "way back [km]", km, 100, 1e-6, "identity")
		near.Abs(t, "bearing", math.Remainder(b-bearing, 360), 0, 1e-6, "identity")
	}
}

// The nearest place by going through all of them the slow way.
func TestNearest(t *testing.T) {
	tab := readTable()
	for _, c := range [][2]float64{{38.75, -109.6}, {33.4, -115}, {-25, 130}, {65, -150}, {0, 179.99}, {46, 7}} {
		p, km, bearing, err := Nearest(c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1)
		for i := range tab.count {
			d, _ := tab.place(i).Distance(c[0], c[1])
			best = min(best, d)
		}
		near.Abs(t, "distance [km]", km, best, 1e-6, "all of them")
		lat, lon := p.moved(km, bearing)
		near.Abs(t, "latitude", lat, c[0], 1e-6, "identity")
		near.Abs(t, "longitude", lon, c[1], 1e-6, "identity")
	}
	if _, _, _, err := Nearest(math.NaN(), 0); err == nil {
		t.Error("NaN passes")
	}
}

func TestFold(t *testing.T) {
	for name, want := range map[string]string{
		"St. John's": "saint johns", "Trois-Rivières": "trois rivieres", "Ft. Collins": "fort collins", "Mt Isa": "mount isa", "Ystad": "ystad",
		"Saint-Louis": "saint louis", "ŁÓDŹ": "lodz", "Straße": "strasse", "  A  B ": "a b", "Sunch’ŏn": "sunchon", "Zu\u0308rich": "zurich", "-": "", "": "", "Ste": "saint",
		"東京": "東京",
	} {
		if got := Fold(name); got != want {
			t.Errorf("%q folds to %q, want %q", name, got, want)
		}
		if again := Fold(want); again != want {
			t.Errorf("%q folds on to %q", want, again)
		}
	}
}

// The table is whole and sorted; it names its owners.
func TestTable(t *testing.T) {
	h, body := readHeader()
	sum := sha256.Sum256(body)
	if got := hex.EncodeToString(sum[:]); got != h.SHA256 {
		t.Errorf("checksum %s, header says %s", got, h.SHA256)
	}
	if n := len(placeBytes) + len(zoneBytes); n > 1600000 {
		t.Errorf("tables of %d bytes, more than 1.6 MB", n)
	}
	if a := Attribution(); !strings.Contains(a, "GeoNames") || !strings.Contains(a, "CC BY 4.0") || !strings.Contains(a, "CC0") {
		t.Errorf("attribution: %s", a)
	}
	tab := readTable()
	if tab.count < 100000 || len(tab.starts) != tab.count+1 {
		t.Fatalf("%d places, %d names", tab.count, len(tab.starts)-1)
	}
	last := ""
	for i := range tab.count {
		f := Fold(string(tab.name(i)))
		if f < last || f == "" {
			t.Fatalf("place %d: %q after %q", i, f, last)
		}
		last = f
		if lat, lon := tab.point(i); checkPoint(lat, lon) != nil {
			t.Fatalf("place %d at %v, %v", i, lat, lon)
		}
		if g := tab.group(i); tab.countries[g.country] == "" && g.country != "XK" { // Kosovo has no code of the standard
			t.Fatalf("place %d in the country %q", i, g.country)
		}
	}
}

// Distance of words against the plain recursive definition.
func TestDistance(t *testing.T) {
	words := []string{"", "a", "ab", "ba", "abc", "acb", "moab", "moba", "mab", "moabs", "xyzzy"}
	var rows distanceRows
	tried := 0
	for _, a := range words {
		for _, b := range words {
			want := min(slow(a, b), 4)
			if got := rows.distance([]byte(a), []byte(b), 3); got != want {
				t.Errorf("%q to %q: %d, want %d", a, b, got, want)
			}
			tried++
		}
	}
	if tried != len(words)*len(words) {
		t.Fatal(tried)
	}
}

func slow(a, b string) int {
	if a == "" || b == "" {
		return len(a) + len(b)
	}
	d := slow(a[1:], b[1:])
	if a[0] != b[0] {
		d++
	}
	d = min(d, slow(a[1:], b)+1, slow(a, b[1:])+1)
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		d = min(d, slow(a[2:], b[2:])+1)
	}
	return d
}

func FuzzFind(f *testing.F) {
	seeds := []string{"quartzsite", "Moab UT", "Halifax, CA", "12 mi N of Moab", "Zürich", ",,,", "a, b, c, d", "\xff\xfe", "0 km n of x", "St", "東京", "999999999999999999999 mi N of Moab"}
	for _, s := range seeds {
		f.Add(s)
	}
	if len(seeds) == 0 {
		f.Fatal("no seeds")
	}
	f.Fuzz(func(t *testing.T, text string) {
		found, others, err := Find(text)
		if err != nil && (found != nil || others != nil) {
			t.Fatalf("%q: an answer beside the error %v", text, err)
		}
		if len(found) > mostFound || len(others) > mostNear || len(found) > 0 && len(others) > 0 {
			t.Fatalf("%q: %d found, %d near", text, len(found), len(others))
		}
		for _, p := range append(found, others...) {
			if checkPoint(p.Latitude, p.Longitude) != nil || p.Zone == "" || p.Name == "" {
				t.Fatalf("%q: %+v", text, p)
			}
		}
	})
}

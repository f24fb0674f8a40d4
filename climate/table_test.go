package climate

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

// The table is whole: its checksum, its size, every band inflates, and it names its owners.
func TestTable(t *testing.T) {
	h, body := readHeader()
	sum := sha256.Sum256(body)
	if got := hex.EncodeToString(sum[:]); got != h.SHA256 {
		t.Errorf("checksum of the table is %s, its header says %s", got, h.SHA256)
	}
	if len(tableBytes) > 3<<20 {
		t.Errorf("table of %d bytes, more than 3 MB", len(tableBytes))
	}
	for _, name := range []string{"MERRA-2", "GLDAS-2", "P.1510-1", "ERA-Interim", "ETOPO5", "MIT", "BSD-3", "gsee-climate-data", "pvcz"} {
		if !strings.Contains(Attribution(), name) {
			t.Errorf("the attribution does not name %s", name)
		}
	}
	for _, p := range []string{"gsee-climate-data", "itur", "pvcz"} {
		if h.Packages[p] == "" {
			t.Errorf("no version of the package %s", p)
		}
	}
	read := 0
	for latitude := -59.0; latitude < northEdge; latitude += bandStep {
		b := openBlock(latitude)
		if !(float64(b.south) <= latitude && latitude < float64(b.south+bandStep)) {
			t.Errorf("latitude %v in the band from %d", latitude, b.south)
		}
		read++
	}
	if read != bands {
		t.Fatalf("read %d bands", read)
	}
}

// Places everyone knows: on land, at the right height, warm or cold at the right time. Elevations and temperatures from memory of
// gazetteers and climate tables, to the tolerance given.
func TestKnownPlaces(t *testing.T) {
	for _, c := range []struct {
		name                string
		latitude, longitude float64
		cell, cellTolerance float64
		january, july       float64
	}{
		{"Denver", 39.74, -104.99, 1700, 400, 0, 23},
		{"Winnipeg", 49.90, -97.14, 240, 60, -16, 20},
		{"Alice Springs", -23.70, 133.88, 600, 150, 29, 12},
		{"Berlin", 52.52, 13.40, 45, 30, 0.5, 19},
		{"Christchurch", -43.53, 172.62, 100, 250, 17, 6},
		{"Fairbanks", 64.84, -147.72, 250, 150, -23, 17},
		{"Ushuaia", -54.80, -68.30, 250, 250, 10, 1.5},
		{"Reykjavik", 64.13, -21.90, 80, 120, 0, 11},
	} {
		a, err := At(c.latitude, c.longitude, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near.Abs(t, c.name+": land around [m]", a.CellElevation, c.cell, c.cellTolerance, "from memory")
		near.Abs(t, c.name+": January [°C]", a.Temperature[0], c.january, 4, "from memory of climate tables")
		near.Abs(t, c.name+": July [°C]", a.Temperature[6], c.july, 4, "from memory of climate tables")
		if !(a.RecordLow < a.AnnualLow && a.RecordHigh > a.Temperature[0] && a.RecordHigh > a.Temperature[6]+5) {
			t.Errorf("%s: records %v and %v about a yearly low of %v", c.name, a.RecordLow, a.RecordHigh, a.AnnualLow)
		}
		for m := range 12 {
			near.Within(t, c.name+": turbidity", a.Turbidity[m], 1.8, 5.5, "published maps")
		}
	}
}

// Sea, ice and the far north are refused in words; the coast is not, nor the last degree.
func TestWhereThereIsNoClimate(t *testing.T) {
	for _, p := range [][2]float64{{72.1, -120}, {80, 0}, {-60.1, 0}, {-75, 0}, {35, -40}, {0, -30}, {21.3, -157.9}} {
		if c, err := At(p[0], p[1], nil); err == nil {
			t.Errorf("%v: %+v", p, c)
		} else if !strings.Contains(err.Error(), "no climatology") {
			t.Errorf("%v: %v", p, err)
		}
	}
	for _, p := range [][2]float64{{72, -120}, {24.56, -81.78}, {44.65, -63.57}, {49.15, -125.9}, {47.56, -52.71}, {36.95, -122.03}, {-37.8, 144.96}, {41.05, -71.86}, {29.3, -94.8}, {-33.0, 137.5}} {
		if _, err := At(p[0], p[1], nil); err != nil {
			t.Errorf("%v: %v", p, err)
		}
	}
	a, err := At(65, 180, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := At(65, -180, nil)
	if err != nil {
		t.Fatal(err)
	}
	a.Longitude, b.Longitude = 0, 0
	if a != b {
		t.Errorf("180 E and 180 W differ: %+v, %+v", a, b)
	}
}

// Climate has no seams: neither at the edges of bands nor of cells does it jump.
func TestNoSeams(t *testing.T) {
	checked := 0
	for _, latitude := range []float64{24, 36, 48, 60, 42, 37.5} {
		below, err1 := At(latitude-1e-6, -100.3, nil)
		above, err2 := At(latitude+1e-6, -100.3, nil)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for m := range 12 {
			near.Abs(t, "clearness", above.Clearness[m], below.Clearness[m], 1e-4, "continuous")
			near.Abs(t, "temperature", above.Temperature[m], below.Temperature[m], 1e-3, "continuous")
			checked++
		}
		near.Abs(t, "record low", above.RecordLow, below.RecordLow, 1e-2, "continuous")
	}
	if checked != 72 {
		t.Fatalf("checked %d", checked)
	}
}

// A higher place in the same cell is colder by the lapse and nothing else.
func TestElevation(t *testing.T) {
	low, high := 1000.0, 2000.0
	a, err := At(38.57, -109.55, &low)
	if err != nil {
		t.Fatal(err)
	}
	b, err := At(38.57, -109.55, &high)
	if err != nil {
		t.Fatal(err)
	}
	for m := range 12 {
		near.Abs(t, "1000 m [K]", a.Temperature[m]-b.Temperature[m], 4.5, 1e-9, "4.5 K/km")
		near.Abs(t, "clearness", a.Clearness[m], b.Clearness[m], 0, "the same sky")
	}
	if !a.ElevationGiven || a.TemperatureSpread >= mustAt(t, 38.57, -109.55).TemperatureSpread {
		t.Error("a known elevation does not narrow the temperature")
	}
	if r := b.Remarks(0); len(r) == 0 || !strings.Contains(r[0], "snow") {
		t.Errorf("no remark of snow at %.1f °C: %v", b.Temperature[0], r)
	}
	if a.Remarks(12) != nil || a.Remarks(-1) != nil {
		t.Error("remarks on a month that is none")
	}
	if math.Abs(a.Wind-1.5) > 0 {
		t.Errorf("wind guessed as %v", a.Wind)
	}
}

package place

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"io"
	"strings"
	"sync"
)

// The map of time zones: names, one a line, an empty line, then the map; deflated. The map is that of tz-lookup, in the public domain
// (CC0): a field of 48 by 24 cells of 7.5 degrees, each either a zone or cut in four, and so on. A cell is a number of two characters to
// the base 56, the first of them '#'; the largest numbers are zones, counted from the end, the others lead to the four below.

//go:embed zones.bin
var zoneBytes []byte

type zoneMap struct {
	names []string
	cells string
}

// readZones inflates the map once; it never changes.
var readZones = sync.OnceValue(func() zoneMap {
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(zoneBytes)))
	if err != nil {
		panic("place: internal error: the map of time zones does not inflate")
	}
	names, cells, ok := strings.Cut(string(text), "\n\n")
	if !ok {
		panic("place: internal error: the map of time zones is cut short")
	}
	return zoneMap{names: strings.Split(names, "\n"), cells: cells}
})

const (
	zoneBase    = 56
	zoneColumns = 48
	zoneRows    = 24
)

// Zone returns the IANA name of the time zone of a point: latitude [deg, -90 to 90], longitude [deg, -180 to 180]; at sea the nautical
// zone. A point outside is an error.
//
// Accuracy: a few kilometres at borders; of the towns of the table, those whose clock differs from the gazetteer's are counted in the
// tests. Source: the map of tz-lookup (CC0), made from the time zone boundaries of the OpenStreetMap contributors.
func Zone(latitude, longitude float64) (string, error) {
	if err := checkPoint(latitude, longitude); err != nil {
		return "", err
	}
	z := readZones()
	if latitude == 90 {
		return "Etc/GMT", nil // the row north of the pole is no row
	}
	x := zoneColumns * (180 + longitude) / 360.00000000000006 // 180 E falls into the last column
	y := zoneRows * (90 - latitude) / 180.00000000000003
	column, row := int(x), int(y)
	number := z.number(zoneColumns*row + column)
	firstZone := zoneBase*zoneBase - len(z.names)
	node := -1
	for number < firstZone {
		node += number + 1
		x, y = 2*(x-float64(column)), 2*(y-float64(row))
		column, row = int(x), int(y)
		number = z.number(zoneColumns*zoneRows + 4*node + 2*row + column)
	}
	return z.names[number-firstZone], nil
}

// number is cell i of the map.
func (z zoneMap) number(i int) int {
	return zoneBase*int(z.cells[2*i]-'#') + int(z.cells[2*i+1]-'#')
}

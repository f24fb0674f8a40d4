package place

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
)

// The table, made by tools/places: eight bytes of magic, the length of the header as 32 bits, the header in JSON, then five parts, all
// but the last deflated. Groups: country, region and zone apart by tabs, one group a line. Countries: code and English name. Names, one a
// line, sorted by their folds and then by falling population. Columns, each a plane of one byte for every place: the third byte of
// latitude + 90 and of longitude + 180 in thousandths of a degree, group (2, low byte first), elevation + 500 in 10 m (2), population as
// 1 + 8 log2, 0 for unknown. Last, as they are since they do not deflate, the low two bytes of latitude and of longitude.

//go:embed places.bin
var placeBytes []byte

type group struct {
	country, region, zone string
}

type table struct {
	groups    []group
	countries map[string]string // code to English name
	names     []byte
	starts    []uint32 // where each name begins, and one past the last
	planes    []byte   // columns
	points    []byte   // columns of the low bytes of latitude and longitude
	count     int
}

type header struct {
	Attribution string `json:"attribution"`
	Count       int    `json:"count"`
	Lengths     [5]int `json:"lengths"`
	Sizes       [5]int `json:"sizes"`
	SHA256      string `json:"sha256"`
}

// readHeader splits the embedded table.
func readHeader() (header, []byte) {
	var h header
	rest, ok := bytes.CutPrefix(placeBytes, []byte("CWPLACE1"))
	if !ok {
		panic("place: internal error: the table is not one")
	}
	n := binary.LittleEndian.Uint32(rest)
	if err := json.Unmarshal(rest[4:4+n], &h); err != nil {
		panic("place: internal error: the table's header does not read")
	}
	return h, rest[4+n:]
}

// Attribution names the sources of the table and their owners, to be shown wherever a program shows its credits.
func Attribution() string {
	h, _ := readHeader()
	return h.Attribution
}

// readTable inflates the table once; it never changes.
var readTable = sync.OnceValue(inflate)

func inflate() *table {
	h, body := readHeader()
	parts := make([][]byte, len(h.Lengths))
	var wait sync.WaitGroup
	for i, n := range h.Lengths {
		part := body[:n]
		body = body[n:]
		if i == len(parts)-1 {
			parts[i] = part
			break
		}
		wait.Go(func() {
			out := bytes.NewBuffer(make([]byte, 0, h.Sizes[i]+512))
			if _, err := io.Copy(out, flate.NewReader(bytes.NewReader(part))); err != nil {
				panic(fmt.Sprintf("place: internal error: part %d of the table: %v", i, err))
			}
			parts[i] = out.Bytes()
		})
	}
	wait.Wait()
	t := &table{names: parts[2], planes: parts[3], points: parts[4], count: h.Count, countries: map[string]string{}}
	for line := range strings.SplitSeq(string(parts[0]), "\n") {
		f := strings.Split(line, "\t")
		t.groups = append(t.groups, group{f[0], f[1], f[2]})
	}
	for line := range strings.SplitSeq(string(parts[1]), "\n") {
		code, name, _ := strings.Cut(line, "\t")
		t.countries[code] = name
	}
	t.starts = make([]uint32, 1, h.Count+1)
	for at := 0; at < len(t.names); {
		at += bytes.IndexByte(t.names[at:], '\n') + 1
		t.starts = append(t.starts, uint32(at))
	}
	return t
}

// name returns the name of entry i, in the table's memory.
func (t *table) name(i int) []byte { return t.names[t.starts[i] : t.starts[i+1]-1] }

func (t *table) group(i int) *group {
	return &t.groups[int(t.planes[2*t.count+i])|int(t.planes[3*t.count+i])<<8]
}

func (t *table) point(i int) (latitude, longitude float64) {
	lat := int(t.points[i]) | int(t.points[t.count+i])<<8 | int(t.planes[i])<<16
	lon := int(t.points[2*t.count+i]) | int(t.points[3*t.count+i])<<8 | int(t.planes[t.count+i])<<16
	return float64(lat)/1000 - 90, float64(lon)/1000 - 180
}

// size is the rank of entry i by population, 0 to 255.
func (t *table) size(i int) int { return int(t.planes[6*t.count+i]) }

// place returns entry i.
func (t *table) place(i int) Place {
	g := t.group(i)
	p := Place{Name: string(t.name(i)), Region: g.region, Country: g.country, Zone: g.zone}
	if name, ok := regionCodes[g.country+"."+g.region]; ok {
		p.Region = name
	}
	p.Latitude, p.Longitude = t.point(i)
	p.Elevation = float64(int(t.planes[4*t.count+i])|int(t.planes[5*t.count+i])<<8)*10 - 500
	if s := t.size(i); s > 0 {
		p.Population = int(math.Round(math.Exp2(float64(s-1) / 8)))
	}
	return p
}

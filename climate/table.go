package climate

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sync"
)

// The climatology, made by tools/climate/make_table.py: eight bytes of magic, the length of the header as 32 bits, the header in JSON,
// then one deflated block for each band of 12 degrees of latitude. A look-up inflates one block. A block holds, in this order:
//
//	clearness     12 months × 7 rows × 120, 3 degrees from 180 W, rows from 3 degrees south of the band; steps of 1/300
//	station       7 rows × 120, what share of the correction's spread the stations near by have taken away; steps of 1/254
//	scale         30 rows × 720, 0.5 degree cells, rows from 1.5 degrees south of the band; 0.595 and steps of 0.0025
//	low, high     as scale: lowest and highest temperature of nine years; -80 and -40 °C and steps of 0.5 K
//	elevation     17 rows × 480, 0.75 degree nodes, rows from the band's south edge; steps of 25 m
//	temperature   12 months × 17 rows × 480, as elevation, 16 bits: all high bytes, then all low bytes; -100 °C and steps of 0.25 K
//
// Bytes are differences along longitude modulo 256 (65536 for temperature). Zero means nothing there, values begin at one; elevation
// and temperature are known everywhere and begin at zero.

//go:embed table.bin
var tableBytes []byte

const (
	magic      = "CWCLIM1\n"
	bandStep   = 12
	southEdge  = -60
	northEdge  = 72
	bands      = (northEdge - southEdge) / bandStep
	coarseRows = 7
	coarseCols = 120
	cellRows   = 30
	cellCols   = 720
	nodeRows   = 17
	nodeCols   = 480
	blockSize  = 13*coarseRows*coarseCols + 3*cellRows*cellCols + nodeRows*nodeCols + 2*12*nodeRows*nodeCols
)

// header is what the table says of itself.
type header struct {
	Attribution  string            `json:"attribution"`
	Correction   string            `json:"correction"`
	Packages     map[string]string `json:"packages"`
	DefaultScale float64           `json:"default_scale"`
	SHA256       string            `json:"sha256"`
	Lengths      []int             `json:"lengths"`
}

// readHeader splits the embedded table; it is read once, and never changes.
var readHeader = sync.OnceValues(func() (header, []byte) {
	var h header
	if !bytes.HasPrefix(tableBytes, []byte(magic)) {
		panic("climate: internal error: the table is not one")
	}
	rest := tableBytes[len(magic):]
	n := binary.LittleEndian.Uint32(rest)
	if err := json.Unmarshal(rest[4:4+n], &h); err != nil || len(h.Lengths) != bands {
		panic("climate: internal error: the table's header does not read")
	}
	return h, rest[4+n:]
})

// Attribution names the sources of the climatology and their owners, to be shown wherever a program shows its credits.
func Attribution() string {
	h, _ := readHeader()
	return h.Attribution
}

// block is one band of the table, inflated.
type block struct {
	south int // its south edge [deg]
	data  []byte
}

// openBlock inflates the band that holds a latitude from 60 S to 72 N.
func openBlock(latitude float64) block {
	h, body := readHeader()
	band := min(int((latitude-southEdge)/bandStep), bands-1)
	start := 0
	for _, n := range h.Lengths[:band] {
		start += n
	}
	data := make([]byte, blockSize)
	r := flate.NewReader(bytes.NewReader(body[start : start+h.Lengths[band]]))
	if _, err := io.ReadFull(r, data); err != nil {
		panic(fmt.Sprintf("climate: internal error: band %d of the table: %v", band, err))
	}
	return block{south: southEdge + band*bandStep, data: data}
}

// grid is one field of a block: rows of differences along longitude, with the geometry of its nodes.
type grid struct {
	data       []byte
	low        []byte // low bytes, for 16-bit fields
	rows, cols int
	south      float64 // latitude of the first row [deg]
	west       float64 // longitude of the first column [deg]
	step       float64 // [deg]
	known      bool    // known everywhere: values begin at zero
	offset     float64
	scale      float64
}

// coarse is plane i of the 3 degree grid: the twelve months, then the stations' share.
func (b block) coarse(i int) grid {
	g := grid{rows: coarseRows, cols: coarseCols, south: float64(b.south - 3), west: -180, step: 3, scale: 1.0 / 300}
	if i == 12 {
		g.scale = 1.0 / 254
	}
	size := coarseRows * coarseCols
	g.data = b.data[i*size : (i+1)*size]
	return g
}

// cells is plane i of the 0.5 degree grid: scale, low, high.
func (b block) cells(i int) grid {
	g := grid{rows: cellRows, cols: cellCols, south: float64(b.south) - 1.25, west: -179.75, step: 0.5}
	g.offset, g.scale = [3]float64{0.595, -80, -40}[i], [3]float64{0.0025, 0.5, 0.5}[i]
	start, size := 13*coarseRows*coarseCols, cellRows*cellCols
	g.data = b.data[start+i*size : start+(i+1)*size]
	return g
}

const nodesStart = 13*coarseRows*coarseCols + 3*cellRows*cellCols

// elevation is the mean elevation around the nodes of the 0.75 degree grid [m].
func (b block) elevation() grid {
	return grid{data: b.data[nodesStart : nodesStart+nodeRows*nodeCols], rows: nodeRows, cols: nodeCols, south: float64(b.south), west: -180,
		step: 0.75, known: true, scale: 25}
}

// temperature is the mean temperature of a month, 0 to 11 [°C].
func (b block) temperature(month int) grid {
	size := nodeRows * nodeCols
	start := nodesStart + size
	return grid{data: b.data[start+month*size : start+(month+1)*size], low: b.data[start+(12+month)*size : start+(13+month)*size],
		rows: nodeRows, cols: nodeCols, south: float64(b.south), west: -180, step: 0.75, known: true, offset: -100, scale: 0.25}
}

// row fills dst, of g.cols values, with row i; NaN where there is nothing.
func (g *grid) row(i int, dst []float64) {
	sum := 0
	for j := range g.cols {
		k := i*g.cols + j
		if g.low != nil {
			sum = (sum + int(g.data[k])<<8 + int(g.low[k])) & 0xffff
		} else {
			sum = (sum + int(g.data[k])) & 0xff
		}
		switch {
		case g.known:
			dst[j] = g.offset + g.scale*float64(sum)
		case sum == 0:
			dst[j] = math.NaN()
		default:
			dst[j] = g.offset + g.scale*float64(sum-1)
		}
	}
}

// at returns the field at a point: bilinear over those of the four nodes around it where there is something; else the nearest such
// node within reach nodes; else NaN.
func (g *grid) at(latitude, longitude float64, reach int) float64 {
	y, x := (latitude-g.south)/g.step, (longitude-g.west)/g.step
	i0, j0 := int(math.Floor(y)), int(math.Floor(x))
	row := make([]float64, g.cols)
	sum, weight := 0.0, 0.0
	nearest, best := math.NaN(), math.Inf(1)
	cos := math.Cos(latitude * math.Pi / 180)
	for i := i0 - reach; i <= i0+1+reach; i++ {
		if i < 0 || i >= g.rows {
			continue
		}
		g.row(i, row)
		for j := j0 - reach; j <= j0+1+reach; j++ {
			v := row[((j%g.cols)+g.cols)%g.cols]
			if math.IsNaN(v) {
				continue
			}
			dy, dx := math.Abs(y-float64(i)), math.Abs(x-float64(j))
			if dy < 1 && dx < 1 {
				sum += (1 - dy) * (1 - dx) * v
				weight += (1 - dy) * (1 - dx)
			}
			if d := dy*dy + dx*dx*cos*cos; d < best {
				nearest, best = v, d
			}
		}
	}
	if weight > 1e-9 {
		return sum / weight
	}
	return nearest
}

// gap reports whether there is nothing in one of the four nodes around a point.
func (g *grid) gap(latitude, longitude float64) bool {
	i0, j0 := int(math.Floor((latitude-g.south)/g.step)), int(math.Floor((longitude-g.west)/g.step))
	row := make([]float64, g.cols)
	for i := max(i0, 0); i <= min(i0+1, g.rows-1); i++ {
		g.row(i, row)
		for j := j0; j <= j0+1; j++ {
			if math.IsNaN(row[((j%g.cols)+g.cols)%g.cols]) {
				return true
			}
		}
	}
	return false
}

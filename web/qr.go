package web

import (
	"errors"
	"strings"
)

// This file makes the square code that a phone's camera reads: a link without typing. Byte mode, error correction level M, versions 1
// to 10, which is 213 bytes; a link of ours is some 60.
//
// Source: [ISO-18004]; the sections named below are those of its 2015 edition.

// code is a square of modules, true where dark.
type code struct {
	size  int
	dark  []bool
	fixed []bool // part of a pattern, not of the data
}

// qrVersion is one row of table 9 for level M: blocks of data and error correction codewords.
type qrVersion struct {
	ec     int    // error correction codewords in each block
	blocks []int  // data codewords of each kind of block
	counts []int  // how many of each kind
	align  []int  // centres of alignment patterns, table E.1
	info   uint32 // version information with its own correction, from version 7 on, table D.1
}

var qrVersions = []qrVersion{
	{ec: 10, blocks: []int{16}, counts: []int{1}},
	{ec: 16, blocks: []int{28}, counts: []int{1}, align: []int{6, 18}},
	{ec: 26, blocks: []int{44}, counts: []int{1}, align: []int{6, 22}},
	{ec: 18, blocks: []int{32}, counts: []int{2}, align: []int{6, 26}},
	{ec: 24, blocks: []int{43}, counts: []int{2}, align: []int{6, 30}},
	{ec: 16, blocks: []int{27}, counts: []int{4}, align: []int{6, 34}},
	{ec: 18, blocks: []int{31}, counts: []int{4}, align: []int{6, 22, 38}, info: 0x07c94},
	{ec: 22, blocks: []int{38, 39}, counts: []int{2, 2}, align: []int{6, 24, 42}, info: 0x085bc},
	{ec: 22, blocks: []int{36, 37}, counts: []int{3, 2}, align: []int{6, 26, 46}, info: 0x09a99},
	{ec: 26, blocks: []int{43, 44}, counts: []int{4, 1}, align: []int{6, 28, 50}, info: 0x0a4d3},
}

func (v qrVersion) capacity() int {
	n := 0
	for i, b := range v.blocks {
		n += b * v.counts[i]
	}
	return n
}

var errLong = errors.New("the text is too long for a code")

// qrCode returns the code of a text.
func qrCode(text string) (code, error) {
	for i, v := range qrVersions {
		head := 12 // mode and length, in bits: table 3
		if i+1 >= 10 {
			head = 20
		}
		if head+8*len(text) <= 8*v.capacity() {
			return draw(i+1, interleaved(v, payload(text, head-4, v.capacity()))), nil
		}
	}
	return code{}, errLong
}

// payload writes mode, length, text and padding into data codewords (7.4).
func payload(text string, lengthBits, capacity int) []byte {
	var bits []bool
	put := func(value, n int) {
		for i := n - 1; i >= 0; i-- {
			bits = append(bits, value>>i&1 == 1)
		}
	}
	put(4, 4) // byte mode
	put(len(text), lengthBits)
	for i := range len(text) {
		put(int(text[i]), 8)
	}
	for i := 0; i < 4 && len(bits) < 8*capacity; i++ {
		bits = append(bits, false)
	}
	for len(bits)%8 != 0 {
		bits = append(bits, false)
	}
	out := make([]byte, 0, capacity)
	for i := 0; i < len(bits); i += 8 {
		b := byte(0)
		for _, bit := range bits[i : i+8] {
			b <<= 1
			if bit {
				b |= 1
			}
		}
		out = append(out, b)
	}
	for pad := byte(0xec); len(out) < capacity; pad ^= 0xec ^ 0x11 {
		out = append(out, pad)
	}
	return out
}

// interleaved cuts the data into blocks, corrects each, and deals them out in turns (7.6).
func interleaved(v qrVersion, data []byte) []byte {
	var blocks, corrections [][]byte
	for i, size := range v.blocks {
		for range v.counts[i] {
			blocks = append(blocks, data[:size])
			corrections = append(corrections, correction(data[:size], v.ec))
			data = data[size:]
		}
	}
	var out []byte
	deal := func(lists [][]byte) {
		for i := 0; ; i++ {
			dealt := false
			for _, l := range lists {
				if i < len(l) {
					out, dealt = append(out, l[i]), true
				}
			}
			if !dealt {
				return
			}
		}
	}
	deal(blocks)
	deal(corrections)
	return out
}

// times multiplies in the field of 256 elements with the polynomial x^8 + x^4 + x^3 + x^2 + 1 (7.5.2).
func times(a, b byte) byte {
	p := byte(0)
	for ; b > 0; b >>= 1 {
		if b&1 == 1 {
			p ^= a
		}
		high := a&0x80 != 0
		a <<= 1
		if high {
			a ^= 0x1d
		}
	}
	return p
}

// correction returns n error correction codewords: the remainder of the data by the generator with roots 2^0 to 2^(n-1) (Annex A).
func correction(data []byte, n int) []byte {
	generator := make([]byte, n) // without its leading 1, highest power first
	generator[n-1] = 1
	root := byte(1)
	for range n {
		for i := range generator {
			generator[i] = times(generator[i], root)
			if i+1 < n {
				generator[i] ^= generator[i+1]
			}
		}
		root = times(root, 2)
	}
	rest := make([]byte, n)
	for _, d := range data {
		factor := d ^ rest[0]
		copy(rest, rest[1:])
		rest[n-1] = 0
		for i, g := range generator {
			rest[i] ^= times(g, factor)
		}
	}
	return rest
}

// draw places patterns and data, and takes the mask that is easiest to read.
func draw(version int, words []byte) code {
	size := 17 + 4*version
	c := code{size: size, dark: make([]bool, size*size), fixed: make([]bool, size*size)}
	c.patterns(version)
	c.data(words)
	best, least := code{}, -1
	for mask := range 8 {
		m := c.masked(mask)
		if p := m.penalty(); least < 0 || p < least {
			best, least = m, p
		}
	}
	return best
}

func (c *code) set(x, y int, dark bool) {
	c.dark[y*c.size+x], c.fixed[y*c.size+x] = dark, true
}

func (c *code) at(x, y int) bool { return c.dark[y*c.size+x] }

// patterns draws what does not depend on the data (6.3), and keeps the place of the format information.
func (c *code) patterns(version int) {
	for i := range c.size { // timing
		c.set(i, 6, i%2 == 0)
		c.set(6, i, i%2 == 0)
	}
	for _, corner := range [][2]int{{3, 3}, {c.size - 4, 3}, {3, c.size - 4}} { // finders with their separators
		for dy := -4; dy <= 4; dy++ {
			for dx := -4; dx <= 4; dx++ {
				x, y := corner[0]+dx, corner[1]+dy
				if x < 0 || y < 0 || x >= c.size || y >= c.size {
					continue
				}
				ring := max(abs(dx), abs(dy))
				c.set(x, y, ring != 2 && ring != 4)
			}
		}
	}
	v := qrVersions[version-1]
	last := len(v.align) - 1
	for i, y := range v.align {
		for j, x := range v.align {
			if i == 0 && j == 0 || i == 0 && j == last || i == last && j == 0 {
				continue // a finder stands there
			}
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					c.set(x+dx, y+dy, max(abs(dx), abs(dy)) != 1)
				}
			}
		}
	}
	c.format(0)
	if v.info == 0 {
		return
	}
	for i := range 18 { // version information (7.10)
		bit := v.info>>i&1 == 1
		c.set(c.size-11+i%3, i/3, bit)
		c.set(i/3, c.size-11+i%3, bit)
	}
}

// formatBits is the format information of level M and a mask, with its correction (7.9, Annex C).
func formatBits(mask int) uint32 {
	rest := uint32(mask)
	for range 10 {
		rest = rest<<1 ^ rest>>9*0x537
	}
	return (uint32(mask)<<10 | rest&0x3ff) ^ 0x5412
}

func (c *code) format(mask int) {
	bits := formatBits(mask)
	bit := func(i int) bool { return bits>>i&1 == 1 }
	for i := range 6 {
		c.set(8, i, bit(i))
	}
	c.set(8, 7, bit(6))
	c.set(8, 8, bit(7))
	c.set(7, 8, bit(8))
	for i := 9; i < 15; i++ {
		c.set(14-i, 8, bit(i))
	}
	for i := range 8 {
		c.set(c.size-1-i, 8, bit(i))
	}
	for i := 8; i < 15; i++ {
		c.set(8, c.size-15+i, bit(i))
	}
	c.set(8, c.size-8, true)
}

// data fills the free modules, two columns at a time from the right, up and down in turns (7.7.3).
func (c *code) data(words []byte) {
	i := 0
	for right := c.size - 1; right > 0; right -= 2 {
		if right == 6 {
			right = 5
		}
		for step := range c.size {
			y := step
			if (right+1)&2 == 0 {
				y = c.size - 1 - step
			}
			for _, x := range []int{right, right - 1} {
				if c.fixed[y*c.size+x] {
					continue
				}
				if i < 8*len(words) {
					c.dark[y*c.size+x] = words[i/8]>>(7-i%8)&1 == 1
				}
				i++
			}
		}
	}
}

// masks are the conditions of table 10.
var masks = [8]func(x, y int) bool{
	func(x, y int) bool { return (x+y)%2 == 0 },
	func(_, y int) bool { return y%2 == 0 },
	func(x, _ int) bool { return x%3 == 0 },
	func(x, y int) bool { return (x+y)%3 == 0 },
	func(x, y int) bool { return (y/2+x/3)%2 == 0 },
	func(x, y int) bool { return x*y%2+x*y%3 == 0 },
	func(x, y int) bool { return (x*y%2+x*y%3)%2 == 0 },
	func(x, y int) bool { return ((x+y)%2+x*y%3)%2 == 0 },
}

// masked returns the code under a mask, with its format information.
func (c *code) masked(mask int) code {
	m := code{size: c.size, dark: append([]bool(nil), c.dark...), fixed: c.fixed}
	for y := range m.size {
		for x := range m.size {
			if !m.fixed[y*m.size+x] && masks[mask](x, y) {
				m.dark[y*m.size+x] = !m.dark[y*m.size+x]
			}
		}
	}
	m.format(mask)
	return m
}

// penalty scores how hard a code is to read (7.8.3).
func (c *code) penalty() int {
	score, dark := 0, 0
	for a := range c.size {
		var row, column []byte
		for b := range c.size {
			row, column = append(row, sign(c.at(b, a))), append(column, sign(c.at(a, b)))
			if c.at(b, a) {
				dark++
			}
			if a+1 < c.size && b+1 < c.size && c.at(b, a) == c.at(b+1, a) && c.at(b, a) == c.at(b, a+1) && c.at(b, a) == c.at(b+1, a+1) {
				score += 3
			}
		}
		score += linePenalty(string(row)) + linePenalty(string(column))
	}
	total := c.size * c.size
	return score + 10*(abs(20*dark-10*total)/total)
}

// linePenalty scores runs of one colour and what looks like a finder, in one line.
func linePenalty(line string) int {
	score, run := 0, 0
	for i := range len(line) {
		run++
		if i+1 == len(line) || line[i+1] != line[i] {
			if run >= 5 {
				score += run - 2
			}
			run = 0
		}
	}
	return score + 40*(strings.Count(line, "#.###.#....")+strings.Count(line, "....#.###.#"))
}

func sign(dark bool) byte {
	if dark {
		return '#'
	}
	return '.'
}

func abs(n int) int { return max(n, -n) }

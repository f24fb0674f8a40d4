package web

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// TestCorrection_ISO18004_AnnexI holds the error correction against the standard's worked example, the text 01234567 in a symbol of
// version 1-M: data and correction codewords as printed there.
func TestCorrection_ISO18004_AnnexI(t *testing.T) {
	data := []byte{0x10, 0x20, 0x0c, 0x56, 0x61, 0x80, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11, 0xec, 0x11}
	want := []byte{0xa5, 0x24, 0xd4, 0xc1, 0xed, 0x36, 0xc7, 0x87, 0x2c, 0x55}
	if got := correction(data, 10); !bytes.Equal(got, want) {
		t.Errorf("% x, want % x", got, want)
	}
}

// TestFormatBits_ISO18004_TableC1 holds the format information of level M against the standard's table.
func TestFormatBits_ISO18004_TableC1(t *testing.T) {
	for mask, want := range []string{"101010000010010", "101000100100101", "101111001111100", "101101101001011", "100010111111001", "100000011001110", "100111110010111", "100101010100000"} {
		if got := fmt.Sprintf("%015b", formatBits(mask)); got != want {
			t.Errorf("mask %d: %s, want %s", mask, got, want)
		}
	}
}

// TestVersions checks the table of versions by identities: the total of codewords is the number of free modules (the standard's table
// 1), and version information is divisible by its generator 1 1111 0010 0101 (Annex D).
func TestVersions(t *testing.T) {
	totals := []int{26, 44, 70, 100, 134, 172, 196, 242, 292, 346} // table 1
	for i, v := range qrVersions {
		version := i + 1
		size := 17 + 4*version
		c := code{size: size, dark: make([]bool, size*size), fixed: make([]bool, size*size)}
		c.patterns(version)
		free := 0
		for _, f := range c.fixed {
			if !f {
				free++
			}
		}
		blocks := 0
		for _, n := range v.counts {
			blocks += n
		}
		if total := v.capacity() + blocks*v.ec; total != totals[i] || free/8 != totals[i] {
			t.Errorf("version %d: %d codewords in the table, %d places, want %d", version, total, free/8, totals[i])
		}
		if version >= 7 {
			rest := v.info
			for bit := 17; bit >= 12; bit-- {
				if rest>>bit&1 == 1 {
					rest ^= 0x1f25 << (bit - 12)
				}
			}
			if rest != 0 || v.info>>12 != uint32(version) {
				t.Errorf("version %d: version information %018b", version, v.info)
			}
		}
	}
}

// TestCodeReadsBack reads codes of all versions back the way a camera does: format, mask, the zigzag, blocks, the length and the text.
// Every block must be a multiple of the generator: all its syndromes are zero.
func TestCodeReadsBack(t *testing.T) {
	read := 0
	for n := 1; n <= 213; n += 4 {
		text := strings.Repeat("http://192.168.1.23:8080/?token=Q7", 7)[:n]
		c, err := qrCode(text)
		if err != nil {
			t.Fatalf("%d bytes: %v", n, err)
		}
		got, err := readBack(c)
		if err != nil || got != text {
			t.Errorf("%d bytes, size %d: read %q: %v", n, c.size, got, err)
		}
		read++
	}
	if read < 50 {
		t.Fatalf("only %d codes were read", read)
	}
	if _, err := qrCode(strings.Repeat("x", 214)); !errors.Is(err, errLong) {
		t.Errorf("a text too long: %v", err)
	}
}

func readBack(c code) (string, error) {
	version := (c.size - 17) / 4
	v := qrVersions[version-1]
	bits := 0
	for i := range 6 {
		bits |= b2i(c.at(8, i)) << i
	}
	bits |= b2i(c.at(8, 7))<<6 | b2i(c.at(8, 8))<<7 | b2i(c.at(7, 8))<<8
	for i := 9; i < 15; i++ {
		bits |= b2i(c.at(14-i, 8)) << i
	}
	bits ^= 0x5412
	mask := bits >> 10 & 7
	if bits>>13 != 0 {
		return "", fmt.Errorf("format %015b is not level M", bits)
	}
	var stream []byte
	word, count := byte(0), 0
	up := true
	for right := c.size - 1; right > 0; right -= 2 {
		if right == 6 {
			right--
		}
		for i := range c.size {
			y := i
			if up {
				y = c.size - 1 - i
			}
			for _, x := range []int{right, right - 1} {
				if c.fixed[y*c.size+x] {
					continue
				}
				word = word<<1 | byte(b2i(c.at(x, y) != masks[mask](x, y)))
				if count++; count%8 == 0 {
					stream = append(stream, word)
				}
			}
		}
		up = !up
	}
	var sizes []int
	for i, n := range v.counts {
		for range n {
			sizes = append(sizes, v.blocks[i])
		}
	}
	blocks := make([][]byte, len(sizes))
	next := 0
	for i := 0; next < v.capacity(); i++ {
		for k := range blocks {
			if i < sizes[k] {
				blocks[k] = append(blocks[k], stream[next])
				next++
			}
		}
	}
	var data []byte
	for k := range blocks {
		data = append(data, blocks[k]...)
	}
	for range v.ec {
		for k := range blocks {
			blocks[k] = append(blocks[k], stream[next])
			next++
		}
	}
	for k, block := range blocks {
		root := byte(1)
		for i := range v.ec {
			sum := byte(0)
			for _, w := range block {
				sum = times(sum, root) ^ w
			}
			if sum != 0 {
				return "", fmt.Errorf("block %d: syndrome %d is not zero", k, i)
			}
			root = times(root, 2)
		}
	}
	at := 0
	take := func(n int) int {
		x := 0
		for range n {
			x = x<<1 | int(data[at/8]>>(7-at%8)&1)
			at++
		}
		return x
	}
	if mode := take(4); mode != 4 {
		return "", fmt.Errorf("mode %d", mode)
	}
	length := 8
	if version >= 10 {
		length = 16
	}
	text := make([]byte, take(length))
	for i := range text {
		text[i] = byte(take(8))
	}
	return string(text), nil
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func TestCodeDrawings(t *testing.T) {
	c, err := qrCode("http://127.0.0.1:1/")
	if err != nil {
		t.Fatal(err)
	}
	if p := c.path(); !strings.HasPrefix(p, "M0,0h7v1h-7z") {
		t.Errorf("path begins %.40s", p)
	}
	lines := strings.Split(strings.TrimSuffix(c.text(), "\n"), "\n")
	if want := (c.size + 5) / 2; len(lines) != want || strings.Trim(lines[0], "█▀▄ ") != "" {
		t.Errorf("%d lines, want %d", len(lines), want)
	}
}

package web

import (
	"strconv"
	"strings"
)

// This file draws the square code of qr.go.

// path writes the dark modules as an SVG path, one unit each, with the quiet zone of four around them left to the drawing.
func (c *code) path() string {
	var b strings.Builder
	for y := range c.size {
		for x := 0; x < c.size; x++ {
			if !c.at(x, y) {
				continue
			}
			from := x
			for x+1 < c.size && c.at(x+1, y) {
				x++
			}
			b.WriteString("M" + strconv.Itoa(from) + "," + strconv.Itoa(y) + "h" + strconv.Itoa(x-from+1) + "v1h-" + strconv.Itoa(x-from+1) + "z")
		}
	}
	return b.String()
}

// text writes the code for a terminal, light on dark, two rows in one line.
func (c *code) text() string {
	light := func(x, y int) bool {
		inside := x >= 0 && y >= 0 && x < c.size && y < c.size
		return y < c.size+2 && (!inside || !c.at(x, y))
	}
	var b strings.Builder
	for y := -2; y < c.size+2; y += 2 {
		for x := -2; x < c.size+2; x++ {
			switch upper, lower := light(x, y), light(x, y+1); {
			case upper && lower:
				b.WriteString("█")
			case upper:
				b.WriteString("▀")
			case lower:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

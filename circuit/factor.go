package circuit

import (
	"fmt"
	"math"
	"slices"
)

// pattern is the shape of the factor L of a symmetric matrix in elimination order: strictly lower entries by column, rows rising.
type pattern struct {
	n      int
	colPtr []int32 // of each column's first entry; n + 1 long
	row    []int32 // of each entry
	rowPtr []int32 // of each row's first entry in rowCol and rowAt
	rowCol []int32 // column of each entry, row by row
	rowAt  []int32 // place of that entry in row
}

// mostFill is the largest number of entries in L.
const mostFill = 4 << 20

// order returns the elimination order of a graph by least degree, and the pattern of L in that order.
//
//	n       vertices
//	edges   pairs of different vertices; repeats are allowed
//
// place[v] is the position of vertex v. Rig networks are nearly trees, on which this order causes no fill-in.
func order(n int, edges [][2]int32) (place []int32, p pattern, err error) {
	adjacent := make([][]int32, n)
	for _, e := range edges {
		adjacent[e[0]] = append(adjacent[e[0]], e[1])
		adjacent[e[1]] = append(adjacent[e[1]], e[0])
	}
	for v := range adjacent {
		slices.Sort(adjacent[v])
		adjacent[v] = slices.Compact(adjacent[v])
	}
	place = make([]int32, n)
	for v := range place {
		place[v] = -1
	}
	columns := make([][]int32, n)
	fill := 0
	for step := range n {
		least := -1
		for v := range n {
			if place[v] < 0 && (least < 0 || len(adjacent[v]) < len(adjacent[least])) {
				least = v
			}
		}
		place[least] = int32(step)
		clique := adjacent[least]
		columns[step] = clique
		if fill += len(clique); fill > mostFill {
			return nil, pattern{}, fmt.Errorf("network: too densely meshed: more than %d entries in its factor", mostFill)
		}
		for _, u := range clique {
			adjacent[u] = join(adjacent[u], clique, u, int32(least))
		}
	}
	return place, newPattern(n, place, columns, fill), nil
}

// join returns the union of two sorted lists without the vertices u and gone.
func join(a, b []int32, u, gone int32) []int32 {
	out := make([]int32, 0, len(a)+len(b))
	for i, j := 0, 0; i < len(a) || j < len(b); {
		var v int32
		switch {
		case j == len(b) || i < len(a) && a[i] < b[j]:
			v, i = a[i], i+1
		case i == len(a) || b[j] < a[i]:
			v, j = b[j], j+1
		default:
			v, i, j = a[i], i+1, j+1
		}
		if v != u && v != gone {
			out = append(out, v)
		}
	}
	return out
}

func newPattern(n int, place []int32, columns [][]int32, fill int) pattern {
	p := pattern{n: n, colPtr: make([]int32, n+1), row: make([]int32, 0, fill), rowPtr: make([]int32, n+1)}
	for j, c := range columns {
		start := len(p.row)
		for _, v := range c {
			p.row = append(p.row, place[v])
		}
		slices.Sort(p.row[start:])
		p.colPtr[j+1] = int32(len(p.row))
	}
	for _, r := range p.row {
		p.rowPtr[r+1]++
	}
	for i := range n {
		p.rowPtr[i+1] += p.rowPtr[i]
	}
	p.rowCol, p.rowAt = make([]int32, len(p.row)), make([]int32, len(p.row))
	next := slices.Clone(p.rowPtr)
	for j := range n {
		for at := p.colPtr[j]; at < p.colPtr[j+1]; at++ {
			r := p.row[at]
			p.rowCol[next[r]], p.rowAt[next[r]] = int32(j), at
			next[r]++
		}
	}
	return p
}

// at returns the place of the entry between two positions in L.
func (p *pattern) at(i, j int32) int32 {
	if i < j {
		i, j = j, i
	}
	k, _ := slices.BinarySearch(p.row[p.colPtr[j]:p.colPtr[j+1]], i)
	return p.colPtr[j] + int32(k)
}

// factor is LDLᵀ of a symmetric matrix given by its off-diagonal entries and its row sums. The diagonal is never stored: it is the row sum
// less the off-diagonal entries, at every stage of the elimination. For a matrix of conductances the row sums are those to ground, all
// sums are then of like sign, and no digits are lost even where a microohm stands beside a megohm.
type factor struct {
	p    *pattern
	l    []float64 // off-diagonal entries in, L out
	sum  []float64 // row sums in; of each row of the remaining matrix at its turn out
	d    []float64 // pivots
	seat []int32   // scratch: place of a row in the column at hand
}

func newFactor(p *pattern) *factor {
	return &factor{p: p, l: make([]float64, len(p.row)), sum: make([]float64, p.n), d: make([]float64, p.n), seat: make([]int32, p.n)}
}

// clear sets the matrix to zero.
func (f *factor) clear() {
	clear(f.l)
	clear(f.sum)
}

// leastPivot is the share of the sizes it was summed from below which a pivot counts as zero.
const leastPivot = 1e-13

// run factors the matrix in place, column by column from the left. It returns false at the first pivot that is not above zero: the
// matrix is then not positive definite.
func (f *factor) run() bool {
	p := f.p
	for j := range p.n {
		start, end := p.colPtr[j], p.colPtr[j+1]
		for at := start; at < end; at++ {
			f.seat[p.row[at]] = at
		}
		sum := f.sum[j]
		for r := p.rowPtr[j]; r < p.rowPtr[j+1]; r++ {
			i, at := p.rowCol[r], p.rowAt[r]
			lji := f.l[at]
			sum -= lji * f.sum[i]
			w := lji * f.d[i]
			for q := at + 1; q < p.colPtr[i+1]; q++ {
				f.l[f.seat[p.row[q]]] -= f.l[q] * w
			}
		}
		f.sum[j] = sum
		pivot, size := sum, math.Abs(sum)
		for at := start; at < end; at++ {
			pivot -= f.l[at]
			size += math.Abs(f.l[at])
		}
		if !(pivot > leastPivot*size) || math.IsInf(pivot, 1) {
			return false
		}
		f.d[j] = pivot
		for at := start; at < end; at++ {
			f.l[at] /= pivot
		}
	}
	return true
}

// solve replaces x by the solution of the factored system with right side x.
func (f *factor) solve(x []float64) {
	p := f.p
	for j := range p.n {
		xj := x[j]
		for at := p.colPtr[j]; at < p.colPtr[j+1]; at++ {
			x[p.row[at]] -= f.l[at] * xj
		}
	}
	for j := p.n - 1; j >= 0; j-- {
		xj := x[j] / f.d[j]
		for at := p.colPtr[j]; at < p.colPtr[j+1]; at++ {
			xj -= f.l[at] * x[p.row[at]]
		}
		x[j] = xj
	}
}

package fit

import (
	"math"

	"loamline/geo"
)

// cellGrid finds points near a place: a hash of square cells, each with a chain
// of its points in the order in which they came.
type cellGrid struct {
	sizeM float64
	cells map[[2]int32]chain
	pts   []geo.XY
	next  []int32 // of each point in its cell, -1 at the end
}

// chain is the first and the last point of a cell.
type chain struct{ first, last int32 }

// newCellGrid returns an empty grid over a growing list of points.
func newCellGrid(sizeM float64) *cellGrid {
	return &cellGrid{sizeM: math.Max(sizeM, 1e-3), cells: map[[2]int32]chain{}}
}

func (g *cellGrid) cell(p geo.XY) [2]int32 {
	return [2]int32{cellIndex(p.X / g.sizeM), cellIndex(p.Y / g.sizeM)}
}

func cellIndex(v float64) int32 { return int32(clamp(math.Floor(v), -1e9, 1e9)) }

// add puts a point in and returns its number.
func (g *cellGrid) add(p geo.XY) int32 {
	i := int32(len(g.pts))
	g.pts, g.next = append(g.pts, p), append(g.next, -1)
	c := g.cell(p)
	in, ok := g.cells[c]
	if ok {
		g.next[in.last] = i
	} else {
		in.first = i
	}
	in.last = i
	g.cells[c] = in
	return i
}

// nearest returns the nearest point within one cell size, or -1.
func (g *cellGrid) nearest(p geo.XY) (int32, float64) {
	best, bestD := int32(-1), g.sizeM
	g.around(p, 1, func(i int32) {
		if d := g.pts[i].Dist(p); d <= bestD {
			best, bestD = i, d
		}
	})
	return best, bestD
}

// around visits the points in the cells within k of the cell of p.
func (g *cellGrid) around(p geo.XY, k int32, visit func(int32)) {
	c := g.cell(p)
	for dx := -k; dx <= k; dx++ {
		for dy := -k; dy <= k; dy++ {
			in, ok := g.cells[[2]int32{c[0] + dx, c[1] + dy}]
			for i := in.first; ok && i >= 0; i = g.next[i] {
				visit(i)
			}
		}
	}
}

package fit

import (
	"math"

	"loamline.example/geo"
)

// cellGrid finds points near a place: square cells, each with a chain of its points in the
// order in which they came.
type cellGrid struct {
	sizeM float64
	pts   []geo.XY
	next  []int32        // of each point in its cell; after the last comes the first
	last  map[cell]int32 // of each cell that has some
}

// newCellGrid returns an empty grid with room for most points.
func newCellGrid(sizeM float64, most int) *cellGrid {
	return &cellGrid{math.Max(sizeM, 1e-3), make([]geo.XY, 0, most), make([]int32, 0, most), map[cell]int32{}}
}

// gridOver returns a grid of points.
func gridOver(pts []geo.XY, sizeM float64) *cellGrid {
	g := newCellGrid(sizeM, len(pts))
	for _, p := range pts {
		g.add(p)
	}
	return g
}

// add puts a point in and returns its number.
func (g *cellGrid) add(p geo.XY) int32 {
	i := int32(len(g.pts))
	g.pts, g.next = append(g.pts, p), append(g.next, i)
	if l, some := g.last[g.cell(p)]; some {
		g.next[i], g.next[l] = g.next[l], i
	}
	g.last[g.cell(p)] = i
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
	mid := g.cell(p)
	for dx := -k; dx <= k; dx++ {
		for dy := -k; dy <= k; dy++ {
			last, some := g.last[cell{mid.x + dx, mid.y + dy}]
			for i := last; some; {
				i = g.next[i]
				visit(i)
				if i == last {
					break
				}
			}
		}
	}
}

func (g *cellGrid) cell(p geo.XY) cell { return cellAt(p, g.sizeM) }

// cell is the number of a square cell either way.
type cell struct{ x, y int32 }

func cellAt(p geo.XY, sizeM float64) cell {
	return cell{cellIndex(p.X / sizeM), cellIndex(p.Y / sizeM)}
}

func cellIndex(v float64) int32 { return int32(clamp(math.Floor(v), -1e9, 1e9)) }

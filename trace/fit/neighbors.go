package fit

import (
	"math"

	"loamline.example/geo"
)

// cellGrid finds points near a place: square cells, spread over buckets by a hash
// (Teschner et al. 2003, Optimized spatial hashing for collision detection of
// deformable objects), each bucket with a chain of its points in the order in
// which they came. It has no table of cells: which of a bucket's points are in a
// cell is told from where they are, so that a point costs its place and two
// numbers.
type cellGrid struct {
	sizeM float64
	pts   []geo.XY
	next  []int32 // of each point in its bucket; after the last comes the first
	last  []int32 // of each bucket, -1 for none
}

// fewestBuckets is where grids begin: a power of two. Judgement.
const fewestBuckets = 16

// newCellGrid returns an empty grid with room for most points.
func newCellGrid(sizeM float64, most int) *cellGrid {
	g := &cellGrid{sizeM: math.Max(sizeM, 1e-3), pts: make([]geo.XY, 0, most), next: make([]int32, 0, most)}
	g.spread(fewestBuckets)
	return g
}

// gridOver returns a grid of points that it shares.
func gridOver(pts []geo.XY, sizeM float64) *cellGrid {
	g := &cellGrid{sizeM: math.Max(sizeM, 1e-3), pts: pts, next: make([]int32, len(pts))}
	g.spread(bucketsFor(len(pts)))
	return g
}

// bucketsFor is a power of two that gives n entries about a bucket each.
func bucketsFor(n int) int {
	size := fewestBuckets
	for size < n {
		size *= 2
	}
	return size
}

// spread chains all points anew, over a number of buckets.
func (g *cellGrid) spread(buckets int) {
	g.last = make([]int32, buckets)
	for i := range g.last {
		g.last[i] = -1
	}
	for i := range g.next {
		g.chain(int32(i))
	}
}

// chain appends a point to the chain of its bucket.
func (g *cellGrid) chain(i int32) {
	b := g.cell(g.pts[i]).bucket(len(g.last))
	g.next[i] = i
	if l := g.last[b]; l >= 0 {
		g.next[i], g.next[l] = g.next[l], i
	}
	g.last[b] = i
}

// add puts a point in and returns its number.
func (g *cellGrid) add(p geo.XY) int32 {
	i := int32(len(g.pts))
	g.pts, g.next = append(g.pts, p), append(g.next, -1)
	if len(g.pts) > len(g.last) {
		g.spread(2 * len(g.last))
	} else {
		g.chain(i)
	}
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
			c := cell{mid.x + dx, mid.y + dy}
			last := g.last[c.bucket(len(g.last))]
			for i := last; i >= 0; {
				if i = g.next[i]; g.cell(g.pts[i]) == c {
					visit(i)
				}
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

// bucket spreads cells over a power of two of buckets by Fibonacci hashing (Knuth
// 1998, The Art of Computer Programming 3, section 6.4).
func (c cell) bucket(buckets int) int {
	// 2⁶⁴ over the golden ratio (Knuth 1998); both numbers of the cell are one of 64 bits.
	h := (uint64(uint32(c.x))<<32 | uint64(uint32(c.y))) * 0x9E3779B97F4A7C15
	// High bits into the low ones, then the first multiplier of SplitMix64 (Steele, Lea and
	// Flood 2014, OOPSLA), of whose product the high half is the better mixed.
	return int((h ^ h>>29) * 0xBF58476D1CE4E5B9 >> 32 & uint64(buckets-1))
}

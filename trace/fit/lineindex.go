package fit

import (
	"math"

	"loamline.example/geo"
)

// lineIndex finds the foot of a point on a path in about constant time: it knows
// for square cells which segments they hold a part of. The cells are spread over
// buckets by a hash, and all buckets lie in one array.
type lineIndex struct {
	line   geo.Polyline
	sizeM  float64
	first  []int32   // of each bucket in passes; the next bucket's is its end
	passes []passing // by bucket and segment
}

// passing is a segment that may touch a cell.
type passing struct {
	at  cell
	seg int32
}

// How a path is searched. Judgement: which way is faster, hardly what is found.
const (
	fewestIndexed = 40   // points of a path that is worth an index
	mostRings     = 12   // of cells around a place, before all of the path is looked at
	farPoints     = 2000 // of the path that are looked at then
)

// newLineIndex indexes a path; short ones are searched whole.
func newLineIndex(line geo.Polyline) *lineIndex {
	x := &lineIndex{line: line}
	n := len(line.Points)
	if n < fewestIndexed {
		return x
	}
	x.sizeM = math.Max(2*line.Length()/float64(n-1), 1e-3)
	buckets := bucketsFor(n)
	x.first = make([]int32, buckets+1)
	for i := n - 2; i >= 0; i-- {
		x.rasterize(i, func(c cell) { x.first[c.bucket(buckets)]++ })
	}
	sum := int32(0)
	for b, k := range x.first {
		sum += k
		x.first[b] = sum
	}
	x.passes = make([]passing, sum)
	for i := n - 2; i >= 0; i-- { // from behind, so that first moves to the front
		x.rasterize(i, func(c cell) {
			b := c.bucket(buckets)
			x.first[b]--
			x.passes[x.first[b]] = passing{c, int32(i)}
		})
	}
	return x
}

// rasterize visits the cells of points along a segment, a cell apart.
func (x *lineIndex) rasterize(i int, visit func(cell)) {
	a, b := x.line.Points[i], x.line.Points[i+1]
	steps := int(a.Dist(b)/x.sizeM) + 1
	var last cell
	for k := 0; k <= steps; k++ {
		c := cellAt(a.Lerp(b, float64(k)/float64(steps)), x.sizeM)
		if k == 0 || c != last {
			visit(c)
		}
		last = c
	}
}

// near returns the foot of q on the legs around one of them, where it lies
// within a distance and inside of those legs.
func (x *lineIndex) near(q geo.XY, leg int, withinM float64) (geo.Foot, bool) {
	const reach = 6 // legs to either side. Judgement: time
	lo, hi := max(0, leg-reach), min(len(x.line.Points)-2, leg+reach)
	best, leastM := lo, math.Inf(1)
	for i := lo; i <= hi; i++ {
		if _, d := legFoot(x.line.Points[i], x.line.Points[i+1], q); d < leastM {
			best, leastM = i, d
		}
	}
	inside := (best > lo || lo == 0) && (best < hi || hi == len(x.line.Points)-2)
	return x.line.FootOn(best, q), inside && leastM <= withinM
}

// nearest returns the foot of q on the path, as geo.Polyline.Nearest does; very
// far from a long path only nearly so.
func (x *lineIndex) nearest(q geo.XY) geo.Foot {
	if x.passes == nil {
		return x.line.Nearest(q)
	}
	c := cellAt(q, x.sizeM)
	best := geo.Foot{OffsetM: math.Inf(1)}
	for k := int32(0); k <= mostRings; k++ {
		x.ring(c, k, func(i int32) {
			if f := x.line.FootOn(int(i), q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
				best = f
			}
		})
		if math.Abs(best.OffsetM) <= (float64(k)-1)*x.sizeM {
			return best
		}
	}
	return x.farFoot(q)
}

// farFoot looks at every so many vertices, then closely around the best.
func (x *lineIndex) farFoot(q geo.XY) geo.Foot {
	n := len(x.line.Points)
	stride := 1 + n/farPoints
	at, d := 0, math.Inf(1)
	for i := 0; i < n; i += stride {
		if e := x.line.Points[i].Dist(q); e < d {
			at, d = i, e
		}
	}
	best := geo.Foot{OffsetM: math.Inf(1)}
	for i := max(0, at-stride-1); i < min(n-1, at+stride+1); i++ {
		if f := x.line.FootOn(i, q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
			best = f
		}
	}
	return best
}

// ring visits the segments in the cells at distance k around c.
func (x *lineIndex) ring(c cell, k int32, visit func(int32)) {
	for dx := -k; dx <= k; dx++ {
		step := int32(1)
		if dx > -k && dx < k && k > 0 {
			step = 2 * k
		}
		for dy := -k; dy <= k; dy += step {
			at := cell{c.x + dx, c.y + dy}
			b := at.bucket(len(x.first) - 1)
			for _, p := range x.passes[x.first[b]:x.first[b+1]] {
				if p.at == at {
					visit(p.seg)
				}
			}
		}
	}
}

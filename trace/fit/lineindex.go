package fit

import (
	"math"

	"loamline/geo"
)

// lineIndex finds the foot of a point on a path in about constant time.
type lineIndex struct {
	line  geo.Polyline
	sizeM float64
	cells map[[2]int32][]int32 // segments by the cells that they may touch
}

// newLineIndex indexes a path; short ones are searched whole.
func newLineIndex(line geo.Polyline) *lineIndex {
	x := &lineIndex{line: line}
	n := len(line.Points)
	if n < 40 {
		return x
	}
	x.sizeM = math.Max(2*line.Length()/float64(n-1), 1e-3)
	x.cells = make(map[[2]int32][]int32, n)
	for i := 0; i+1 < n; i++ {
		x.rasterize(int32(i))
	}
	return x
}

// rasterize enters a segment into the cells of points along it, a cell apart.
func (x *lineIndex) rasterize(i int32) {
	a, b := x.line.Points[i], x.line.Points[i+1]
	steps := int(a.Dist(b)/x.sizeM) + 1
	for k := 0; k <= steps; k++ {
		c := x.cell(a.Lerp(b, float64(k)/float64(steps)))
		l := x.cells[c]
		if len(l) == 0 || l[len(l)-1] != i {
			x.cells[c] = append(l, i)
		}
	}
}

func (x *lineIndex) cell(p geo.XY) [2]int32 {
	return [2]int32{cellIndex(p.X / x.sizeM), cellIndex(p.Y / x.sizeM)}
}

// near returns the foot of q on the legs around one of them, where it lies
// within a distance and inside of those legs.
func (x *lineIndex) near(q geo.XY, leg int, withinM float64) (geo.Foot, bool) {
	const reach = 6
	best := geo.Foot{OffsetM: math.Inf(1)}
	lo, hi := max(0, leg-reach), min(len(x.line.Points)-2, leg+reach)
	for i := lo; i <= hi; i++ {
		if f := footOn(x.line, i, q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
			best = f
		}
	}
	inside := (best.Segment > lo || lo == 0) && (best.Segment < hi || hi == len(x.line.Points)-2)
	return best, inside && math.Abs(best.OffsetM) <= withinM
}

// nearest returns the foot of q on the path, as geo.Polyline.Nearest does; very
// far from a long path only nearly so.
func (x *lineIndex) nearest(q geo.XY) geo.Foot {
	if x.cells == nil {
		return x.line.Nearest(q)
	}
	c := x.cell(q)
	best := geo.Foot{OffsetM: math.Inf(1)}
	for k := int32(0); k <= 12; k++ {
		x.ring(c, k, func(i int32) {
			if f := footOn(x.line, int(i), q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
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
	stride := 1 + n/2000
	at, d := 0, math.Inf(1)
	for i := 0; i < n; i += stride {
		if e := x.line.Points[i].Dist(q); e < d {
			at, d = i, e
		}
	}
	best := geo.Foot{OffsetM: math.Inf(1)}
	for i := max(0, at-stride-1); i < min(n-1, at+stride+1); i++ {
		if f := footOn(x.line, i, q); math.Abs(f.OffsetM) < math.Abs(best.OffsetM) {
			best = f
		}
	}
	return best
}

// ring visits the segments in the cells at distance k around c.
func (x *lineIndex) ring(c [2]int32, k int32, visit func(int32)) {
	for dx := -k; dx <= k; dx++ {
		step := int32(1)
		if dx > -k && dx < k && k > 0 {
			step = 2 * k
		}
		for dy := -k; dy <= k; dy += step {
			for _, i := range x.cells[[2]int32{c[0] + dx, c[1] + dy}] {
				visit(i)
			}
		}
	}
}

// footOn returns the foot of q on one segment.
func footOn(line geo.Polyline, i int, q geo.XY) geo.Foot {
	a, b := line.Points[i], line.Points[i+1]
	ab := b.Sub(a)
	t := 0.0
	if n2 := ab.Dot(ab); n2 > 0 {
		t = clamp(q.Sub(a).Dot(ab)/n2, 0, 1)
	}
	at := a.Lerp(b, t)
	d := q.Dist(at)
	if ab.Cross(q.Sub(a)) > 0 {
		d = -d
	}
	return geo.Foot{StationM: line.Station(i) + t*(line.Station(i+1)-line.Station(i)), OffsetM: d, At: at, Segment: i}
}

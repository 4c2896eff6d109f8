package geo

import "math"

// PolylineIndex finds the nearest place on a long line in about the time of a
// search tree instead of a walk over all its vertices. Consecutive segments lie
// close together, so a balanced tree over their order needs no sorting.
type PolylineIndex struct {
	line  Polyline
	boxes []box // a heap: node k holds nodes 2k+1 and 2k+2
	leafs int   // nodes of the lowest level
}

// leafSegments is how many segments a lowest box holds.
const leafSegments = 8

// box is a rectangle in the plane.
type box struct{ min, max XY }

func emptyBox() box {
	inf := math.Inf(1)
	return box{XY{inf, inf}, XY{-inf, -inf}}
}

func (b box) with(p XY) box {
	return box{XY{min(b.min.X, p.X), min(b.min.Y, p.Y)}, XY{max(b.max.X, p.X), max(b.max.Y, p.Y)}}
}

// dist is how far a place is from the box, 0 inside, and Inf for an empty box.
func (b box) dist(p XY) float64 {
	if b.min.X > b.max.X {
		return math.Inf(1)
	}
	return hypot(max(0, max(b.min.X-p.X, p.X-b.max.X)), max(0, max(b.min.Y-p.Y, p.Y-b.max.Y)))
}

// Index prepares a line for many calls of Nearest.
func (l Polyline) Index() *PolylineIndex {
	x := &PolylineIndex{line: l, leafs: 1}
	segments := len(l.Points) - 1
	for x.leafs*leafSegments < segments {
		x.leafs *= 2
	}
	x.boxes = make([]box, 2*x.leafs-1)
	for k := range x.boxes {
		x.boxes[k] = emptyBox()
	}
	for i := range segments {
		b := &x.boxes[x.leafs-1+i/leafSegments]
		*b = b.with(l.Points[i]).with(l.Points[i+1])
	}
	for k := x.leafs - 2; k >= 0; k-- {
		for _, c := range x.boxes[2*k+1 : 2*k+3] {
			if c.min.X <= c.max.X {
				x.boxes[k] = x.boxes[k].with(c.min).with(c.max)
			}
		}
	}
	return x
}

// Nearest returns the same foot as Polyline.Nearest.
func (x *PolylineIndex) Nearest(q XY) Foot {
	if len(x.line.Points) < 2 {
		return x.line.Nearest(q)
	}
	best := Foot{OffsetM: math.Inf(1)}
	x.search(0, q, &best)
	return best
}

// LeastM is a distance that q is away from the path at least.
func (x *PolylineIndex) LeastM(q XY) float64 { return x.boxes[0].dist(q) }

// roundedM is by how much the distance of a box may exceed, rounded, that of a foot in
// it: feet that are equally far but for that are found as a search of all finds them.
const roundedM = 1e-9

func (x *PolylineIndex) search(k int, q XY, best *Foot) {
	if k >= x.leafs-1 {
		from := (k - x.leafs + 1) * leafSegments
		for i := from; i < min(from+leafSegments, len(x.line.Points)-1); i++ {
			// Of two feet equally far, the one nearer to the start stands.
			if f, d := x.line.FootOn(i, q), math.Abs(best.OffsetM); math.Abs(f.OffsetM) < d || math.Abs(f.OffsetM) == d && i < best.Segment {
				*best = f
			}
		}
		return
	}
	a, b := 2*k+1, 2*k+2
	da, db := x.boxes[a].dist(q), x.boxes[b].dist(q)
	if db < da {
		a, b, da, db = b, a, db, da
	}
	if da <= math.Abs(best.OffsetM)+roundedM {
		x.search(a, q, best)
	}
	if db <= math.Abs(best.OffsetM)+roundedM {
		x.search(b, q, best)
	}
}

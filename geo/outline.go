package geo

import "math"

// outline returns one closed ring that winds at least once around every place of
// the band and around no other: forward along the right side, around the end,
// back along the left side, around the start. At the outer side of a bend it
// follows an arc; at the inner side it cuts the corner where the two offset
// lines meet, or else runs through the vertex itself, so that no part of the
// ring winds backwards. The union of what it winds around is the zone.
//
// Each side is handed to finish before it is joined: asDrawn or [trimmed].
//
// It is the raw offset curve of the JTS buffer algorithm (locationtech/jts,
// OffsetSegmentGenerator), with the parallel offset of a segment replaced by the
// common tangent of the discs at its ends.
func (b band) outline(finish func(side []XY) []XY) []XY {
	n := len(b.path)
	if n == 1 {
		return circle(b.path[0], math.Max(b.left[0], b.right[0]))
	}
	tangents := func(path []XY, w []float64) []tangent {
		out := make([]tangent, len(path)-1)
		for i := range out {
			out[i] = newTangent(path[i], path[i+1], w[i], w[i+1])
		}
		return out
	}
	right := tangents(b.path, b.right)
	left := tangents(reversed(b.path), reversed(b.left))
	out, back := right[n-2], left[n-2]
	ring := finish(appendSide(nil, b.path, b.right, right))
	ring = appendCap(ring, b.path[n-1], out.dirRad, out.psiRad, math.Pi-left[0].psiRad, b.right[n-1], b.left[n-1])
	ring = append(ring, finish(appendSide(nil, reversed(b.path), reversed(b.left), left))...)
	ring = appendCap(ring, b.path[0], back.dirRad, back.psiRad, math.Pi-right[0].psiRad, b.left[0], b.right[0])
	return append(ring, ring[0])
}

func asDrawn(side []XY) []XY { return side }

// tangent is the common tangent on the right of two discs at the ends of a
// segment: it touches both at the angle psiRad to the right of travel.
type tangent struct {
	dirRad, psiRad float64
	from, to       XY
}

func newTangent(a, b XY, ra, rb float64) tangent {
	d := b.Sub(a)
	t := tangent{dirRad: math.Atan2(d.Y, d.X)}
	t.psiRad = math.Acos(math.Max(-1, math.Min(1, (ra-rb)/d.Norm())))
	t.from = polar(a, ra, t.dirRad-t.psiRad)
	t.to = polar(b, rb, t.dirRad-t.psiRad)
	return t
}

// startRad and endRad are how far to the right of travel the segment's own part
// of the zone begins and ends: the touching points, or square to the path where
// the tangent leans away from the vertex.
func (t tangent) startRad() float64 { return math.Max(t.psiRad, math.Pi/2) }
func (t tangent) endRad() float64   { return math.Min(t.psiRad, math.Pi/2) }

// appendSide appends the right side of a path, in the direction of travel.
func appendSide(ring, path []XY, w []float64, side []tangent) []XY {
	ring = append(ring, side[0].from)
	used := 0.0 // share of the current tangent that a cut corner has taken
	for i := 0; i+1 < len(side); i++ {
		a, b, v, r := side[i], side[i+1], path[i+1], w[i+1]
		bend := turn(path[i], v, path[i+2])
		sweep := bend + a.psiRad - b.psiRad
		if -mergeM < sweep*r && sweep <= arcStepRad {
			// The tangents' own crossing is outside the arc and no further off than
			// a corner of the arc's polygon; on a straight line it is their end.
			ring = append(ring, polar(v, r/math.Cos(sweep/2), a.dirRad-a.psiRad+sweep/2))
			used = 0
			continue
		}
		if sweep > 0 {
			ring = append(ring, a.to)
			ring = appendArc(ring, v, a.dirRad-a.psiRad, sweep, r)
			ring = append(ring, b.from)
			used = 0
			continue
		}
		// The corner may only be cut where it lies on the same side of both
		// segments; in a sharp bend it lies on the other, perhaps narrower, one.
		sameSide := a.psiRad >= -bend && b.psiRad <= math.Pi+bend
		if s, t, ok := meet(a.from, a.to, b.from, b.to); ok && sameSide && s > used {
			ring = append(ring, a.from.Lerp(a.to, s))
			used = t
			continue
		}
		ring = append(ring, a.to)
		ring = appendArc(ring, v, a.dirRad-a.psiRad, a.psiRad-a.endRad(), r)
		ring = append(ring, polar(v, r, a.dirRad-a.endRad()), v, polar(v, r, b.dirRad-b.startRad()))
		ring = appendArc(ring, v, b.dirRad-b.startRad(), b.startRad()-b.psiRad, r)
		ring = append(ring, b.from)
		used = 0
	}
	return append(ring, side[len(side)-1].to)
}

// appendCap appends the inner points of a round end that runs counter-clockwise
// from backRad before the direction outRad to aheadRad after it. Each quarter
// runs from its side's half-width to the larger of both at the tip.
func appendCap(ring []XY, c XY, outRad, backRad, aheadRad, fromM, toM float64) []XY {
	tip := math.Max(fromM, toM)
	ring = appendSpiral(ring, c, outRad-backRad, backRad, fromM, tip)
	ring = append(ring, polar(c, tip, outRad))
	return appendSpiral(ring, c, outRad, aheadRad, tip, toM)
}

// appendArc appends the inner points of an arc, counter-clockwise.
func appendArc(ring []XY, c XY, fromRad, sweepRad, r float64) []XY {
	return appendSpiral(ring, c, fromRad, sweepRad, r, r)
}

// appendSpiral is appendArc with a radius that runs evenly from one to another.
func appendSpiral(ring []XY, c XY, startRad, sweepRad, fromM, toM float64) []XY {
	n := int(math.Ceil(sweepRad / arcStepRad))
	for i := 1; i < n; i++ {
		f := float64(i) / float64(n)
		ring = append(ring, polar(c, fromM+f*(toM-fromM), startRad+f*sweepRad))
	}
	return ring
}

func circle(c XY, r float64) []XY {
	ring := appendArc([]XY{polar(c, r, 0)}, c, 0, 2*math.Pi, r)
	return append(ring, ring[0])
}

func polar(c XY, r, rad float64) XY {
	s, co := math.Sincos(rad)
	return XY{c.X + r*co, c.Y + r*s}
}

// meet returns where two segments cross, as shares of each.
func meet(a0, a1, b0, b1 XY) (s, t float64, ok bool) {
	u, v, w := a1.Sub(a0), b1.Sub(b0), b0.Sub(a0)
	d := u.Cross(v)
	if math.Abs(d) <= 1e-12*u.Norm()*v.Norm() {
		return 0, 0, false
	}
	s, t = w.Cross(v)/d, w.Cross(u)/d
	return s, t, s >= 0 && s <= 1 && t >= 0 && t <= 1
}

func reversed[T any](s []T) []T {
	out := make([]T, len(s))
	for i, v := range s {
		out[len(s)-1-i] = v
	}
	return out
}

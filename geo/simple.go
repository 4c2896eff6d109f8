package geo

import (
	"math"
	"slices"
)

// clearM is how close two edges of a ring may come without counting as touching.
const clearM = 1e-7

// isSimple reports whether a closed ring neither crosses nor touches itself, with
// clearM to spare. Edges are compared by runs whose boxes meet, in order of x.
func isSimple(ring []XY) bool {
	n := len(ring) - 1
	if n < 3 {
		return false
	}
	for i := range n {
		a, b, c := ring[i], ring[i+1], ring[(i+2)%n]
		if u, v := b.Sub(a), c.Sub(b); u.Norm() < clearM || math.Abs(u.Cross(v)) <= clearM*v.Norm() && u.Dot(v) < 0 {
			return false // an edge without length, or a spike
		}
	}
	const run = 12
	type stretch struct {
		box
		from, to int
	}
	var boxes []stretch
	for i := 0; i < n; i += run {
		b := stretch{emptyBox(), i, min(i+run, n)}
		for _, p := range ring[b.from : b.to+1] {
			b.box = b.with(XY{p.X - clearM, p.Y - clearM}).with(XY{p.X + clearM, p.Y + clearM})
		}
		boxes = append(boxes, b)
	}
	slices.SortFunc(boxes, func(a, b stretch) int {
		switch {
		case a.min.X < b.min.X:
			return -1
		case a.min.X > b.min.X:
			return 1
		}
		return a.from - b.from
	})
	for i, a := range boxes {
		for _, b := range boxes[i:] {
			if b.min.X > a.max.X {
				break
			}
			if b.min.Y <= a.max.Y && a.min.Y <= b.max.Y && runsTouch(ring, a.from, a.to, b.from, b.to) {
				return false
			}
		}
	}
	return true
}

// runsTouch reports whether an edge of one run of a ring touches one of another
// run, other than its neighbours at their common point.
func runsTouch(ring []XY, from1, to1, from2, to2 int) bool {
	n := len(ring) - 1
	for i := from1; i < to1; i++ {
		for j := from2; j < to2; j++ {
			if d := (j - i + n) % n; d <= 1 || d == n-1 || from1 == from2 && j < i {
				continue
			}
			a, b, c, d := ring[i], ring[i+1], ring[j], ring[j+1]
			if math.Max(a.X, b.X)+clearM < math.Min(c.X, d.X) || math.Max(c.X, d.X)+clearM < math.Min(a.X, b.X) ||
				math.Max(a.Y, b.Y)+clearM < math.Min(c.Y, d.Y) || math.Max(c.Y, d.Y)+clearM < math.Min(a.Y, b.Y) {
				continue
			}
			on, t := closest(a, b, c, d)
			if on.Dist(c.Lerp(d, t)) < clearM {
				return true
			}
		}
	}
	return false
}

// signedArea is the area of a closed ring in the plane, positive where it runs
// counter-clockwise.
func signedArea(ring []XY) float64 {
	sum := 0.0
	for i := 0; i+1 < len(ring); i++ {
		sum += ring[i].Sub(ring[0]).Cross(ring[i+1].Sub(ring[0]))
	}
	return sum / 2
}

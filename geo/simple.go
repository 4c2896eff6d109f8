package geo

import (
	"cmp"
	"math"
	"slices"
)

// clearM is how close two edges of a ring may come without counting as touching.
const clearM = 1e-7

// IsSimple reports whether a closed ring surely neither crosses nor touches itself: it
// keeps 1e-7 clear of that.
func IsSimple(ring []XY) bool {
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
	simple := true
	eachNearPair(ring, func(i, j int) bool {
		a, b, c, d := ring[i], ring[i+1], ring[j], ring[j+1]
		on, t := closest(a, b, c, d)
		simple = on.Dist(c.Lerp(d, t)) >= clearM
		return simple
	})
	return simple
}

// isCrowded reports whether a ring runs over itself so often that an overlay of
// it whole would take very long.
func isCrowded(ring []XY) bool {
	left := 4 * len(ring)
	eachNearPair(ring, func(int, int) bool {
		left--
		return left > 0
	})
	return left <= 0
}

// stretch is a run of edges of a ring and its box.
type stretch struct {
	box
	from, to int
}

// eachNearPair visits pairs of edges of a closed ring whose boxes meet, without
// neighbours, until visit returns false. Edges are compared by runs whose boxes
// meet, in order of x.
func eachNearPair(ring []XY, visit func(i, j int) bool) {
	const run = 12
	n := len(ring) - 1
	var runs []stretch
	for i := 0; i < n; i += run {
		b := stretch{emptyBox(), i, min(i+run, n)}
		for _, p := range ring[b.from : b.to+1] {
			b.box = b.with(XY{p.X - clearM, p.Y - clearM}).with(XY{p.X + clearM, p.Y + clearM})
		}
		runs = append(runs, b)
	}
	slices.SortFunc(runs, func(a, b stretch) int {
		if c := cmp.Compare(a.min.X, b.min.X); c != 0 {
			return c
		}
		return a.from - b.from
	})
	for i, a := range runs {
		for _, b := range runs[i:] {
			if b.min.X > a.max.X {
				break
			}
			if b.min.Y <= a.max.Y && a.min.Y <= b.max.Y && !nearPairs(ring, a, b, visit) {
				return
			}
		}
	}
}

// nearPairs visits the pairs of two runs, or within one, and returns what visit
// returned last.
func nearPairs(ring []XY, r1, r2 stretch, visit func(i, j int) bool) bool {
	n := len(ring) - 1
	for i := r1.from; i < r1.to; i++ {
		for j := r2.from; j < r2.to; j++ {
			if d := (j - i + n) % n; d <= 1 || d == n-1 || r1.from == r2.from && j < i {
				continue
			}
			a, b, c, d := ring[i], ring[i+1], ring[j], ring[j+1]
			if max(a.X, b.X)+clearM < min(c.X, d.X) || max(c.X, d.X)+clearM < min(a.X, b.X) ||
				max(a.Y, b.Y)+clearM < min(c.Y, d.Y) || max(c.Y, d.Y)+clearM < min(a.Y, b.Y) {
				continue
			}
			if !visit(i, j) {
				return false
			}
		}
	}
	return true
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

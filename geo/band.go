package geo

import (
	"math"
	"slices"
)

// Limits of the outline of a zone.
const (
	arcStepRad   = math.Pi / 64    // at most this much of a circle a side
	mergeM       = 1e-6            // path points closer than this are one
	maxTaper     = 0.99            // half-width change per metre of path
	sharpTurnRad = 2 * math.Pi / 3 // from here on left and right change places
)

// band is a path with half-widths: what a zone is asked to cover.
type band struct {
	path        []XY
	left, right []float64
}

// newBand merges repeated points, of which the larger half-widths stand.
func newBand(path []XY, leftM, rightM []float64) band {
	var b band
	for i, p := range path {
		if n := len(b.path); n > 0 && p.Dist(b.path[n-1]) < mergeM {
			b.left[n-1] = max(b.left[n-1], leftM[i])
			b.right[n-1] = max(b.right[n-1], rightM[i])
			continue
		}
		b.path = append(b.path, p)
		b.left = append(b.left, leftM[i])
		b.right = append(b.right, rightM[i])
	}
	return b
}

// snapped moves the path to a grid, which removes near-coincident edges.
func (b band) snapped(gridM float64) band {
	p := make([]XY, len(b.path))
	for i, q := range b.path {
		p[i] = XY{math.Round(q.X/gridM) * gridM, math.Round(q.Y/gridM) * gridM}
	}
	return newBand(p, b.left, b.right)
}

// inflated returns the band whose inscribed polygon covers b: half-widths are
// raised by the sagitta of an arc side, by the merging distance and by extraM,
// by the larger side at sharp turns, and to the steepest taper.
func (b band) inflated(extraM float64) band {
	k := 1 / math.Cos(arcStepRad/2)
	n := len(b.path)
	out := band{b.path, make([]float64, n), make([]float64, n)}
	for i := range n {
		l, r := b.left[i], b.right[i]
		if i > 0 && i < n-1 && math.Abs(turn(b.path[i-1], b.path[i], b.path[i+1])) > sharpTurnRad {
			l = max(l, r)
			r = l
		}
		out.left[i] = l*k + 2*mergeM + extraM
		out.right[i] = r*k + 2*mergeM + extraM
	}
	limitTaper(out.path, out.left)
	limitTaper(out.path, out.right)
	return out
}

// LimitTaper are the half-widths with which BufferVariable draws a zone about a path: none
// changes faster than the discs that make it can.
func LimitTaper(path []XY, widthM []float64) []float64 {
	out := slices.Clone(widthM)
	limitTaper(path, out)
	return out
}

// limitTaper raises half-widths so that none changes faster than maxTaper.
func limitTaper(path []XY, w []float64) {
	for i := 1; i < len(w); i++ {
		w[i] = max(w[i], w[i-1]-maxTaper*path[i].Dist(path[i-1]))
	}
	for i := len(w) - 2; i >= 0; i-- {
		w[i] = max(w[i], w[i+1]-maxTaper*path[i].Dist(path[i+1]))
	}
}

// turn returns the change of direction at b in radians, positive to the left. A
// path that turns straight back turns left, whichever way it is travelled.
func turn(a, b, c XY) float64 {
	u, v := b.Sub(a), c.Sub(b)
	t := math.Atan2(u.Cross(v), u.Dot(v))
	if t < 1e-9-math.Pi {
		return math.Pi
	}
	return t
}

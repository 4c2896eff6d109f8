package place

import (
	"math"

	"github.com/paulmach/orb"

	"loamline.example/geo"
)

// RoundingM is what the rounding of coordinates may take from a zone: a step of
// 1e-8 degrees is 1.11 mm of latitude and, at the equator, of longitude, so that
// an edge and the line in its middle may each come 0.79 mm closer.
const RoundingM = 0.002

// mostMitre is how far a sharp corner moves, in distances of its sides.
const mostMitre = 4

// outwards moves the sides of a ring away from the area by a distance, to the
// right of travel: outer rings run counter-clockwise and holes clockwise. Where
// the area folds within that distance the ring may cross itself.
func outwards(ring orb.Ring, byM float64) []geo.XY {
	pts := make([]geo.XY, 0, len(ring))
	for _, p := range ring {
		if q := orbXY(p); len(pts) == 0 || q != pts[len(pts)-1] {
			pts = append(pts, q)
		}
	}
	if n := len(pts); n > 1 && pts[0] == pts[n-1] {
		pts = pts[:n-1]
	}
	n := len(pts)
	if n < 3 {
		return pts
	}
	out := make([]geo.XY, n)
	for i, q := range pts {
		a, b := rightOf(pts[(i+n-1)%n], q), rightOf(q, pts[(i+1)%n])
		// Both sides move by byM where the corner moves along a+b by this much.
		out[i] = q.Add(a.Add(b).Scale(byM / math.Max(1+a.Dot(b), 2/float64(mostMitre*mostMitre))))
	}
	return out
}

// rightOf is the unit vector to the right of the way from a to b.
func rightOf(a, b geo.XY) geo.XY {
	d := b.Sub(a)
	return geo.XY{X: d.Y, Y: -d.X}.Scale(1 / d.Norm())
}

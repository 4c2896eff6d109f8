package measure

import (
	"math"

	"loamline.example/geo"
)

// point is a place on a curve under test; NaN where a method gives no value.
type point struct {
	pos      geo.XY
	depthM   float64
	wide95M  float64 // horizontal
	depth95M float64
}

// curve is a line as a method drew it: parts with gaps between them.
type curve [][]point

// everyM is the spacing of the places at which curves are compared, in metres.
const everyM = 0.5

// samples walks the parts in equal steps.
func (c curve) samples() []point {
	var out []point
	for _, part := range c {
		for i := 0; i+1 < len(part); i++ {
			a, b := part[i], part[i+1]
			n := max(1, int(math.Round(a.pos.Dist(b.pos)/everyM)))
			for k := range n {
				t := (float64(k) + 0.5) / float64(n)
				mix := func(u, v float64) float64 { return u + t*(v-u) }
				out = append(out, point{a.pos.Lerp(b.pos, t), mix(a.depthM, b.depthM), mix(a.wide95M, b.wide95M), mix(a.depth95M, b.depth95M)})
			}
		}
	}
	return out
}

// distance returns how far a place is from the curve; false where the nearest
// place is in a gap, which the curve does not claim to have drawn.
func (c curve) distance(p geo.XY) (float64, bool) {
	best, drawn := math.Inf(1), false
	try := func(a, b geo.XY, isDrawn bool) {
		if d := geo.NewPolyline([]geo.XY{a, b}).Nearest(p); math.Abs(d.OffsetM) < best {
			best, drawn = math.Abs(d.OffsetM), isDrawn
		}
	}
	for k, part := range c {
		for i := 0; i+1 < len(part); i++ {
			try(part[i].pos, part[i+1].pos, true)
		}
		if k+1 < len(c) {
			try(part[len(part)-1].pos, c[k+1][0].pos, false)
		}
	}
	return best, drawn
}

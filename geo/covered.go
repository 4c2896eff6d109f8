package geo

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/tidwall/rtree"
)

// coverTolM is how far a zone's edge may fall short by rounding.
const coverTolM = 1e-6

// shortAt returns the segments of the path whose band the zone doesn't hold, in
// order, by a check that shares nothing with how the zone was built: the path
// must start inside, and no edge of the zone may come closer to a segment than
// the half-width of that place and side. Both together mean that the zone holds
// the whole band.
func (b band) shortAt(zone orb.MultiPolygon) []int {
	short := make([]bool, len(b.path))
	short[0] = !planar.MultiPolygonContains(zone, orb.Point{b.path[0].X, b.path[0].Y})
	tree := b.index()
	for _, poly := range zone {
		for _, ring := range poly {
			for i := 0; i+1 < len(ring); i++ {
				b.markShort(short, tree, XY{ring[i][0], ring[i][1]}, XY{ring[i+1][0], ring[i+1][1]})
			}
		}
	}
	var out []int
	for i, s := range short {
		if s {
			out = append(out, i)
		}
	}
	return out
}

// index holds each segment's box, widened by its half-width.
func (b band) index() *rtree.RTreeGN[float64, int32] {
	tree := new(rtree.RTreeGN[float64, int32])
	for i := 0; i == 0 || i+1 < len(b.path); i++ {
		j := min(i+1, len(b.path)-1)
		p, q := b.path[i], b.path[j]
		w := max(b.left[i], b.right[i], b.left[j], b.right[j])
		tree.Insert([2]float64{min(p.X, q.X) - w, min(p.Y, q.Y) - w},
			[2]float64{max(p.X, q.X) + w, max(p.Y, q.Y) + w}, int32(i))
	}
	return tree
}

// markShort marks the segments to which the edge pq comes closer than asked.
func (b band) markShort(short []bool, tree *rtree.RTreeGN[float64, int32], p, q XY) {
	tree.Search([2]float64{min(p.X, q.X), min(p.Y, q.Y)}, [2]float64{max(p.X, q.X), max(p.Y, q.Y)},
		func(_, _ [2]float64, k int32) bool {
			i := int(k)
			j := min(i+1, len(b.path)-1)
			on, t := closest(p, q, b.path[i], b.path[j])
			foot := b.path[i].Lerp(b.path[j], t)
			if b.width(i, j, t, on)-on.Dist(foot) > coverTolM {
				short[i] = true
			}
			return true
		})
}

// width returns the half-width asked between vertices i and j on the side of the
// place q. At a vertex, where sides meet, it is the smaller one.
func (b band) width(i, j int, t float64, q XY) float64 {
	l := b.left[i] + t*(b.left[j]-b.left[i])
	r := b.right[i] + t*(b.right[j]-b.right[i])
	switch side := b.path[j].Sub(b.path[i]).Cross(q.Sub(b.path[i])); {
	case t <= 0 || t >= 1:
		return min(l, r)
	case side > 0:
		return l
	default:
		return r
	}
}

// closest returns the place on segment pq that is nearest to segment ab, and
// where on ab its foot is, as a share.
func closest(p, q, a, b XY) (on XY, t float64) {
	if s, t, ok := meet(p, q, a, b); ok {
		return p.Lerp(q, s), t
	}
	best := math.Inf(1)
	try := func(c XY, share float64) {
		if d := c.Dist(a.Lerp(b, share)); d < best {
			best, on, t = d, c, share
		}
	}
	try(p, FootShare(a, b, p))
	try(q, FootShare(a, b, q))
	try(p.Lerp(q, FootShare(p, q, a)), 0)
	try(p.Lerp(q, FootShare(p, q, b)), 1)
	return on, t
}

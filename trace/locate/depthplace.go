package locate

import (
	"math"

	"github.com/tidwall/rtree"

	"loamline.example/trace"
)

// widenToDepthsNearby widens each depth band by how the depth drawn changes within the
// band across. A place that may lie a metre off, along the line as well as across,
// has the depth that the line has a metre on: at a dive by a loose fix that is more
// than all else in the band, and where a line comes back beside itself it is the
// depth of the other leg.
//
// The change within a 95 % band of position stands for the depth's error by it, and
// the two errors are independent: they add in quadrature (law of propagation with the
// difference itself in place of a sensitivity, JCGM 100:2008, 5.1.2 and note 2 of
// 5.1.3, from memory).
func widenToDepthsNearby(c *trace.Centerline) {
	var legs rtree.RTreeG[leg]
	for _, p := range c.Parts {
		for i := 1; i < len(p.Vertices); i++ {
			l := leg{&p.Vertices[i-1], &p.Vertices[i]}
			if trace.Known(l.a.DepthM) && trace.Known(l.b.DepthM) {
				p, q := l.a.Pos, l.b.Pos
				legs.Insert([2]float64{min(p.X, q.X), min(p.Y, q.Y)}, [2]float64{max(p.X, q.X), max(p.Y, q.Y)}, l)
			}
		}
	}
	var wider []float64 // after all are known: a band does not feed on another
	for _, p := range c.Parts {
		for i := range p.Vertices {
			v, most := &p.Vertices[i], 0.0
			if h := v.Horizontal95M; trace.Known(v.DepthM) && trace.Known(h) {
				legs.Search([2]float64{v.Pos.X - h, v.Pos.Y - h}, [2]float64{v.Pos.X + h, v.Pos.Y + h}, func(_, _ [2]float64, l leg) bool {
					most = max(most, l.apartM(v, h))
					return true
				})
			}
			wider = append(wider, most)
		}
	}
	for _, p := range c.Parts {
		for i := range p.Vertices {
			p.Vertices[i].Depth95M = math.Hypot(p.Vertices[i].Depth95M, wider[i])
		}
		wider = wider[len(p.Vertices):]
	}
}

// leg is what lies between two vertices.
type leg struct{ a, b *trace.Vertex }

// apartM is how far the depth of the leg is from that of a vertex, at most, within a
// reach of it; 0 where all of it is farther away.
func (l leg) apartM(v *trace.Vertex, reachM float64) float64 {
	// The leg within a circle: |a + t d − v| = reach.
	d, off := l.b.Pos.Sub(l.a.Pos), l.a.Pos.Sub(v.Pos)
	dd, half, rest := d.Dot(d), d.Dot(off), off.Dot(off)-reachM*reachM
	from, to := 0.0, 1.0
	if dd > 0 {
		disc := half*half - dd*rest
		if disc < 0 {
			return 0
		}
		root := math.Sqrt(disc)
		from, to = max(0, (-half-root)/dd), min(1, (-half+root)/dd)
	} else if rest > 0 {
		return 0
	}
	if from > to {
		return 0
	}
	at := func(t float64) float64 { return math.Abs(l.a.DepthM + t*(l.b.DepthM-l.a.DepthM) - v.DepthM) }
	return max(at(from), at(to))
}

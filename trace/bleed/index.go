package bleed

import (
	"math"
	"slices"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Index finds the paths near a place: every traced line and every record of a
// job, entered once. It is safe for concurrent reading.
type Index struct {
	paths []Path
	tree  rtree.RTreeGN[float64, int32]
	of    []segment
}

type segment struct{ path, at int32 }

// NewIndex enters paths; Exclude and the results refer to them by position.
func NewIndex(paths []Path) *Index {
	ix := &Index{paths: paths}
	for p, path := range paths {
		for i := 0; i+1 < len(path.Points); i++ {
			a, b := path.Points[i], path.Points[i+1]
			ix.tree.Insert([2]float64{math.Min(a.X, b.X), math.Min(a.Y, b.Y)},
				[2]float64{math.Max(a.X, b.X), math.Max(a.Y, b.Y)}, int32(len(ix.of)))
			ix.of = append(ix.of, segment{int32(p), int32(i)})
		}
	}
	return ix
}

// nearPath is the nearest place of a path to some point.
type nearPath struct {
	path      int
	distM     float64
	at        geo.XY
	direction geo.XY // unit vector along the path
	depthM    float64
	sigmaM    float64
}

// ends are the two ends of a path.
func (ix *Index) ends(path int) [2]geo.XY {
	p := ix.paths[path].Points
	return [2]geo.XY{p[0], p[len(p)-1]}
}

// feet returns the nearest foot on each path within reachM of q, in the order
// of the paths.
func (ix *Index) feet(q geo.XY, reachM float64, exclude []int, into []nearPath) []nearPath {
	into = into[:0]
	if ix == nil {
		return into
	}
	ix.tree.Search([2]float64{q.X - reachM, q.Y - reachM}, [2]float64{q.X + reachM, q.Y + reachM},
		func(_, _ [2]float64, id int32) bool {
			s := ix.of[id]
			if slices.Contains(exclude, int(s.path)) {
				return true
			}
			f := ix.nearest(s, q)
			if f.distM > reachM {
				return true
			}
			i := slices.IndexFunc(into, func(o nearPath) bool { return o.path == f.path })
			switch {
			case i < 0:
				into = append(into, f)
			case f.distM < into[i].distM || f.distM == into[i].distM && less(f.at, into[i].at):
				into[i] = f
			}
			return true
		})
	slices.SortFunc(into, func(a, b nearPath) int { return a.path - b.path })
	return into
}

func less(p, q geo.XY) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

func (ix *Index) nearest(s segment, q geo.XY) nearPath {
	p := ix.paths[s.path]
	a, b := p.Points[s.at], p.Points[s.at+1]
	ab := b.Sub(a)
	if n2 := ab.Dot(ab); n2 > 0 {
		ab = ab.Scale(1 / math.Sqrt(n2))
	}
	t := geo.FootShare(a, b, q)
	at := a.Lerp(b, t)
	return nearPath{int(s.path), q.Dist(at), at, ab,
		between(p.DepthM, s.at, t, math.NaN()), between(p.SigmaM, s.at, t, trace.RecordSigmaM)}
}

// between interpolates a value along a segment; one unknown end takes the
// other's, and fallback stands where nothing is known.
func between(v []float64, at int32, t, fallback float64) float64 {
	if int(at)+1 >= len(v) {
		return fallback
	}
	a, b := v[at], v[at+1]
	switch {
	case math.IsNaN(a) && math.IsNaN(b):
		return fallback
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return a + t*(b-a)
}

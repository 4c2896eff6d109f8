package records

import (
	"math"
	"sort"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Index finds the records near a line: a city's layer holds many more
// than one job touches.
type Index struct {
	tree rtree.RTreeGN[float64, int32]
}

func NewIndex(records []trace.Record) *Index {
	ix := &Index{}
	for k, r := range records {
		if len(r.Path) < 2 {
			continue
		}
		lo, hi := box(r.Path)
		ix.tree.Insert(lo, hi, int32(k))
	}
	return ix
}

// Near returns the records whose boxes come within reachM of a centerline's
// box, in their order.
func (ix *Index) Near(c *trace.Centerline, reachM float64) []int {
	lo, hi := box(c.Polyline().Points)
	for d := range lo {
		lo[d] -= reachM
		hi[d] += reachM
	}
	var out []int
	ix.tree.Search(lo, hi, func(_, _ [2]float64, k int32) bool {
		out = append(out, int(k))
		return true
	})
	sort.Ints(out)
	return out
}

func box(path []geo.XY) (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range path {
		lo[0], lo[1] = math.Min(lo[0], p.X), math.Min(lo[1], p.Y)
		hi[0], hi[1] = math.Max(hi[0], p.X), math.Max(hi[1], p.Y)
	}
	return lo, hi
}

package geo

import (
	"math"
	"slices"

	"github.com/tidwall/rtree"
)

// PolylineBoxes tells which of many lines may lie near a place, by the boxes of the ground
// that they lie on.
type PolylineBoxes struct {
	n    int
	tree *rtree.RTreeGN[float64, int] // nil of a few
}

// fewLines are looked at one by one. Judgement: up to there it is faster.
const fewLines = 16

// NewPolylineBoxes prepares n lines.
func NewPolylineBoxes(n int, line func(k int) Polyline) PolylineBoxes {
	if n <= fewLines {
		return PolylineBoxes{n: n}
	}
	b := PolylineBoxes{n, new(rtree.RTreeGN[float64, int])}
	for k := range n {
		lies := emptyBox()
		for _, p := range line(k).Points {
			lies = lies.with(p)
		}
		b.tree.Insert([2]float64{lies.min.X, lies.min.Y}, [2]float64{lies.max.X, lies.max.Y}, k)
	}
	return b
}

// Within appends to ks, in their order, all lines that may come within some distance of a
// place, and perhaps others.
func (b PolylineBoxes) Within(ks []int, at XY, distM float64) []int {
	if b.tree == nil || math.IsInf(distM, 1) {
		for k := range b.n {
			ks = append(ks, k)
		}
		return ks
	}
	from := len(ks)
	b.tree.Search([2]float64{at.X - distM, at.Y - distM}, [2]float64{at.X + distM, at.Y + distM}, func(_, _ [2]float64, k int) bool {
		ks = append(ks, k)
		return true
	})
	slices.Sort(ks[from:])
	return ks
}

package geo

import (
	"math"

	"github.com/tidwall/rtree"
)

// Points finds the nearest of many points, however they lie, and however often at one place.
type Points struct {
	at   []XY
	tree rtree.RTreeGN[float64, int32]
}

// NewPoints makes an index of some points.
func NewPoints(at []XY) *Points {
	p := &Points{at: at}
	for i, q := range at {
		box := [2]float64{q.X, q.Y}
		p.tree.Insert(box, box, int32(i))
	}
	return p
}

// NearestM is how far the nearest of the points is that are not the one with a number, by
// its place among those that were given; +Inf where there is none.
func (p *Points) NearestM(from XY, but int) float64 {
	nearestM := math.Inf(1)
	p.tree.Nearby(
		func(lo, hi [2]float64, i int32, isPoint bool) float64 {
			if isPoint {
				return p.at[i].Dist(from)
			}
			return XY{X: math.Max(0, math.Max(lo[0]-from.X, from.X-hi[0])), Y: math.Max(0, math.Max(lo[1]-from.Y, from.Y-hi[1]))}.Norm()
		},
		func(_, _ [2]float64, i int32, distM float64) bool {
			if int(i) == but {
				return true
			}
			nearestM = distM
			return false
		})
	return nearestM
}

package traverse

import (
	"math"

	"loamline.example/trace/ranked"
)

// What tells how places scatter. Judgement.
const (
	fewestWindows = 8   // of four places
	mostTurnCos   = 0.7 // a window whose places do not go on is passed over: 45 degrees
)

// scatter is by how much places scatter about a course that bends evenly, one sigma, 0 where
// there are too few to tell: the third differences of four places in a row are those of their
// errors, for a quadratic course has none. What corners add is in few of them.
func scatter(ss []stand) float64 {
	var all []float64
	for k := 0; k+3 < len(ss); k++ {
		if z, ok := thirdDifference(ss[k : k+4]); ok {
			all = append(all, z)
		}
	}
	if len(all) < fewestWindows {
		return 0
	}
	return ranked.NormalSigma * ranked.Median(all)
}

// thirdDifference is that of the offsets of four places across their course, scaled to the
// error of one.
func thirdDifference(w []stand) (float64, bool) {
	way := w[3].pos.Sub(w[0].pos)
	if way.Norm() == 0 {
		return 0, false
	}
	way = way.Scale(1 / way.Norm())
	var along, across [4]float64
	for i, s := range w {
		d := s.pos.Sub(w[0].pos)
		along[i], across[i] = d.Dot(way), way.Cross(d)
		if i > 0 && (s.fresh || along[i] <= along[i-1] || along[i]-along[i-1] < mostTurnCos*s.pos.Dist(w[i-1].pos)) {
			return 0, false
		}
	}
	sum, square := 0.0, 0.0
	for i := range w {
		c := 1.0
		for j := range w {
			if j != i {
				c /= along[i] - along[j]
			}
		}
		sum += c * across[i]
		square += c * c
	}
	return math.Abs(sum) / math.Sqrt(square), true
}

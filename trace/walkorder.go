package trace

import (
	"math"
	"sort"

	"loamline.example/geo"
)

// TravelOrder returns the readings' indices by time where all have one, else in
// the order of the files, and whether that is the order of a walk: rows without
// times may have been sorted by anything.
func TravelOrder(rs []Reading) (order []int, walked bool) {
	order = make([]int, len(rs))
	timed := true
	for i := range rs {
		order[i] = i
		timed = timed && !rs[i].Time.IsZero()
	}
	if timed {
		sort.SliceStable(order, func(a, b int) bool { return rs[order[a]].Time.Before(rs[order[b]].Time) })
		return order, true
	}
	var places []geo.XY
	for i := range rs {
		if rs[i].Placed() {
			places = append(places, rs[i].Pos)
		}
	}
	return order, inWalkOrder(places)
}

// inWalkOrder reports whether places stand in the order of a walk: the steps from
// one to the next are mostly no longer than thrice the way to the nearest other
// place of the next few dozen.
func inWalkOrder(ps []geo.XY) bool {
	const window = 40
	scattered := 0
	for k := 1; k < len(ps); k++ {
		nearest := math.Inf(1)
		for m := max(0, k-window); m < min(len(ps), k+window+1); m++ {
			if d := ps[m].Dist(ps[k]); m != k && d > 0 {
				nearest = math.Min(nearest, d)
			}
		}
		if ps[k].Dist(ps[k-1]) > math.Max(3*nearest, 1) {
			scattered++
		}
	}
	return 3*scattered < len(ps)
}

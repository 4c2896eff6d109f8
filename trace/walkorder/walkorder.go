// Package walkorder tells in which order readings were taken.
package walkorder

import (
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Travel returns the readings' indices by time where all have one, else in
// the order of the files, and whether that is the order of a walk: rows without
// times may have been sorted by anything.
func Travel(rs []trace.Reading) (order []int, walked bool) {
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
	const window = 40 // judgement: time
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

// Taken lists those of the readings with a place that are asked for, in the same order.
func Taken(all []trace.Reading, wanted func(r *trace.Reading) bool) []*trace.Reading {
	var out []*trace.Reading
	timed := true
	for i := range all {
		r := &all[i]
		if !wanted(r) || !r.Placed() {
			continue
		}
		out = append(out, r)
		timed = timed && !r.Time.IsZero()
	}
	if timed {
		slices.SortStableFunc(out, func(a, b *trace.Reading) int { return a.Time.Compare(b.Time) })
	}
	return out
}

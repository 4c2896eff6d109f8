// Package walkorder tells in which order readings were taken.
package walkorder

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Clock is when readings were taken, in seconds, that are given in the order of the file,
// NaN where one has no time: a reading without one takes that of the one before it in the
// file, and before the first time that one. It is nil where times tell no order: fewer than
// half of the readings that count have one, or next to all have the same, as in a column
// that holds the day.
func Clock(n int, timeS func(i int) float64, counts func(i int) bool) []float64 {
	const severalTimes = 1000 // are as many as any column needs
	enough := min(severalTimes, n/4)
	all, timed, seen := 0, 0, map[float64]bool{}
	for i := range n {
		if !counts(i) {
			continue
		}
		all++
		if t := timeS(i); !math.IsNaN(t) {
			timed++
			if len(seen) <= enough {
				seen[t] = true
			}
		}
	}
	if timed == 0 || 2*timed < all || !(len(seen) > all/4 || len(seen) > severalTimes) {
		return nil
	}
	out := make([]float64, n)
	last := math.NaN()
	for i := range n {
		if t := timeS(i); !math.IsNaN(t) {
			last = t
		}
		out[i] = last
	}
	for i := n - 1; i >= 0; i-- {
		if math.IsNaN(out[i]) {
			out[i] = last
		}
		last = out[i]
	}
	return out
}

// seconds is a reading's time, NaN where it has none.
func seconds(r *trace.Reading) float64 {
	if r.Time.IsZero() {
		return math.NaN()
	}
	return float64(r.Time.UnixMicro()) / 1e6
}

// Travel returns the readings' indices by their [Clock], to which those count that a line
// can be fitted to, else in the order of the files, and whether that is the order of a walk:
// rows without times may have been sorted by anything.
func Travel(rs []trace.Reading) (order []int, walked bool) {
	order = make([]int, len(rs))
	for i := range rs {
		order[i] = i
	}
	apart := Apart(rs)
	at := Clock(len(rs), func(i int) float64 { return seconds(&rs[i]) + apart[rs[i].File] }, func(i int) bool {
		return rs[i].Placed() && (rs[i].Fix.Measured() || rs[i].Exposed)
	})
	if at != nil {
		sort.SliceStable(order, func(a, b int) bool { return at[order[a]] < at[order[b]] })
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

// Taken lists those of the readings with a place that are asked for, by their [Clock], else
// in the order of the files.
func Taken(all []trace.Reading, wanted func(r *trace.Reading) bool) []*trace.Reading {
	var out []*trace.Reading
	for i := range all {
		if r := &all[i]; wanted(r) && r.Placed() {
			out = append(out, r)
		}
	}
	apart := Apart(all)
	at := Clock(len(out), func(i int) float64 { return seconds(out[i]) + apart[out[i].File] }, func(int) bool { return true })
	if at == nil {
		return out
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return at[order[a]] < at[order[b]] })
	sorted := make([]*trace.Reading, len(out))
	for k, i := range order {
		sorted[k] = out[i]
	}
	return sorted
}

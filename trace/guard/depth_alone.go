package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/sameline"
	"loamline.example/trace/remark"
)

// When a single shallower depth is told. Judgement.
const (
	// shallowerRel is how much of the depth drawn a dropped one must leave out to be told
	// of by itself: more than neighbouring depths of a level line differ by.
	shallowerRel = changeRel
	// samePlaceM is how near another depth must lie to speak of the same place.
	samePlaceM = 0.5
	// aloneM is how far away the nearest depths that were kept lie, on either side, of a deeper
	// one that the band holds: a line goes down under a ditch and up again within twice that.
	aloneM = 3.0
	// witnesses are the readings on either side that tell what is usual.
	witnesses = 4
)

// loneDepths finds single depths that were dropped as spikes and are much shallower
// than the profile. Nothing seconds such a depth; where nothing contradicts it either,
// the line may rise there for less than a stride, and that is the place that gets dug
// up. A signal that did not rise with it, a current that fell with it (the receiver makes
// it of signal and depth) and another depth at the place itself are a slip's.
// A deeper one is held by the band where no depth was kept near it: nothing seconds the
// profile there either. Those that are told of with others are passed over.
func (v *view) loneDepths(told []Breach) []Breach {
	var out []Breach
	for k, i := range v.byPlace {
		r := &v.Readings[i]
		if !r.DepthDropped || !(r.DepthM > 0) || r.DepthM >= shownM {
			continue
		}
		if s := v.feet[i].stationM; slices.ContainsFunc(told, func(b Breach) bool { return s >= b.FromM && s <= b.ToM }) {
			continue
		}
		d, band, ok := v.profileAt(i)
		own := v.depthOf(i)
		if !ok || math.Abs(d-own) <= band || math.Min(own, d) > (1-shallowerRel)*math.Max(own, d) || v.slipped(k, math.Log(d/own)) {
			continue
		}
		if own > d {
			if from, to := v.keptAbout(k); math.Min(v.feet[i].stationM-from, to-v.feet[i].stationM) >= aloneM {
				out = append(out, Breach{Kind: Between, FromM: from, ToM: to, DepthBandM: own - d})
			}
			continue
		}
		out = append(out, v.depthBreach([]int{i}, func(_ int, farthestM float64) trace.Remark {
			return remark.ShallowAlone{DepthM: r.DepthM, Row: r.Row, OffM: farthestM}
		}))
	}
	return out
}

// keptAbout are the stations of the next depths on either side of the k-th reading along the line
// that were kept, or the ends of its part.
func (v *view) keptAbout(k int) (from, to float64) {
	p := v.parts[v.feet[v.byPlace[k]].part]
	next := func(step int, end float64) float64 {
		for m := k + step; m >= 0 && m < len(v.byPlace) && v.feet[v.byPlace[m]].part == v.feet[v.byPlace[k]].part; m += step {
			if r := &v.Readings[v.byPlace[m]]; r.DepthM > 0 && !r.DepthDropped {
				return v.feet[v.byPlace[m]].stationM
			}
		}
		return end
	}
	return next(-1, p.FromM()), next(1, p.ToM())
}

// slipped reports whether the k-th reading along the line contradicts its own depth, or
// another one at its place does; rise is by how much the ln of the depth drawn is more,
// negative where it is less.
func (v *view) slipped(k int, rise float64) bool {
	i := v.byPlace[k]
	var about []int
	for m := max(0, k-witnesses); m < min(len(v.byPlace), k+witnesses+1); m++ {
		o := &v.Readings[v.byPlace[m]]
		if m == k || v.feet[v.byPlace[m]].part != v.feet[i].part {
			continue
		}
		if trace.Known(o.DepthM) && !o.DepthDropped && o.Pos.Dist(v.Readings[i].Pos) < samePlaceM {
			return true
		}
		about = append(about, v.byPlace[m])
	}
	return sameline.Slipped(v.figures([]int{i})[0], v.figures(about), rise)
}

// signalOf is the signal at the ground.
func signalOf(r *trace.Reading) float64 {
	if trace.Known(r.SignalLow) {
		return r.SignalLow
	}
	return r.Signal
}

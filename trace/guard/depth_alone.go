package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// When a single shallower depth is told. Judgement.
const (
	// shallowerRel is how much of the depth drawn a dropped one must leave out to be told
	// of by itself: more than neighbouring depths of a level line differ by.
	shallowerRel = changeRel
	// samePlaceM is how near another depth must lie to speak of the same place.
	samePlaceM = 0.5
	// slipPart is which part of what a shallower line does to signal or current tells a
	// line from a slip of the display.
	slipPart = 0.5
	// witnesses are the readings on either side that tell what is usual.
	witnesses = 4
)

// shallowAlone finds single depths that were dropped as spikes and are much shallower
// than the profile. Nothing seconds such a depth; where nothing contradicts it either,
// the line may rise there for less than a stride, and that is the place that gets dug
// up. A signal that did not rise with it, a current that fell with it (the receiver makes
// it of signal and depth) and another depth at the place itself are a slip's.
// Those that are told of with others are passed over.
func (v *view) shallowAlone(told []Breach) []Breach {
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
		if own := v.depthOf(i); !ok || d-own <= band || own > (1-shallowerRel)*d || v.slipped(k, math.Log(d/own)) {
			continue
		}
		out = append(out, v.depthBreach([]int{i}, func(_ int, farthestM float64) trace.Remark {
			return remark.ShallowAlone{DepthM: r.DepthM, Row: r.Row, OffM: farthestM}
		}))
	}
	return out
}

// slipped reports whether the k-th reading along the line contradicts its own depth, or
// another one at its place does; rise is by how much the ln of the depth drawn is more.
func (v *view) slipped(k int, rise float64) bool {
	i := v.byPlace[k]
	var signals, currents []float64
	for m := max(0, k-witnesses); m < min(len(v.byPlace), k+witnesses+1); m++ {
		o := &v.Readings[v.byPlace[m]]
		if m == k || v.feet[v.byPlace[m]].part != v.feet[i].part {
			continue
		}
		if trace.Known(o.DepthM) && !o.DepthDropped && o.Pos.Dist(v.Readings[i].Pos) < samePlaceM {
			return true
		}
		signals, currents = appendLn(signals, signalOf(o)), appendLn(currents, o.CurrentMA)
	}
	r := &v.Readings[i]
	if own := appendLn(nil, signalOf(r)); len(own) > 0 && len(signals) > 0 {
		return own[0]-ranked.Median(signals) < slipPart*rise
	}
	own := appendLn(nil, r.CurrentMA)
	return len(own) > 0 && len(currents) > 0 && own[0]-ranked.Median(currents) < -slipPart*rise
}

// signalOf is the signal at the ground.
func signalOf(r *trace.Reading) float64 {
	if trace.Known(r.SignalLow) {
		return r.SignalLow
	}
	return r.Signal
}

func appendLn(to []float64, x float64) []float64 {
	if x > 0 {
		to = append(to, math.Log(x))
	}
	return to
}

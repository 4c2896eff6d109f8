package fit

import (
	"math"
)

// An island is a run of a few readings that lies far from the runs before and
// after it and in line with neither.
const (
	islandReadings = 3
	islandSteps    = 3.5
)

// withoutIslands drops islands: so few readings, so far off, are a burst of
// leaping positions or of another line sooner than a piece of this one.
func (w *walk) withoutIslands(runs []run) []run {
	out := runs[:0:0]
	for i := range runs {
		apart := len(runs) > 1 && len(runs[i].part) <= islandReadings
		if apart && i > 0 {
			apart = w.apart(&runs[i-1], &runs[i])
		}
		if apart && i+1 < len(runs) {
			apart = w.apart(&runs[i], &runs[i+1])
		}
		if !apart || holdsExposed(w, &runs[i]) {
			out = append(out, runs[i])
		}
	}
	if len(out) == 0 {
		return runs
	}
	return out
}

// apart reports whether two runs in a row are far from one another and neither
// goes on towards the other.
func (w *walk) apart(a, b *run) bool {
	end, start := a.nodes[len(a.nodes)-1], b.nodes[0]
	gap := start.Sub(end)
	if gap.Norm() < islandSteps*w.stepM {
		return false
	}
	in, out := unit(end.Sub(a.nodes[len(a.nodes)-2])), unit(b.nodes[1].Sub(start))
	off := math.Min(math.Abs(in.Cross(gap)), math.Abs(out.Cross(gap)))
	return off > 1+3*math.Hypot(w.scaleM, w.floorM) || in.Dot(gap) < 0
}

func holdsExposed(w *walk, r *run) bool {
	for _, q := range r.part {
		if w.obs[q.obs].exposed {
			return true
		}
	}
	return false
}

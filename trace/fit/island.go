package fit

import (
	"math"
	"slices"
)

// An island is a run of a few readings that lies far from the runs before and
// after it and in line with neither. Numbers of readings, and gaps in usual steps: judgement,
// between losing a piece of a line that is read sparsely and drawing a burst of leaps.
const (
	islandReadings = 3
	solidReadings  = 6
	islandSteps    = 3.5
	leapSteps      = 1.2
	walkLeapSteps  = 2.0
	besideCos      = 0.9
)

// withoutIslands drops islands: so few readings, so far off, are a burst of
// leaping positions or of another line sooner than a piece of this one. An
// island lies beside solid runs, or the walk leaps to it and back.
func (w *walk) withoutIslands(runs []run) []run {
	out := runs[:0:0]
	for i := range runs {
		few := len(runs) > 1 && len(runs[i].part) <= islandReadings && !slices.ContainsFunc(runs[i].part, func(q sample) bool { return q.exposed })
		island := few
		if i > 0 {
			island = island && len(runs[i-1].part) >= solidReadings && w.apart(&runs[i-1], &runs[i])
		}
		if i+1 < len(runs) {
			island = island && len(runs[i+1].part) >= solidReadings && w.apart(&runs[i], &runs[i+1])
		}
		if !island && !(few && w.leaptTo(&runs[i])) {
			out = append(out, runs[i])
		}
	}
	if len(out) == 0 {
		return runs
	}
	return out
}

// leaptTo reports whether the walk comes to a run by a long step aside and
// leaves it by another, or begins or ends there.
func (w *walk) leaptTo(r *run) bool {
	first, last := len(w.obs), -1
	for _, q := range r.part {
		at := w.rowOf(q)
		first, last = min(first, at), max(last, at)
	}
	if last-first >= islandReadings+1 {
		return false
	}
	leap := func(a, b int) bool { return w.obs[a].p.Dist(w.obs[b].p) > walkLeapSteps*w.stepM }
	least := 1 + 3*math.Hypot(w.scaleM, w.floorM)
	before, after := first-1, last+1
	switch {
	case before >= 0 && after < len(w.obs):
		chord := unit(w.obs[after].p.Sub(w.obs[before].p))
		aside := math.Abs(chord.Cross(w.obs[first].p.Sub(w.obs[before].p)))
		return leap(before, first) && leap(last, after) && aside > least
	case before >= 1:
		in := unit(w.obs[before].p.Sub(w.obs[before-1].p))
		return leap(before, first) && math.Abs(in.Cross(w.obs[first].p.Sub(w.obs[before].p))) > least
	case after+1 < len(w.obs) && after > 0:
		out := unit(w.obs[after+1].p.Sub(w.obs[after].p))
		return leap(last, after) && math.Abs(out.Cross(w.obs[last].p.Sub(w.obs[after].p))) > least
	}
	return false
}

// apart reports whether two runs in a row are far from one another and neither
// goes on towards the other, or the second goes on beside the first after a leap
// to the side.
func (w *walk) apart(a, b *run) bool {
	end, start := a.nodes[len(a.nodes)-1], b.nodes[0]
	gap := start.Sub(end)
	in, out := unit(end.Sub(a.nodes[len(a.nodes)-2])), unit(b.nodes[1].Sub(start))
	off := math.Min(math.Abs(in.Cross(gap)), math.Abs(out.Cross(gap)))
	aside := off > 1+3*math.Hypot(w.scaleM, w.floorM)
	if aside && in.Dot(out) > besideCos && gap.Norm() > leapSteps*w.stepM {
		return true
	}
	return gap.Norm() >= islandSteps*w.stepM && (aside || in.Dot(gap) < 0)
}

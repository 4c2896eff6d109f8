package fit

import "math"

// An island is a run of a few readings that lies far from the runs before and
// after it and in line with neither.
const (
	islandReadings = 3
	solidReadings  = 6
	islandSteps    = 3.5
	leapSteps      = 1.2
	besideCos      = 0.9
)

// withoutIslands drops islands beside solid runs: so few readings, so far off,
// are a burst of leaping positions or of another line sooner than a piece of
// this one.
func (w *walk) withoutIslands(runs []run) []run {
	out := runs[:0:0]
	for i := range runs {
		island := len(runs) > 1 && len(runs[i].part) <= islandReadings && !holdsExposed(w, &runs[i])
		if i > 0 {
			island = island && len(runs[i-1].part) >= solidReadings && w.apart(&runs[i-1], &runs[i])
		}
		if i+1 < len(runs) {
			island = island && len(runs[i+1].part) >= solidReadings && w.apart(&runs[i], &runs[i+1])
		}
		if !island {
			out = append(out, runs[i])
		}
	}
	return out
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

func holdsExposed(w *walk, r *run) bool {
	for _, q := range r.part {
		if w.obs[q.obs].exposed {
			return true
		}
	}
	return false
}

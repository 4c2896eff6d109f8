package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// A display of depth that is at its end or stands still (judged, but for the ends).
const (
	stuckReadings = 4    // at the largest figure of a line
	leastEndM     = 2.0  // no display ends at less (common practice, no source)
	finerThanRel  = 0.02 // of the depth: what is written coarser repeats anyhow
	seldomAlike   = 0.25 // share of other neighbours that are the same figure
	frozenRun     = 5    // readings at any other figure, and
	frozenChance  = 1e-4 // how seldom the line's own neighbours would make such a run
)

// stuckDepths finds depths that stay at one figure over several neighbours, written finer
// than depths scatter. Where it is the largest of the line, the display shows no more than
// that, and the line may lie deeper; any other was held, and the line may lie anywhere.
func stuckDepths(rs []*trace.Reading, inputs []trace.Input) []contradiction {
	var read []*trace.Reading
	var all []float64
	most := 0.0
	for _, r := range rs {
		if r.DepthM > 0 && r.DepthM <= receiver.DeepestM && !r.Exposed && !(r.RaiseM > 0) && !isFiller(r.DepthM) {
			read, all, most = append(read, r), append(all, r.DepthM), math.Max(most, r.DepthM)
		}
	}
	end := longestRun(read)
	if end == nil || len(end) == len(read) || len(read) < 2*stuckReadings {
		return nil
	}
	n, at := len(end), end[len(end)-1]
	if receiver.DepthStep(all) > finerThanRel*at.DepthM {
		return nil
	}
	alike, others := 0, 0
	for k := 1; k < len(read); k++ {
		if a, b := read[k-1].DepthM, read[k].DepthM; a != at.DepthM || b != at.DepthM {
			others++
			if a == b {
				alike++
			}
		}
	}
	// With one pair of either kind more, so that neither is sure.
	share := float64(alike+1) / float64(others+2)
	switch {
	case at.DepthM == most && most >= leastEndM && n >= stuckReadings && float64(alike) <= seldomAlike*float64(others):
		return depthsContradict(at, inputs, remark.DisplayAtEnd{N: n, DepthM: at.DepthM, Row: at.Row}, "the line may lie deeper there")
	case n >= frozenRun && float64(len(read))*math.Pow(share, float64(n-1)) < frozenChance:
		return depthsContradict(at, inputs, remark.DepthsFrozen{N: n, DepthM: at.DepthM, Row: at.Row}, "the display was perhaps held there")
	}
	return nil
}

// longestRun is the longest run of readings that show the same depth; of several the
// deepest.
func longestRun(rs []*trace.Reading) []*trace.Reading {
	var best []*trace.Reading
	for from := 0; from < len(rs); {
		to := from + 1
		for to < len(rs) && rs[to].DepthM == rs[from].DepthM {
			to++
		}
		if run := rs[from:to]; len(run) > len(best) || len(run) == len(best) && run[0].DepthM > best[0].DepthM {
			best = run
		}
		from = to
	}
	return best
}

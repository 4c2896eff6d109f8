package clean

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// A display of depth that is at its end or stands still (judgement, but for the ends).
const (
	stuckReadings = 4    // at the largest figure of a line
	leastEndM     = 2.0  // no display ends at less (common practice, no source)
	finerThanRel  = 0.02 // of the depth: what is written coarser repeats anyhow
	seldomAlike   = 0.25 // share of other neighbours that are the same figure
	frozenRun     = 5    // readings at any other figure,
	heldRun       = 3    // at which something else stays too, and
	frozenChance  = 1e-3 // how seldom the line's own neighbours would make such a run
	heldOverM     = 1.0  // walked meanwhile: who stands still reads the same
	severalSteps  = 2.0  // of the display that neighbours scatter by, one sigma
)

// stuckDepths finds depths that stay at one figure over several neighbours, written finer
// than depths scatter. Where it is the largest of the line, the display shows no more than
// that, and the line may lie deeper; any other was held, and the line may lie anywhere.
// What else the receiver showed, and showed again, counts with it: a few readings tell
// then.
func stuckDepths(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var read []*trace.Reading
	var all []float64
	most := 0.0
	for _, r := range rs {
		if counted(r) {
			read, all, most = append(read, r), append(all, r.DepthM), math.Max(most, r.DepthM)
		}
	}
	if len(read) < 2*stuckReadings {
		return nil
	}
	step, finest := receiver.DepthStep(all), finestStep(all)
	var seldom []float64
	for k, of := range shownBeside {
		share, _, _ := pairsOf(read, of).alikeShare(trace.Unknown)
		if k == currentShown {
			share = math.Max(share, staysWithDepth(read, of))
		}
		seldom = append(seldom, share)
	}
	depths := pairsOf(read, depthShown)
	for _, run := range runsAlike(read) {
		n, at := len(run), run[len(run)-1]
		if n == len(read) || step > finerThanRel*at.DepthM {
			continue
		}
		share, alike, others := depths.alikeShare(at.DepthM)
		share = math.Min(share, alikeByScatter(read, run, finest))
		beside := 1.0
		for k, of := range shownBeside {
			if staysAt(run, of) {
				beside *= seldom[k]
			}
		}
		switch {
		case at.DepthM == most && most >= leastEndM && n >= stuckReadings && float64(alike) <= seldomAlike*float64(others):
			return depthsContradict(at, inputs, remark.DisplayAtEnd{N: n, DepthM: at.DepthM, Row: at.Row}, "the line may lie deeper there")
		case finest > finerThanRel*at.DepthM:
			continue
		case (n >= frozenRun || n >= heldRun && beside < 1) && float64(len(read))*math.Pow(share*beside, float64(n-1)) < frozenChance &&
			run[0].Pos.Dist(at.Pos) >= heldOverM:
			return depthsContradict(at, inputs, remark.DepthsFrozen{N: n, DepthM: at.DepthM, Row: at.Row}, "the display was perhaps held there")
		}
	}
	return nil
}

// finestStep is by how little two figures differ that were shown: a display in inches
// that was written in centimetres has no step that they all lie on.
func finestStep(shown []float64) float64 {
	shown = slices.Sorted(slices.Values(shown))
	finest := math.Inf(1)
	for k := 1; k < len(shown); k++ {
		if by := shown[k] - shown[k-1]; by > 0 {
			finest = math.Min(finest, by)
		}
	}
	return finest
}

// alikeByScatter is how often two neighbours show the same figure where they scatter by
// several steps of the display, as the normal density has it at no difference: a short line
// has too few pairs to count. It is 1 where they do not scatter so. Those of a run are left out.
func alikeByScatter(read, run []*trace.Reading, stepM float64) float64 {
	var off []float64
	for k := 1; k < len(read); k++ {
		if read[k].DepthM != run[0].DepthM && read[k-1].DepthM != run[0].DepthM {
			off = append(off, math.Abs(read[k].DepthM-read[k-1].DepthM))
		}
	}
	sigmaM := ranked.NormalSigma * medianOfAtLeast(off, leastCompared)
	if !(sigmaM >= severalSteps*stepM) {
		return 1
	}
	return stepM / (math.Sqrt(2*math.Pi) * sigmaM)
}

func depthShown(r *trace.Reading) float64 { return r.DepthM }

// currentShown is the place of the current among shownBeside: derived from their order.
const currentShown = 0

// shownBeside is what a receiver shows beside the depth, each by itself.
var shownBeside = []func(r *trace.Reading) float64{
	func(r *trace.Reading) float64 { return r.CurrentMA },
	func(r *trace.Reading) float64 { return r.Signal },
	func(r *trace.Reading) float64 { return r.SignalLow },
	func(r *trace.Reading) float64 { return r.SignalHigh },
	func(r *trace.Reading) float64 { return r.NullOffsetM },
}

// pairs counts neighbouring readings by what they show.
type pairs struct {
	all, alike int
	alikeAt    map[float64]int // of each figure
}

func pairsOf(rs []*trace.Reading, of func(r *trace.Reading) float64) pairs {
	p := pairs{alikeAt: map[float64]int{}}
	for k := 1; k < len(rs); k++ {
		p.all++
		if a := of(rs[k-1]); a == of(rs[k]) {
			p.alike++
			p.alikeAt[a]++
		}
	}
	return p
}

// alikeShare is how often two neighbours show the same figure by themselves: with one pair
// of either kind more, so that neither is sure, and without those at one figure.
func (p pairs) alikeShare(without float64) (share float64, alike, others int) {
	alike, others = p.alike-p.alikeAt[without], p.all-p.alikeAt[without]
	return float64(alike+1) / float64(others+2), alike, others
}

// staysWithDepth is how often the current stays by itself from one reading to the next where
// the depth does: a receiver makes it of signal times depth (Ampère's law), so that over a
// level line with little noise of the signal both stay together. It is counted over pairs
// alike in depth that are in no run, with one pair of either kind more, so that neither is
// sure.
func staysWithDepth(rs []*trace.Reading, of func(r *trace.Reading) float64) float64 {
	same := func(i int) bool { return i >= 1 && i < len(rs) && rs[i].DepthM == rs[i-1].DepthM }
	alike, all := 0, 0
	for k := range rs {
		if same(k) && !same(k-1) && !same(k+1) {
			all++
			if of(rs[k-1]) == of(rs[k]) {
				alike++
			}
		}
	}
	return float64(alike+1) / float64(all+2)
}

// staysAt reports whether all of a run show the same figure.
func staysAt(run []*trace.Reading, of func(r *trace.Reading) float64) bool {
	for _, r := range run {
		if of(r) != of(run[0]) { // nor where it is not known
			return false
		}
	}
	return true
}

// runsAlike are the runs of readings that show the same depth, the longest first; of
// several as long the deepest.
func runsAlike(rs []*trace.Reading) [][]*trace.Reading {
	var out [][]*trace.Reading
	for from := 0; from < len(rs); {
		to := from + 1
		for to < len(rs) && rs[to].DepthM == rs[from].DepthM {
			to++
		}
		if to-from >= heldRun {
			out = append(out, rs[from:to])
		}
		from = to
	}
	slices.SortStableFunc(out, func(a, b []*trace.Reading) int {
		return cmp.Or(len(b)-len(a), cmp.Compare(b[0].DepthM, a[0].DepthM))
	})
	return out
}

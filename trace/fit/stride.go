package fit

import "math"

// Whoever logs while walking does not stop to find the peak: the receiver sways and is
// carried to one side for some strides, and the marks are off the line by the same for some
// metres. A straight run averages that away; a curve that bends as its readings do follows it,
// and what is left of the readings shows nothing of it.
const (
	// walkingMPerS is as fast as anybody walks who looks at a receiver, and stopS what a place
	// takes beside the way there where the peak was looked for, at least: a swing to one side
	// and back. Judgement.
	walkingMPerS, stopS = 1.3, 2.5
	// swayM is how far off, one sigma, and swayOverM over how many metres. Judgement: some
	// hand's breadths over some strides (no source).
	swayM, swayOverM = 0.07, 4.0
)

// readInStride reports whether the times of most readings leave none to stop in.
func (w *walk) readInStride() bool {
	if !w.timed {
		return false
	}
	var stops []float64
	for i := 1; i < len(w.obs); i++ {
		took, way := w.obs[i].clockS-w.obs[i-1].clockS, w.obs[i].p.Dist(w.obs[i-1].p)
		if took > 0 && way > standingPart*w.stepM {
			stops = append(stops, took-way/walkingMPerS)
		}
	}
	return len(stops) >= fewestWalked && median(stops) < stopS
}

// swayVariance is the variance that this puts on a sum of a run's readings with given weights, which
// are asked in the order of the walk.
func (w *walk) swayVariance(r *run, walked []int32, wt []float64) float64 {
	if !w.stride {
		return 0
	}
	sum, carried, last := 0.0, 0.0, math.NaN()
	for _, i := range walked {
		o := r.part[i]
		if wt[i] == 0 || o.exposed {
			continue
		}
		if !math.IsNaN(last) {
			carried *= math.Exp(-math.Abs(o.stationM-last) / swayOverM)
		}
		sum += wt[i]*wt[i] + 2*wt[i]*carried
		carried += wt[i]
		last = o.stationM
	}
	return sq(swayM) * math.Max(0, sum)
}

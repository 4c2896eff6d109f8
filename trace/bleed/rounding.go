package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// rounding is what a display's step does to log depth: an error that is the same
// as long as the same figure stands, so that one more reading of it tells
// nothing new. Where a receiver's own noise is wider than the step, figures
// change from reading to reading and the error is plain noise.
type rounding struct {
	stepM float64
	sd    []float64 // of log depth, one a reading; 0 where it does not matter
	run   []int     // readings of one number show the same figure without a break
	// inSignal is the part of the error with which it enters the log signal: −1
	// where that comes of current over the depth shown, 0 where it was read.
	inSignal []float64
}

func newRounding(rd []reading) rounding {
	n := len(rd)
	r := rounding{sd: make([]float64, n), run: make([]int, n), inSignal: make([]float64, n)}
	var shown []float64
	for _, x := range rd {
		if x.DepthM > 0 {
			shown = append(shown, x.DepthM)
		}
	}
	r.stepM = receiver.DepthStep(shown)
	if r.stepM < receiver.LeastDepthStepM {
		r.stepM = 0
		return r
	}
	last := math.NaN()
	for k, x := range rd {
		if k > 0 {
			r.run[k] = r.run[k-1]
		}
		if !(x.DepthM > 0) {
			continue
		}
		if !(math.Abs(x.DepthM-last) < r.stepM/2) {
			r.run[k]++
		}
		last = x.DepthM
		r.sd[k] = r.stepM / math.Sqrt(12) / x.DepthM // derived: a figure stands for all within its step
		if !(x.SignalLow > 0) && !(x.Signal > 0) {
			r.inSignal[k] = -1
		}
	}
	return r
}

// rounded is the covariance that rounding makes between the log depth d and the
// log signal s of one reading and those of another.
type rounded struct{ dd, ds, sd, ss float64 }

func (r rounding) between(i, j int) rounded {
	if r.stepM == 0 || r.run[i] != r.run[j] {
		return rounded{}
	}
	c := r.sd[i] * r.sd[j]
	if i != j {
		c *= sameFigure
	}
	si, sj := r.inSignal[i], r.inSignal[j]
	return rounded{c, c * sj, c * si, c * si * sj}
}

// sameFigure is the correlation of the errors of two readings that show the same
// figure: the depth below the step is not quite the same. Judgement.
const sameFigure = 0.9

// typical is the rounding's size and its part in the signal along the trace.
func (r rounding) typical() (sd, inSignal float64) {
	if r.stepM == 0 {
		return 0, 0
	}
	return median(slices.Clone(r.sd)), median(slices.Clone(r.inSignal))
}

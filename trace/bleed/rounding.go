package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// rounding is what the steps of the figures shown do to log depth and log signal: an
// error that is the same as long as the same figure stands, so that one more reading
// of it tells nothing new. Where a receiver's own noise is wider than the step, figures
// change from reading to reading and the error is plain noise.
type rounding []shownFigure

// shownFigure is a column on a step.
type shownFigure struct {
	sd  []float64 // of its log, one a reading; 0 where it does not matter
	run []int     // readings of one number show the same figure without a break
	// inDepth and inSignal are the parts of the error with which it enters the log
	// depth and the log signal.
	inDepth, inSignal []float64
}

// newRounding takes the depth that is shown; the field at the lower antenna or, where that
// is not shown, what stands in for it; and the field at the upper antenna. byAntennas tells
// which depths were reckoned from both antennas.
func newRounding(rd []reading, gapM float64, byAntennas []bool) rounding {
	depths, depthStepM := shownDepths(rd)
	depth := newShownFigure(depths, func(int) float64 { return depthStepM })
	var steps [3]float64
	signals, by := make([]float64, len(rd)), make([]int, len(rd))
	for i, of := range []func(reading) float64{
		func(r reading) float64 { return r.SignalLow },
		func(r reading) float64 { return r.Signal },
		func(r reading) float64 { return r.CurrentMA },
	} {
		shown := valuesOf(rd, of)
		steps[i] = receiver.SignalStep(shown)
		for k, v := range shown {
			if !(signals[k] > 0) && v > 0 {
				signals[k], by[k] = v, i
			}
		}
	}
	low := newShownFigure(signals, func(k int) float64 { return steps[by[k]] })
	high := newShownFigure(valuesOf(rd, func(r reading) float64 { return r.SignalHigh }), func(int) float64 { return steps[0] })
	for k, r := range rd {
		low.inSignal[k] = 1
		switch {
		case byAntennas[k]:
			grows := receiver.RatioErrorGrowth(antennaDepthM(r, gapM), gapM)
			low.inDepth[k], high.inDepth[k] = -grows, grows
		default:
			depth.inDepth[k] = 1
		}
		if !signalRead(r) {
			depth.inSignal[k] = -1 // it is the current over the depth shown
		}
	}
	return rounding{depth, low, high}
}

// shownDepths are the depths shown and their step, 0 where it is lost in any receiver's noise.
func shownDepths(rd []reading) (shown []float64, stepM float64) {
	shown = valuesOf(rd, func(r reading) float64 { return r.DepthM })
	var known []float64
	for _, d := range shown {
		if d > 0 {
			known = append(known, d)
		}
	}
	if stepM = receiver.DepthStep(known); stepM < receiver.LeastDepthStepM {
		return shown, 0
	}
	return shown, stepM
}

func valuesOf(rd []reading, of func(reading) float64) []float64 {
	v := make([]float64, len(rd))
	for k, r := range rd {
		v[k] = of(r)
	}
	return v
}

func newShownFigure(shown []float64, step func(k int) float64) shownFigure {
	n := len(shown)
	f := shownFigure{sd: make([]float64, n), run: make([]int, n), inDepth: make([]float64, n), inSignal: make([]float64, n)}
	last := math.NaN()
	for k, v := range shown {
		if k > 0 {
			f.run[k] = f.run[k-1]
		}
		if !(v > 0) {
			continue
		}
		if !(math.Abs(v-last) < step(k)/2) {
			f.run[k]++
		}
		last = v
		f.sd[k] = step(k) / math.Sqrt(12) / v // derived: a figure stands for all within its step
	}
	return f
}

// rounded is the covariance that rounding makes between the log depth d and the
// log signal s of one reading and those of another.
type rounded struct{ dd, ds, sd, ss float64 }

func (r rounding) between(i, j int) (sum rounded) {
	for _, f := range r {
		if f.run[i] != f.run[j] || f.sd[i] == 0 || f.sd[j] == 0 {
			continue
		}
		c := f.sd[i] * f.sd[j]
		if i != j {
			c *= sameFigure
		}
		sum.dd += c * f.inDepth[i] * f.inDepth[j]
		sum.ds += c * f.inDepth[i] * f.inSignal[j]
		sum.sd += c * f.inSignal[i] * f.inDepth[j]
		sum.ss += c * f.inSignal[i] * f.inSignal[j]
	}
	return sum
}

// sameFigure is the correlation of the errors of two readings that show the same
// figure: what was read below the step is not quite the same. Judgement.
const sameFigure = 0.9

// hidesSignal reports whether one step of the figure that the signal of a reading is shown
// with changes its log by so much.
func (r rounding) hidesSignal(k int, ln float64) bool {
	const signal = 1
	return r[signal].sd[k]*math.Sqrt(12) >= ln
}

// typical are a reading's own variances and covariance by rounding, along the trace.
func (r rounding) typical() rounded {
	n := len(r[0].sd)
	dd, ds, ss := make([]float64, n), make([]float64, n), make([]float64, n)
	for k := range n {
		by := r.between(k, k)
		dd[k], ds[k], ss[k] = by.dd, by.ds, by.ss
	}
	t := rounded{dd: median(dd), ds: median(ds), ss: median(ss)}
	t.sd = t.ds
	return t
}

package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// rounding is what the steps of the figures shown do to log depth, log signal and null: an
// error that is much the same as long as the same figure stands, so that one more reading
// of it tells little. Where a receiver's own noise is wider than the step, figures
// change from reading to reading and the error is plain noise.
type rounding struct {
	figures   []shownFigure // of depth and signal, where a step is more than any receiver's noise hides
	depth     shownFigure   // that of the depth shown
	low       shownFigure   // that of the signal
	nullStepM float64       // of the nulls, 0 where none shows
	nulls     figureRuns
}

// shownFigure is a column on a step.
type shownFigure struct {
	sd   []float64 // of its log, one a reading; 0 where it does not matter
	runs figureRuns
	// inDepth and inSignal are the parts of the error with which it enters the log
	// depth and the log signal.
	inDepth, inSignal []float64
}

// newRounding takes the depth that is shown; the field at the lower antenna or, where that
// is not shown, what stands in for it; and the field at the upper antenna. byAntennas tells
// which depths were reckoned from both antennas.
func newRounding(rd []reading, gapM float64, byAntennas []bool) rounding {
	depths, depthStepM := shownDepths(rd)
	depth := newShownFigure(depths, func(k int) float64 { return depthStepM / depths[k] })
	var steps, levels [3]float64
	signals, by := make([]float64, len(rd)), make([]int, len(rd))
	for i, of := range []func(reading) float64{
		func(r reading) float64 { return r.SignalLow },
		func(r reading) float64 { return r.Signal },
		func(r reading) float64 { return r.CurrentMA },
	} {
		shown := valuesOf(rd, of)
		steps[i], levels[i] = receiver.SignalStep(shown), receiver.LevelStep(shown)
		for k, v := range shown {
			if !(signals[k] > 0) && v > 0 {
				signals[k], by[k] = v, i
			}
		}
	}
	low := newShownFigure(signals, func(k int) float64 { return max(steps[by[k]]/signals[k], levels[by[k]]) })
	upper := valuesOf(rd, func(r reading) float64 { return r.SignalHigh })
	high := newShownFigure(upper, func(k int) float64 { return max(steps[0]/upper[k], levels[0]) })
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
	r := rounding{depth: depth, low: low}
	for _, f := range []shownFigure{depth, low, high} {
		if slices.Max(f.sd) >= receiver.LeastSignalRel/10 { // Judgement, by what sizes add up to: a two-hundredth of that noise
			r.figures = append(r.figures, f)
		}
	}
	r.nullStepM, r.nulls = shownNulls(rd)
	return r
}

// shownNulls are the step of the nulls shown and the runs of one figure.
func shownNulls(rd []reading) (stepM float64, runs figureRuns) {
	nulls := valuesOf(rd, func(r reading) float64 { return r.NullOffsetM })
	var known []float64
	for _, v := range nulls {
		if !math.IsNaN(v) {
			known = append(known, v)
		}
	}
	stepM = receiver.DepthStep(known)
	return stepM, runsOf(nulls, func(int) float64 { return stepM })
}

// nullSDM is the error of a null by its step.
func (r *rounding) nullSDM() float64 { return r.nullStepM / math.Sqrt(12) } // derived: a figure stands for all within its step

// nullBetween is the covariance that rounding makes between two nulls, beyond the variance
// that the noise of each has of it.
func (r *rounding) nullBetween(i, j int) float64 {
	if r.nullStepM == 0 {
		return 0
	}
	alike := r.nulls.alike(i, j)
	if i == j {
		alike--
	}
	return alike * r.nullSDM() * r.nullSDM()
}

// figureRuns are the runs of readings that show the same figure without a break.
type figureRuns struct {
	run   []int     // of each reading
	along []float64 // where in its run it lies, from its middle: of unit variance along a run
}

func runsOf(shown []float64, step func(k int) float64) figureRuns {
	r := figureRuns{make([]int, len(shown)), make([]float64, len(shown))}
	last, from := math.NaN(), 0
	for k, v := range shown {
		if k > 0 {
			r.run[k] = r.run[k-1]
		}
		if math.IsNaN(v) {
			continue
		}
		if !(math.Abs(v-last) < step(k)/2) {
			r.spread(from, k)
			r.run[k], from = r.run[k]+1, k
		}
		last = v
	}
	r.spread(from, len(shown))
	return r
}

// spread places the readings of a run, up to but not including to.
func (r figureRuns) spread(from, to int) {
	n := float64(to - from)
	for k := from; k < to; k++ {
		if r.along[k] = 1; n > 1 {
			r.along[k] = (float64(k-from) - (n-1)/2) * math.Sqrt(12/(n*n-1)) // derived: the variance of 1 to n is (n²−1)/12
		}
	}
}

// sameFigure is the correlation of the errors of two readings that show the same figure
// because what was read stays within its step, or changes by all of it while the figure
// stands: either is as likely. Judgement.
const sameFigure = 0.9

// alike is the covariance of the errors of two readings, as parts of what a step makes.
func (r figureRuns) alike(i, j int) float64 {
	if r.run[i] != r.run[j] {
		return 0
	}
	c := sameFigure * (1 + r.along[i]*r.along[j]) / 2
	if i == j {
		c += 1 - sameFigure
	}
	return c
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

// newShownFigure takes what is shown and by what part of it one step changes it.
func newShownFigure(shown []float64, step func(k int) float64) shownFigure {
	n := len(shown)
	f := shownFigure{sd: make([]float64, n), inDepth: make([]float64, n), inSignal: make([]float64, n)}
	for k, v := range shown {
		if v > 0 {
			f.sd[k] = step(k) / math.Sqrt(12) // derived: a figure stands for all within its step
		} else {
			shown[k] = math.NaN()
		}
	}
	f.runs = runsOf(shown, func(k int) float64 { return step(k) * shown[k] })
	return f
}

// rounded is the covariance that rounding makes between the log depth d and the
// log signal s of one reading and those of another.
type rounded struct{ dd, ds, sd, ss float64 }

func (r *rounding) between(i, j int) (sum rounded) {
	for n := range r.figures {
		f := &r.figures[n]
		c := f.sd[i] * f.sd[j]
		if c == 0 {
			continue
		}
		if c *= f.runs.alike(i, j); c == 0 {
			continue
		}
		sum.dd += c * f.inDepth[i] * f.inDepth[j]
		sum.ds += c * f.inDepth[i] * f.inSignal[j]
		sum.sd += c * f.inSignal[i] * f.inDepth[j]
		sum.ss += c * f.inSignal[i] * f.inSignal[j]
	}
	return sum
}

// signalStep and depthStep are by how much one step of the figure that the signal, or the
// depth, of a reading is shown with changes its log.
func (r *rounding) signalStep(k int) float64 { return r.low.step(k) }
func (r *rounding) depthStep(k int) float64  { return r.depth.step(k) }

func (f *shownFigure) step(k int) float64 { return f.sd[k] * math.Sqrt(12) } // derived: an even spread within it

// typical are a reading's own variances and covariance by rounding, along the trace.
func (r *rounding) typical() rounded {
	n := len(r.low.sd)
	dd, ds, ss := make([]float64, n), make([]float64, n), make([]float64, n)
	for k := range n {
		by := r.between(k, k)
		dd[k], ds[k], ss[k] = by.dd, by.ds, by.ss
	}
	t := rounded{dd: median(dd), ds: median(ds), ss: median(ss)}
	t.sd = t.ds
	return t
}

package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// A screen looks for any sign at all, in time linear in the readings, so that
// quiet lines of a large job cost next to nothing. It looks at running means:
// of the null against zero, and of current, depth and marks against the same
// length on both sides. What it lets pass is weighed in full.
type screen struct {
	nullZ    float64 // standard deviations of a mean
	changeZ  float64
	currentD float64 // least change of log current worth weighing
	depthD   float64
	acrossM  float64
}

// Screens for a line with a known neighbour in reach, and without one, where
// the evidence must be better. Judgement, against quiet simulated lines: lower ones let
// more through that is then weighed in vain, higher ones lose stretches.
var (
	screenKnown   = screen{nullZ: 3.4, changeZ: 4, currentD: 0.04, depthD: 0.05, acrossM: 0.04}
	screenUnknown = screen{nullZ: 4.2, changeZ: 4.8, currentD: 0.07, depthD: math.Inf(1), acrossM: math.Inf(1)}
)

// screenLengths are the lengths of running means, in readings: a grid, judgement.
var screenLengths = []int{3, 5, 8, 13, 21, 34, 55}

// sign reports whether readings [lo, hi) show anything.
func (s screen) sign(c *columns, lo, hi int) bool {
	if c.hasN && s.nullSign(c, lo, hi) {
		return true
	}
	current, bend := c.known(lo, hi, func(k int) (v, bend float64, ok bool) {
		return c.lnD[k] + c.lnS[k], c.bend.lnD[k] + c.bend.lnS[k], c.varD[k] < 1 && c.varS[k] < 1
	})
	if s.changes(current, bend, s.currentD) {
		return true
	}
	if !math.IsInf(s.depthD, 1) {
		depth, bend := c.known(lo, hi, func(k int) (v, bend float64, ok bool) { return c.lnD[k], c.bend.lnD[k], c.varD[k] < 1 })
		if s.changes(depth, bend, s.depthD) {
			return true
		}
	}
	if !c.course.usable || math.IsInf(s.acrossM, 1) {
		return false
	}
	across, none := c.known(lo, hi, func(k int) (v, bend float64, ok bool) { return c.course.acrossM[k], 0, c.course.piece[k] >= 0 })
	return s.changes(across, none, s.acrossM)
}

func (s screen) nullSign(c *columns, lo, hi int) bool {
	n := hi - lo
	w, v, bent, leadSigma := make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	for i := range n {
		p := 1 / c.varN[lo+i]
		w[i+1], v[i+1], bent[i+1] = w[i]+p, v[i]+p*c.null[lo+i], bent[i]+p*c.bend.null[lo+i]
		leadSigma[i+1] = leadSigma[i] + p*math.Hypot(c.leadNull[0][lo+i], c.leadNull[1][lo+i])
	}
	for _, l := range screenLengths {
		for i := 0; i+l <= n; i++ {
			p := w[i+l] - w[i]
			mean := (v[i+l] - v[i]) / p
			bend := bendTrust * (bent[i+l] - bent[i]) / p // off alike at all of them
			lead := (leadSigma[i+l] - leadSigma[i]) / p
			if math.Abs(mean) > s.nullZ*math.Sqrt(1/p+receiver.NullBiasM*receiver.NullBiasM+bend*bend+lead*lead) {
				return true
			}
		}
	}
	return false
}

// known collects the values that are there, with what bends are reckoned to do
// to them.
func (c *columns) known(lo, hi int, get func(k int) (v, bend float64, ok bool)) (values, bends []float64) {
	for k := lo; k < hi; k++ {
		if v, b, ok := get(k); ok {
			values, bends = append(values, v), append(bends, b)
		}
	}
	return values, bends
}

// leastScreened is the number of values below which changes cannot be told;
// derived: the shortest length within and on both sides.
const leastScreened = 9

// changes reports whether some running mean differs from the mean of both
// sides by more than least and than noise explains. Noise is that of the
// differences between neighbours, and the part by which bends may be off, alike
// at all readings.
func (s screen) changes(v, bend []float64, least float64) bool {
	if len(v) < leastScreened {
		return false
	}
	sigma := firstSigma(v)
	if math.IsNaN(sigma) {
		return true
	}
	sum, bent := running(v, trend(v)), running(bend, 0)
	for _, l := range screenLengths {
		for i := 0; i+l <= len(v); i++ {
			from, to := max(0, i-l), min(len(v), i+2*l)
			before, after := float64(i-from), float64(to-i-l)
			if before < 3 || after < 3 {
				continue
			}
			change := sum.change(from, i, i+l, to)
			if math.Abs(change) <= least {
				continue
			}
			off := bendTrust * bent.change(from, i, i+l, to)
			if change*change > s.changeZ*s.changeZ*(sigma*sigma*(1/float64(l)+(1/before+1/after)/4)+off*off) {
				return true
			}
		}
	}
	return false
}

// sums are running sums, one longer than what they sum.
type sums []float64

func running(v []float64, slope float64) sums {
	out := make(sums, len(v)+1)
	for i, x := range v {
		out[i+1] = out[i] + x - slope*float64(i)
	}
	return out
}

func (s sums) mean(i, j int) float64 { return (s[j] - s[i]) / float64(j-i) }

// change is the mean of [i, j) less that of both sides, from a on and up to b.
func (s sums) change(a, i, j, b int) float64 { return s.mean(i, j) - (s.mean(a, i)+s.mean(j, b))/2 }

// trend is the slope a value, by the medians of the first and last thirds.
func trend(v []float64) float64 {
	n := len(v) / 3
	first, last := slices.Clone(v[:n]), slices.Clone(v[len(v)-n:])
	return (median(last) - median(first)) / float64(len(v)-n)
}

package bleed

import (
	"math"
	"slices"
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
// the evidence must be better.
var (
	screenKnown   = screen{nullZ: 3.2, changeZ: 3.8, currentD: 0.04, depthD: 0.05, acrossM: 0.04}
	screenUnknown = screen{nullZ: 4.2, changeZ: 4.8, currentD: 0.07, depthD: math.Inf(1), acrossM: math.Inf(1)}
)

// screenLengths are the lengths of running means, in readings.
var screenLengths = []int{3, 5, 8, 13, 21, 34, 55}

// sign reports whether readings [lo, hi) show anything.
func (s screen) sign(c *columns, lo, hi int) bool {
	if c.hasN && s.nullSign(c, lo, hi) {
		return true
	}
	current, okI := c.known(func(k int) (float64, bool) {
		return c.lnD[k] + c.lnS[k], c.varD[k] < 1 && c.varS[k] < 1
	}, lo, hi)
	if okI && s.changes(current, s.currentD) {
		return true
	}
	depth, okD := c.known(func(k int) (float64, bool) { return c.lnD[k], c.varD[k] < 1 }, lo, hi)
	if okD && !math.IsInf(s.depthD, 1) && s.changes(depth, s.depthD) {
		return true
	}
	if !c.course.usable || math.IsInf(s.acrossM, 1) {
		return false
	}
	across, ok := c.known(func(k int) (float64, bool) { return c.course.acrossM[k], c.course.piece[k] >= 0 }, lo, hi)
	return ok && s.changes(across, s.acrossM)
}

func (s screen) nullSign(c *columns, lo, hi int) bool {
	n := hi - lo
	w, v := make([]float64, n+1), make([]float64, n+1)
	for i := range n {
		p := 1 / c.varN[lo+i]
		w[i+1], v[i+1] = w[i]+p, v[i]+p*c.null[lo+i]
	}
	for _, l := range screenLengths {
		for i := 0; i+l <= n; i++ {
			p := w[i+l] - w[i]
			mean := (v[i+l] - v[i]) / p
			if math.Abs(mean) > s.nullZ*math.Sqrt(1/p+nullBiasM*nullBiasM) {
				return true
			}
		}
	}
	return false
}

// known collects the values that are there; not ok where too few are.
func (c *columns) known(get func(k int) (float64, bool), lo, hi int) ([]float64, bool) {
	var out []float64
	for k := lo; k < hi; k++ {
		if v, ok := get(k); ok {
			out = append(out, v)
		}
	}
	return out, len(out) >= 9
}

// changes reports whether some running mean differs from the mean of both
// sides by more than noise and least explain. Noise is that of the differences
// between neighbours.
func (s screen) changes(v []float64, least float64) bool {
	sigma := firstSigma(v)
	if math.IsNaN(sigma) {
		return true
	}
	slope := trend(v)
	sum := make([]float64, len(v)+1)
	for i, x := range v {
		sum[i+1] = sum[i] + x - slope*float64(i)
	}
	mean := func(i, j int) float64 { return (sum[j] - sum[i]) / float64(j-i) }
	for _, l := range screenLengths {
		for i := 0; i+l <= len(v); i++ {
			from, to := max(0, i-l), min(len(v), i+2*l)
			before, after := float64(i-from), float64(to-i-l)
			if before < 3 || after < 3 {
				continue
			}
			change := mean(i, i+l) - (mean(from, i)+mean(i+l, to))/2
			noise := sigma * math.Sqrt(1/float64(l)+(1/before+1/after)/4)
			if math.Abs(change) > math.Max(least, s.changeZ*noise) {
				return true
			}
		}
	}
	return false
}

// trend is the slope a value, by the medians of the first and last thirds.
func trend(v []float64) float64 {
	n := len(v) / 3
	first, last := slices.Clone(v[:n]), slices.Clone(v[len(v)-n:])
	return (median(last) - median(first)) / float64(len(v)-n)
}

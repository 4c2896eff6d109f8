package bleed

import "math"

// accumulator sums evidence over segments and signatures, keeping a reference
// so that nothing overflows.
type accumulator struct {
	ref        float64
	sum, count float64
	now        []float64 // of the current signature: weight that starts or ends at a reading
	used       bool
	on         []float64
	shift      []float64
	shift2     []float64
	share      float64
	share2     float64
}

func newAccumulator(n int) *accumulator {
	return &accumulator{ref: math.Inf(-1), now: make([]float64, n+1), on: make([]float64, n),
		shift: make([]float64, n), shift2: make([]float64, n)}
}

// floor is the log evidence below which a segment adds nothing that shows,
// even among a million like it.
func (a *accumulator) floor() float64 { return a.ref - 20 }

func (a *accumulator) add(i, j int, logRatio float64, g signature) {
	l := logRatio + g.prior
	if l > a.ref {
		a.rescale(l)
	}
	w := math.Exp(l - a.ref)
	a.sum += w
	a.now[i] += w
	a.now[j+1] -= w
	a.used = true
	a.share += w * g.share
	a.share2 += w * g.share * g.share
}

func (a *accumulator) rescale(ref float64) {
	f := math.Exp(a.ref - ref)
	if math.IsInf(a.ref, -1) {
		f = 0
	}
	for _, v := range [][]float64{a.now, a.on, a.shift, a.shift2} {
		for k := range v {
			v[k] *= f
		}
	}
	a.sum, a.share, a.share2 = a.sum*f, a.share*f, a.share2*f
	a.ref = ref
}

// close spreads the current signature's weights over its readings.
func (a *accumulator) close(g signature) {
	if !a.used {
		return
	}
	var w float64
	for k := range a.on {
		w += a.now[k]
		a.on[k] += w
		a.shift[k] += w * g.shift[k]
		a.shift2[k] += w * g.shift[k] * g.shift[k]
	}
	clear(a.now)
	a.used = false
}

func (a *accumulator) finish(s *scanned) {
	n := len(a.on)
	s.on, s.shift, s.shiftSD = make([]float64, n), make([]float64, n), make([]float64, n)
	if a.sum == 0 {
		s.logMean = math.Inf(-1)
		return
	}
	s.logMean = a.ref + math.Log(a.sum/a.count)
	s.share = a.share / a.sum
	s.shareSD = math.Sqrt(max(0, a.share2/a.sum-s.share*s.share))
	for k := range n {
		if a.on[k] <= 0 {
			continue
		}
		s.on[k] = a.on[k] / a.sum
		s.shift[k] = a.shift[k] / a.on[k]
		s.shiftSD[k] = math.Sqrt(max(0, a.shift2[k]/a.on[k]-s.shift[k]*s.shift[k]))
	}
}

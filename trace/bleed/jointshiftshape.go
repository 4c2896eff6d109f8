package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// weights is how far each reading of the window lies in the stretch, 0 to 1.
func (g jointShift) weights(c *columns, n int) []float64 { return g.weightsLate(c, n, [2]float64{}) }

func (g jointShift) weightsLate(c *columns, n int, lagM [2]float64) []float64 {
	w := make([]float64, n)
	for k := range w {
		s := c.rd[g.lo+k].StationM
		w[k] = 1
		if !math.IsInf(g.fromM, 0) {
			w[k] *= receiver.HalfLine(s-g.fromM-lagM[0], g.taperM)
		}
		if !math.IsInf(g.toM, 0) {
			w[k] *= receiver.HalfLine(g.toM+lagM[1]-s, g.taperM)
		}
	}
	return w
}

// depthColumn and signalColumn are the stretch in the rows of depth and signal.
func (g jointShift) depthColumn(c *columns, n int) []float64 {
	return append(g.weightsLate(c, n, g.lagM), make([]float64, n)...)
}

func (g jointShift) signalColumn(c *columns, n int) []float64 {
	return append(make([]float64, n), g.weights(c, n)...)
}

// sharpen finds where between two readings the ends lie, and how fast the levels
// change there.
func (st *uncoupled) sharpen(g *jointShift) {
	c := st.col
	at := func(edge float64, i int) []float64 {
		if math.IsInf(edge, 0) {
			return []float64{edge}
		}
		a, b := c.rd[st.lo+i-1].StationM, c.rd[st.lo+i].StationM
		// A grid over the gap between two readings. Judgement.
		return []float64{0.8*a + 0.2*b, 0.5*a + 0.5*b, 0.2*a + 0.8*b}
	}
	best, top := math.Inf(-1), *g
	for _, taper := range []float64{stepSeen * c.depth[st.lo+g.from], 4} {
		for _, from := range at(g.fromM, g.from) {
			for _, to := range at(g.toM, g.to+1) {
				try := *g
				try.fromM, try.toM, try.taperM = from, to, taper
				if l := st.allowed(st.inflated, try, true, true).log(); l > best {
					best, top = l, try
				}
			}
		}
	}
	for end := range top.odd {
		if end == 0 && math.IsInf(top.fromM, 0) || end == 1 && math.IsInf(top.toM, 0) {
			continue
		}
		var tries []jointShift
		odd := top
		odd.odd[end] = true
		tries = append(tries, odd)
		for _, step := range []int{-1, 1} {
			late := top
			if late.lagM[end] = st.gapLag(top, end, step); late.lagM[end] != 0 {
				tries = append(tries, late)
			}
		}
		for _, try := range tries {
			if l := st.allowed(st.inflated, try, true, true).log(); l > best+1 {
				best, top = l, try
			}
		}
	}
	*g = top
}

// gapLag is how far from an end of the stretch the middle of the gap beside it lies;
// 0 where there is none.
func (st *uncoupled) gapLag(g jointShift, end, step int) float64 {
	at, k := g.fromM, g.from+step
	if end == 1 {
		at, k = g.toM, g.to+1+step
	}
	if k < 1 || k >= st.hi-st.lo {
		return 0
	}
	return (st.col.rd[st.lo+k-1].StationM+st.col.rd[st.lo+k].StationM)/2 - at
}

// oddSD is how far depth and signal of a reading where two lines' fields mix may lie
// from both levels, in logs, one sigma. Judgement.
const oddSD = 0.5

// oddAt is the reading of the window nearest to an end of the stretch.
func (g jointShift) oddAt(c *columns, end int) int {
	at, k := g.fromM, g.from
	if end == 1 {
		at, k = g.toM, g.to+1
	}
	if at-c.rd[g.lo+k-1].StationM < c.rd[g.lo+k].StationM-at {
		return k - 1
	}
	return k
}

// allowed returns an account that lets the columns change along the stretch: depth
// and signal, and null and marks.
func (st *uncoupled) allowed(t model, g jointShift, depthSignal, others bool) model {
	n := st.hi - st.lo
	w := g.weights(st.col, n)
	if t.ds != nil && depthSignal {
		t.ds = t.ds.copied()
		t.ds.allow(g.depthColumn(st.col, n), jointDepthSD*jointDepthSD, 0)
		t.ds.allow(g.signalColumn(st.col, n), jointSignalSD*jointSignalSD, 0)
		for end, odd := range g.odd {
			for _, channel := range []int{0, n} {
				if odd {
					v := make([]float64, 2*n)
					v[channel+g.oddAt(st.col, end)] = 1
					t.ds.allow(v, oddSD*oddSD, 0)
				}
			}
		}
	}
	depth := st.col.depth[st.lo+(g.from+g.to)/2]
	for _, x := range []struct {
		b  **gaussian
		sd float64
	}{{&t.null, jointNullSD * depth}, {&t.pos, jointAcrossSD * depth}} {
		if *x.b != nil && others {
			*x.b = (*x.b).copied()
			(*x.b).allow(w, x.sd*x.sd, 0)
		}
	}
	return t
}

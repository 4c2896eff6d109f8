package bleed

import (
	"math"
	"math/rand/v2"
	"testing"
)

// testColumns are 30 readings 2 m apart of noise alone.
func testColumns() *columns {
	const n = 30
	r := rand.New(rand.NewPCG(3, 4))
	c := &columns{rd: make([]reading, n), gapM: 0.4, hasD: true, hasS: true, hasN: true}
	for _, p := range []*[]float64{&c.depth, &c.lnD, &c.lnS, &c.null, &c.varD, &c.varS, &c.covDS, &c.varN} {
		*p = make([]float64, n)
	}
	c.bend = bends{lnD: make([]float64, n), lnS: make([]float64, n), null: make([]float64, n), turn: make([]float64, n), about: make([]bool, n)}
	c.leadNull = [2][]float64{make([]float64, n), make([]float64, n)}
	for k := range c.rd {
		c.rd[k].StationM, c.depth[k] = 2*float64(k), 1
		c.lnD[k], c.lnS[k], c.null[k] = 0.04*r.NormFloat64(), 0.03*r.NormFloat64(), 0.05*r.NormFloat64()
		c.varD[k], c.varS[k], c.varN[k] = 0.04*0.04, 0.03*0.03, 0.05*0.05
	}
	return c
}

// What the scanner sums over a segment is what the whole matrices give for the
// signature cut to it, and no signature that is the same all along a segment
// brings more than the segment's bound.
func TestScannerSums(t *testing.T) {
	c := testColumns()
	n := len(c.rd)
	ds := depthSignalGaussian(c, 0, n, kernelPairs[0], append(append([]float64{}, c.lnD...), c.lnS...))
	s := scanner{survey: newSurvey(c, 0, n, model{ds: ds, null: nullGaussian(c, 0, n, c.null)})}
	g := newSignature(0.4, n)
	for k := range n {
		g.set(k, response{shiftM: 0.1, nullM: 0.08, lnDepth: 0.1, lnField: 0.2})
	}
	s.fill(g)
	for _, x := range []extent{{i: 0, j: 5}, {i: 7, j: 20}, {i: 12, j: 29}} {
		v, w := make([]float64, 2*n), make([]float64, n)
		for k := x.i; k <= x.j; k++ {
			v[k], v[n+k], w[k] = g.d[k], g.s[k], g.n[k]
		}
		m, rough := s.sums(g, x.i, x.j), rough{}
		rough.take(g)
		for name, got := range map[string]segmentSums{"finely": m, "roughly": s.roughly(rough, x.i, x.j)} {
			if want := ds.form(v); math.Abs(got.tt-want) > 1e-9*want {
				t.Errorf("%s, %d to %d: depth and signal weigh %g, want %g", name, x.i, x.j, got.tt, want)
			}
			if want := s.null.form(w); math.Abs(got.ntt-want) > 1e-9*want {
				t.Errorf("%s, %d to %d: null weighs %g, want %g", name, x.i, x.j, got.ntt, want)
			}
		}
		if l, _ := m.logRatioAbove(math.Inf(-1)); l > s.bound(x.i, x.j) {
			t.Errorf("%d to %d: brings %g, beyond its bound %g", x.i, x.j, l, s.bound(x.i, x.j))
		}
	}
}

package bleed

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// What a shape gains is reckoned from the parts of the precision that it is not 0 in:
// the same as gonum's products of the whole matrix.
func TestShapeAgainstWholeMatrix(t *testing.T) {
	const n = 9
	r := rand.New(rand.NewPCG(1, 2))
	random := func(n int) []float64 {
		v := make([]float64, n)
		for i := range v {
			v[i] = r.NormFloat64()
		}
		return v
	}
	cov := make([]float64, 4*n*n)
	for range 5 * n {
		v := random(2 * n)
		for i := range v {
			for j := range v {
				cov[i*2*n+j] += v[i] * v[j]
			}
		}
	}
	b := newGaussian(cov, random(2*n))
	for _, f := range []shape{
		{from: 3, d: random(2), s: random(n - 3)},
		{from: 0, s: random(n)},
		{from: 2, d: random(4), opposed: true},
		{from: n - 1, d: random(1), opposed: true},
	} {
		for range 2 {
			v := mat.NewVecDense(2*n, f.dense(2*n))
			w := mat.NewDense(2*n, 2*n, b.prec)
			if got, want := b.quad(f), mat.Inner(v, w, v); math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%+v: %g, want %g", f, got, want)
			}
			if got, want := b.score(f), mat.Inner(v, w, mat.NewVecDense(2*n, b.y)); math.Abs(got-want) > 1e-10*(1+math.Abs(want)) {
				t.Errorf("%+v: score %g, want %g", f, got, want)
			}
			b.allow(random(2*n), 0.3, 0)
		}
	}
}

// What is known of shapes under a precision serves those that columns are taken off of: it is
// what a double sum over the new one says.
func TestQuadsOfAPrecisionThatColumnsWereTakenOff(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	const n = 30
	cov := make([]float64, 4*n*n)
	for i := range 2 * n {
		for k := range 2 * n {
			cov[i*2*n+k] = 0.5 * math.Exp(-math.Abs(float64(i-k))/7)
		}
		cov[i*2*n+i] += 0.1
	}
	y := make([]float64, 2*n)
	for i := range y {
		y[i] = r.NormFloat64()
	}
	b := newGaussian(cov, y)
	some := func(from, to int) (v []float64) {
		for range to - from {
			v = append(v, r.NormFloat64())
		}
		return v
	}
	shapes := []shape{{from: 4, d: some(4, 20), opposed: true, id: 1}, {from: 9, d: some(9, 15), s: some(9, n), id: 2}, {from: 0, s: some(0, n), id: 3}}
	for round := range 4 {
		copied := b.copied()
		for _, f := range shapes[:min(len(shapes), 2+round)] { // the third is asked for later
			want := b.weigh(f)
			if got := copied.quad(f); math.Abs(got-want) > 1e-9*want {
				t.Errorf("after %d columns: %v of shape %d, by a double sum %v", round, got, f.id, want)
			}
		}
		b.allow(some(0, 2*n), 0.3, 0)
	}
}

package bleed

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Every block about the diagonal is summed as by hand.
func TestQuadraticSums(t *testing.T) {
	const n = 9
	r := rand.New(rand.NewPCG(1, 2))
	m := make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			m[i*n+j] = r.NormFloat64()
			m[j*n+i] = m[i*n+j]
		}
	}
	var q quadratic
	q.sum(n, func(k int) []float64 { return m[k*n : (k+1)*n] })
	for i := range n {
		for j := i; j < n; j++ {
			want := 0.0
			for k := i; k <= j; k++ {
				for l := i; l <= j; l++ {
					want += m[k*n+l]
				}
			}
			if got := q.of(i, j); math.Abs(got-want) > 1e-12 {
				t.Errorf("rows and columns %d to %d: %g, want %g", i, j, got, want)
			}
		}
	}
}

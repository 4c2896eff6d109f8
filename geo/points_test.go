package geo

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The nearest point is the one that looking at all of them finds.
func TestPointsNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 9))
	for n := range 120 {
		at := make([]XY, n)
		for i := range at { // often several at one place, or on one line
			at[i] = XY{X: float64(rng.IntN(12)), Y: float64(rng.IntN(1 + n%4))}
		}
		p := NewPoints(at)
		for range 20 {
			from, but := XY{X: 14 * rng.Float64(), Y: 6 * rng.Float64()}, rng.IntN(n+1)
			want := math.Inf(1)
			for i, a := range at {
				if i != but {
					want = math.Min(want, a.Dist(from))
				}
			}
			if got := p.NearestM(from, but); got != want {
				t.Fatalf("%d points: %v, want %v", n, got, want)
			}
		}
	}
}

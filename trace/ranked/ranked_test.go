package ranked

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Whatever the values, each rank has the value that sorting puts there, with none more
// before it and none less behind it.
func TestRanksAreThoseOfSorting(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	kinds := map[string]func(i, n int) float64{
		"scattered":  func(int, int) float64 { return r.NormFloat64() },
		"few values": func(int, int) float64 { return float64(r.IntN(4)) },
		"all alike":  func(int, int) float64 { return 2 },
		"rising":     func(i, _ int) float64 { return float64(i) },
		"falling":    func(i, _ int) float64 { return -float64(i) },
		"up and down": func(i, n int) float64 {
			return float64(min(i, n-i))
		},
		"not all known": func(i, _ int) float64 { return []float64{math.NaN(), r.Float64(), math.Inf(1)}[r.IntN(3)] },
	}
	for name, of := range kinds {
		for n := 1; n < 90; n++ {
			v := make([]float64, n)
			for i := range v {
				v[i] = of(i, n)
			}
			sorted := slices.Sorted(slices.Values(v))
			for k := range v {
				got := slices.Clone(v)
				if x := At(got, k); !same(x, sorted[k]) || !same(got[k], x) {
					t.Fatalf("%s, %d of %d: %g, sorting puts %g there", name, k, n, x, sorted[k])
				}
				slices.Sort(got[:k])
				slices.Sort(got[k:])
				if !slices.EqualFunc(got, sorted, same) {
					t.Fatalf("%s, %d of %d: values on the wrong side of it", name, k, n)
				}
			}
			want := sorted[n/2]
			if n%2 == 0 {
				want = (sorted[n/2-1] + sorted[n/2]) / 2
			}
			if got := Median(slices.Clone(v)); !same(got, want) {
				t.Fatalf("%s, median of %d: %g, not %g", name, n, got, want)
			}
		}
	}
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func TestAboutIsEachWindowSorted(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 30 {
		v := make([]float64, n)
		for i := range v {
			v[i] = []float64{math.NaN(), float64(r.IntN(3)), r.Float64()}[r.IntN(3)]
		}
		for aside := range 6 {
			seen := 0
			for k, got := range About(v, aside) {
				want := slices.Clone(v[max(0, k-aside):min(n, k+aside+1)])
				want = slices.DeleteFunc(want, math.IsNaN)
				if slices.Sort(want); !slices.Equal(got, want) || k != seen {
					t.Fatalf("%d aside, about %d of %d: %v, not %v", aside, k, n, got, want)
				}
				seen++
			}
			if seen != n {
				t.Fatalf("%d of %d", seen, n)
			}
		}
	}
}

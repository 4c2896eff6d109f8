package outandback

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// TestLeaves: places that leap aside together are told whatever they are wide; a way round
// that was read at both of its corners' legs is none, nor is the crest of a line that winds,
// nor what a place is off by itself.
func TestLeaves(t *testing.T) {
	const strideM, n = 4.0, 30
	for _, c := range []struct {
		name       string
		y          func(k int) float64
		scatterM   float64
		least, top int // walks of 40 that are told
	}{
		{"3 together 2 m aside", leapt(12, 3, 2), 0.02, 40, 40},
		{"12 together 12 m aside", leapt(9, 12, 12), 0.02, 40, 40},
		{"20 together", leapt(5, 20, 12), 0.02, 0, 0},
		{"2 together", leapt(12, 2, 2), 0.02, 0, 0},
		{"loose, 4 m aside", leapt(12, 6, 4), 0.4, 30, 40},
		{"loose, 1 m aside", leapt(12, 6, 1), 0.4, 0, 0},
		{"round something, read on the legs", func(k int) float64 { return math.Max(0, math.Min(8, math.Min(float64(k-9)*2.7, float64(21-k)*2.7))) }, 0.02, 0, 0},
		{"winding", func(k int) float64 { return 3 * math.Sin(2*math.Pi*float64(k)/8) }, 0.02, 0, 0},
		{"one crest", func(k int) float64 { return 3 * math.Max(0, math.Sin(2*math.Pi*float64(k-12)/8)) }, 0.02, 0, 0},
		{"back and past it", func(k int) float64 { return leapt(12, 3, 2)(k) - leapt(15, 12, 2)(k) }, 0.02, 0, 0},
		{"to one side and on", leapt(12, 30, 2), 0.02, 0, 0},
	} {
		got := 0
		for seed := range uint64(40) {
			r := rand.New(rand.NewPCG(seed, 1))
			at := make([]geo.XY, n)
			for k := range at {
				at[k] = geo.XY{X: strideM*float64(k) + c.scatterM*r.NormFloat64(), Y: c.y(k) + c.scatterM*r.NormFloat64()}
			}
			for k := range at {
				if s, ok := Leaves(at, k, c.scatterM); ok {
					got++
					if c.scatterM < 0.1 && (c.y(s.Before) != 0 || c.y(s.After) != 0 || c.y(s.Before+1) == 0 || c.y(s.After-1) == 0) {
						t.Errorf("%s, seed %d: from %d to %d", c.name, seed, s.Before, s.After)
					}
					break
				}
			}
		}
		if got < c.least || got > c.top {
			t.Errorf("%s: %d of 40 told, want %d to %d", c.name, got, c.least, c.top)
		}
	}
}

// leapt are the sides of places of which some in a row lie aside.
func leapt(first, many int, asideM float64) func(k int) float64 {
	return func(k int) float64 {
		if k >= first && k < first+many {
			return asideM
		}
		return 0
	}
}

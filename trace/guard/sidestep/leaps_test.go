package sidestep

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/geo"
)

// TestLeaps: a stride that leads far aside of both courses is a leap, in a corner as well; what
// one bend joins, what was walked, a leap along the line, one course that a long hole parts
// from another and a branch read one way are none, nor is one that loose places show.
func TestLeaps(t *testing.T) {
	walk := func(strideM float64, on geo.XY, turn float64) (at []geo.XY) {
		sin, cos := math.Sincos(turn)
		for i := -11; i <= 0; i++ {
			at = append(at, geo.XY{X: strideM * float64(i)})
		}
		for i := range 12 {
			s := strideM * float64(i)
			at = append(at, on.Add(geo.XY{X: s * cos, Y: s * sin}))
		}
		return at
	}
	aside := func(x, y float64) geo.XY { return geo.XY{X: x, Y: y} }
	// branch is a walk along a line, out along a branch of it and on from where that leaves.
	branch := func() (at []geo.XY) {
		at = walk(1, aside(0, 1), math.Pi/2)
		for i := range 12 {
			at = append(at, aside(float64(1+i), 0))
		}
		return at
	}
	backwards := func(at []geo.XY) []geo.XY {
		slices.Reverse(at)
		return at
	}
	right := math.Pi / 2
	for _, c := range []struct {
		name     string
		at       []geo.XY
		scatterM float64
		want     float64 // to the right; 0 where there is none
	}{
		{"to the left", walk(1, aside(1, 8), 0), 0.02, -8},
		{"to the right", walk(1, aside(1, -8), 0), 0.02, 8},
		{"past a corner to the right", walk(1, aside(1, 8), -right/2), 0.02, -8},
		{"round a corner to the left", walk(1, aside(6, 6), right), 0.02, 0},
		{"along the line", walk(1, aside(14, 2), 0), 0.02, 0},
		{"over a long hole", walk(1, aside(14, 6), 0), 0.02, 0},
		{"at usual strides", walk(6, aside(6, 8), 0), 0.02, 0},
		{"as wide as a step", walk(1, aside(1, 4.8), 0), 0.02, 0},
		{"loose", walk(1, aside(1, 6), 0), 1, 0},
		{"back from a branch", branch(), 0.02, 0},
		{"out to the end of a branch", backwards(branch()), 0.02, 0},
	} {
		random := rand.New(rand.NewPCG(5, 8))
		for i := range c.at {
			c.at[i] = c.at[i].Add(geo.XY{X: c.scatterM * random.NormFloat64(), Y: c.scatterM * random.NormFloat64()})
		}
		got := Leaps(c.at, func(int) float64 { return c.scatterM })
		if len(got) != min(1, int(math.Ceil(math.Abs(c.want)))) {
			t.Errorf("%s: %+v", c.name, got)
			continue
		}
		if len(got) == 1 && (got[0].Before != 11 || got[0].After != 12 || math.Abs(got[0].LateralM-c.want) > 1) {
			t.Errorf("%s: %+v, want %.1f m", c.name, got[0], c.want)
		}
	}
}

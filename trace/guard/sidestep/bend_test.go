package sidestep

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// TestCurveHolds: where a line that winds bends neither way it is parallel to itself and beside
// itself, and is one curve; a course that steps aside is none, be it slowly or among loose places.
func TestCurveHolds(t *testing.T) {
	const strideM = 1.5
	winding := func(k float64) geo.XY { // its heading swings by 60 degrees to either side, over 66 m
		var p geo.XY
		for i := range int(2 * math.Abs(k)) { // half strides
			heading := 1.05 * (1 - math.Cos((float64(i)+0.5)/2/7))
			p = p.Add(geo.XY{X: math.Cos(heading), Y: math.Sin(heading)}.Scale(strideM / 2))
		}
		return p.Scale(math.Copysign(1, k))
	}
	stepped := func(wideM, overStrides float64) func(k float64) geo.XY {
		return func(k float64) geo.XY {
			return geo.XY{X: strideM * k, Y: wideM * math.Max(0, math.Min(1, 0.5+k/overStrides))}
		}
	}
	for _, c := range []struct {
		name       string
		at         func(k float64) geo.XY // from the middle, in strides
		strides    int                    // from the last place of one run to the first of the other
		scatterM   float64
		least, top int // steps told, of 40 walks
	}{
		{"winding", winding, 2, 0.005, 0, 0},
		{"at once", stepped(0.7, 0.5), 1, 0.02, 38, 40},
		{"over three strides", stepped(0.9, 3), 3, 0.02, 36, 40},
		{"at once, loose", stepped(2.5, 0.5), 1, 0.1, 36, 40},
	} {
		between, told := 0, 0
		for seed := range uint64(40) {
			random := rand.New(rand.NewPCG(11, seed))
			var at []geo.XY
			for i := range 2*RunPlaces + c.strides + 9 {
				p := c.at(float64(i) - float64(2*RunPlaces+c.strides+8)/2)
				at = append(at, p.Add(geo.XY{Y: c.scatterM * random.NormFloat64()}))
			}
			s, ok := Between(at, RunPlaces+4, RunPlaces+4+c.strides, Rule{0, 10})
			if !ok {
				continue
			}
			between++
			if !CurveHolds(at, s, 0.04) {
				told++
			}
		}
		if between < 20 || told < c.least || told > c.top {
			t.Errorf("%s: %d steps told of %d on 40 walks, want %d to %d", c.name, told, between, c.least, c.top)
		}
	}
}

// TestSlowStepHasLongRuns: what goes over within four strides is a step between runs twice as
// long, and a line that winds where they turn away sooner.
func TestSlowStepHasLongRuns(t *testing.T) {
	walk := func(straight int) (at []geo.XY) {
		for i := -14; i <= 14; i++ {
			x := 1.5 * float64(i)
			y := math.Max(-1, math.Min(1, float64(i)/2))
			if beyond := max(i, -i) - 2 - straight; beyond > 0 {
				y += math.Copysign(0.15*float64(beyond*beyond), float64(-i))
			}
			at = append(at, geo.XY{X: x, Y: y})
		}
		return at
	}
	for straight, want := range map[int]bool{8: true, 12: true, 5: false, 4: false} {
		if _, ok := Between(walk(straight), 12, 16, Rule{LeastM, StraightShare}); ok != want {
			t.Errorf("runs of %d strides: a step %v, want %v", straight, ok, want)
		}
	}
}

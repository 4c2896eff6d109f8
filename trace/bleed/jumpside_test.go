package bleed_test

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// stepsAside is a line whose marks lie on B along Y = 0 up to 50 m, and at once 2 m to the
// right of it from there on, 1 m and 1.8 m deep.
func stepsAside(backwards bool) (bleed.Line, bleed.Path) {
	straight := func(float64) float64 { return 0 }
	line, b := meeting(false, straight)
	b.Reference, line.Utility = true, trace.Water
	station := 0.0
	for i := range line.Points {
		r := &line.Readings[i]
		if r.Pos.X > 50 {
			r.Pos.Y -= 2
			r.DepthM += 0.8
			line.DepthM[i] = 1.8
		}
		line.Points[i] = r.Pos
		if i > 0 {
			station += r.Pos.Dist(line.Points[i-1])
		}
		r.StationM = station
	}
	if backwards {
		slices.Reverse(line.Readings)
	}
	return line, b
}

// A step tells that two runs are of two lines, and nothing of which is the traced one. The
// run on a record of another kind is the jump; of the two, the run on a record of the line's
// own kind is not, where the walk began on it, unless the other lies on such a record too.
func TestRunOnTheOwnKindIsNoJump(t *testing.T) {
	score := func(kind trace.Utility, backwards bool, more ...bleed.Path) float64 {
		line, b := stepsAside(backwards)
		b.Utility = kind
		best := 0.0
		for _, s := range jumpsOf(detect(t, line, bleed.NewIndex(append([]bleed.Path{line.Path, b}, more...)))) {
			if s.Neighbor == "B" {
				best = math.Max(best, s.Score)
			}
		}
		return best
	}
	if v := score(trace.Gas, false); v < bleed.SuspectCoupled {
		t.Errorf("on a gas record the run has %.2f, want it suspected", v)
	}
	if v := score(trace.Water, false); v > 0.2 {
		t.Errorf("on a water record, where the walk began, the run has %.2f", v)
	}
	if v := score(trace.Water, true); v < 0.5 {
		t.Errorf("a walk that came to the record: %.2f, want it still in question", v)
	}
	line, second := stepsAside(false)
	second.Name, second.Utility, second.Points = "C", trace.Water, slices.Clone(line.Points)
	for i := range second.Points {
		second.Points[i] = geo.XY{X: second.Points[i].X, Y: -2}
	}
	if v := score(trace.Water, false, second); v < 0.5 {
		t.Errorf("with another water record under the rest: %.2f, want it still in question", v)
	}
}

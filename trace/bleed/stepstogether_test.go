package bleed_test

import (
	"math"
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/remark"
)

// Depth and current that step at the same place, each by less than anybody looks at alone, are
// another line's on one side of it: both sides are told, or what lies between two such steps.
// A line that goes deeper keeps its current, a branch its depth, and over some strides a line
// goes deeper by itself; a current that follows a depth by a third of it is that of a bent line.
func TestDepthAndCurrentStepTogether(t *testing.T) {
	from := func(atM float64) func(float64) float64 {
		return func(s float64) float64 {
			if s >= atM {
				return 1
			}
			return 0
		}
	}
	run := func(s float64) float64 { return from(40)(s) - from(60)(s) }
	ramp := func(s float64) float64 { return math.Max(0, math.Min(1, (s-34)/12)) }
	for _, tt := range []struct {
		name               string
		depthBy, currentBy float64
		where              func(stationM float64) float64
		told               bool
	}{
		{name: "deeper, on less", depthBy: 0.16, currentBy: -0.16, where: from(40), told: true},
		{name: "shallower, on less", depthBy: -0.16, currentBy: -0.16, where: from(40), told: true},
		{name: "and back", depthBy: 0.16, currentBy: -0.16, where: run, told: true},
		{name: "deeper alone", depthBy: 0.16, where: from(40)},
		{name: "on less alone", currentBy: -0.16, where: from(40)},
		{name: "over some strides", depthBy: 0.2, currentBy: -0.16, where: ramp},
		{name: "followed by a third", depthBy: 0.45, currentBy: 0.15, where: from(40)},
	} {
		line, _ := coupled(0, 0, 0)
		for i := range line.Readings {
			r := &line.Readings[i]
			r.DepthM *= math.Exp(tt.depthBy * tt.where(r.StationM))
			line.DepthM[i] = r.DepthM
			r.CurrentMA *= math.Exp(tt.currentBy * tt.where(r.StationM))
			r.NullOffsetM = math.NaN()
		}
		found := detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches
		holds := func(stationM float64) bool {
			for _, s := range found {
				if s.FromM <= stationM && s.ToM >= stationM {
					return true
				}
			}
			return false
		}
		switch {
		case tt.told != holds(50):
			t.Errorf("%s: told %v, not %v: %+v", tt.name, holds(50), tt.told, found)
		case tt.told && tt.name != "and back" && !holds(10):
			t.Errorf("%s: only one side is told: %+v", tt.name, found)
		case tt.name == "and back" && (holds(10) || holds(90)):
			t.Errorf("%s: told beyond the run: %+v", tt.name, found)
		}
	}
}

// A step of the current that is told by itself stays told where depth and current step together
// elsewhere: by less than it, the other way, they do not take it back.
func TestStepsTogetherLeaveFallsTold(t *testing.T) {
	for _, tt := range []struct {
		name         string
		fallM        float64 // where the current falls by itself, to left of it
		left         float64
		atM, depthBy float64 // where depth and current step together
		currentBy    float64
		togetherTold bool
	}{
		{"a rise beyond", 40, 0.74, 64, -0.16, 0.17, true},
		{"near the end", 95, 0.5, 40, 0.16, -0.14, true},
	} {
		line, _ := coupled(0, 0, 0)
		for i := range line.Readings {
			r := &line.Readings[i]
			r.NullOffsetM = math.NaN()
			if r.StationM >= tt.atM {
				r.DepthM *= math.Exp(tt.depthBy)
				r.CurrentMA *= math.Exp(tt.currentBy)
			}
			line.DepthM[i] = r.DepthM
			if r.StationM >= tt.fallM {
				r.CurrentMA *= tt.left
			}
		}
		fallen := func(from, to float64) bool {
			return slices.ContainsFunc(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches, func(s bleed.Stretch) bool {
				return slices.ContainsFunc(s.Evidence, func(e trace.Remark) bool {
					f, is := e.(remark.CurrentFalls)
					return is && f.StationM > from && f.StationM < to
				})
			})
		}
		if !fallen(tt.fallM-4, tt.fallM+4) {
			t.Errorf("%s: the fall is not told", tt.name)
		}
		if fallen(tt.atM-4, tt.atM+4) != tt.togetherTold {
			t.Errorf("%s: the steps together are told %v", tt.name, !tt.togetherTold)
		}
	}
}

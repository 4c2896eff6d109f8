package bleed

import (
	"math"
	"testing"
)

// A level that steps by a known amount in readings with a slope is found; one
// wild reading does not move it. The expected step is the one put in.
func TestFitStep(t *testing.T) {
	var at, y []float64
	var in []bool
	for i := range 16 {
		s := 2 * float64(i-8)
		v := 1 - 0.004*s + 0.02*math.Sin(float64(5*i))
		if i >= 8 {
			v += 0.4
		}
		at, y, in = append(at, s), append(y, v), append(in, i >= 8)
	}
	y[12] += 2
	s, ok := fitStep(at, y, in)
	if !ok || math.Abs(s.by-0.4) > 0.04 || math.Abs(s.by-0.4) > 3*s.sigma {
		t.Errorf("step %.3f ± %.3f, want 0.4", s.by, s.sigma)
	}
}

func TestStepsSpeakForAJump(t *testing.T) {
	up, down := levelStep{1.2, 0.04}, levelStep{-0.6, 0.04}
	none := levelStep{0.01, 0.04}
	odds := func(s ...levelStep) float64 { return stepsOdds(s, 0, jumpCurrentSD, currentStepSD, teePart, 0.05) }
	if o := odds(up); o < 2 {
		t.Errorf("a current that trebles: %.1f nats", o)
	}
	if once, back := odds(up), odds(up, up); back < once+2 {
		t.Errorf("it steps back by as much: %.1f nats, %.1f for the first step alone", back, once)
	}
	if o := odds(none, none); o > -1 {
		t.Errorf("nothing steps: %.1f nats", o)
	}
	if a, b := odds(up, down), odds(up, up); a > b-3 {
		t.Errorf("steps that do not match speak for it: %.1f nats, matching %.1f", a, b)
	}
	// Where the neighbour is known to be as deep as the line, no step is no sign against.
	if o := stepsOdds([]levelStep{none, none}, 0, knownDepthSD, depthStepSD, depthStepPart, 0.06); o < -2 {
		t.Errorf("no step of depth onto a line as deep: %.1f nats", o)
	}
}

package receiver

import (
	"math"
	"testing"
)

// A step shows in what lies on it and would not by chance: two figures again and again are of
// whole milliamperes, two once each are not.
func TestSignalStep(t *testing.T) {
	onDecibels := func(levels ...float64) (v []float64) {
		for _, l := range levels {
			v = append(v, math.Pow(10, l/20))
		}
		return v
	}
	nan := math.NaN()
	for name, c := range map[string]struct {
		shown []float64
		step  float64
	}{
		"two of whole ones":       {[]float64{5, 5, 5, 5, 4, 4, 4, 4, 4}, 1},
		"two once each":           {[]float64{5, 4}, 0},
		"tenths, and one missing": {[]float64{0.3, nan, 0.2, 0.1, 0.4}, 0.1},
		"hundredths":              {[]float64{1.25, 1.31, 0.07}, 0.01},
		"fives of ten":            {[]float64{80, 75, 75, 70, 70, 65, 60, 60}, 5},
		"tens":                    {[]float64{80, 70, 70, 70, 60, 60, 50}, 10},
		"nothing":                 {[]float64{nan, nan}, 0},
	} {
		if got := SignalStep(c.shown); math.Abs(got-c.step) > 1e-12 {
			t.Errorf("%s: %v, want %v", name, got, c.step)
		}
	}
	if got := AntennaStep([]float64{160, 160, 150}, []float64{120, 120, 110}); got != 1 {
		t.Errorf("antennas on tens: a step of %v", got)
	}
	if got, want := LevelStep(onDecibels(61, 60, 60, 59, 57, 57)), 0.115; math.Abs(got-want) > 0.001 {
		t.Errorf("whole decibels: %v of a signal, want %v", got, want)
	}
	if got := LevelStep([]float64{1.25, 1.31, 0.07}); got != 0 {
		t.Errorf("no decibels: %v", got)
	}
}

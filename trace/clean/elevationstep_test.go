package clean

import (
	"math"
	"strings"
	"testing"

	"loamline.example/trace"
)

// Ground that steps by more than a stride does is told; a slope, a bank, a kerb, a single
// elevation that sticks out and loose elevations are not taken for it.
func TestGroundThatSteps(t *testing.T) {
	for name, c := range map[string]struct {
		elevM func(i int) float64
		want  bool
	}{
		"level":                  {func(int) float64 { return 0 }, false},
		"2 m up":                 {func(i int) float64 { return 2 * b2f(i > 12) }, true},
		"1.5 m down on a slope":  {func(i int) float64 { return 0.1*float64(i) - 1.5*b2f(i > 12) }, true},
		"up and down again":      {func(i int) float64 { return 1.8 * b2f(i > 8 && i < 17) }, true},
		"a kerb":                 {func(i int) float64 { return 0.2 * b2f(i > 12) }, false},
		"a bank of five strides": {func(i int) float64 { return 0.6 * math.Min(5, math.Max(0, float64(i-10))) }, false},
		"a hill":                 {func(i int) float64 { return 0.5 * float64(i) }, false},
		"one stands out":         {func(i int) float64 { return 1.8 * b2f(i == 12) }, false},
		"loose, and by chance steady about a step": {func(i int) float64 {
			return 1.3*b2f(i > 12) + 0.6*math.Sin(float64(i*i))*b2f(i < 9 || i > 16)
		}, false},
		"loose, as without a fix": {func(i int) float64 { return 1.5 * math.Sin(float64(i*i)) }, false},
	} {
		tr := walked(25, func(int) float64 { return 1 })
		for i := range tr.Readings {
			tr.Readings[i].ElevM = 240 + c.elevM(i) + 0.02*math.Sin(float64(3*i*i))
		}
		if got := causes(tr, trace.Unknown); strings.Contains(got, "elevations step") != c.want {
			t.Errorf("%s: %q, want told %v", name, got, c.want)
		}
	}
}

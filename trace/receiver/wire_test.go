package receiver

import (
	"math"
	"testing"
)

// A level straight wire has its peak and its null over itself, wherever between the ends of
// what is searched it lies, and a function its zero.
func TestPeakAndNullLieOverAWire(t *testing.T) {
	for _, depthM := range []float64{0.3, 1.1, 4} {
		for _, aside := range []float64{-0.93, -0.4, 0, 0.07, 0.51, 0.88} {
			x := aside * depthM
			w := Wire{Points: []Point{{x, -1e4, -depthM}, {x, 1e4, -depthM}}, CurrentA: 0.1}.Laid()
			if got := w.PeakM(Point{}, Point{X: 1}, depthM); math.Abs(got-x) > 3e-4*depthM {
				t.Errorf("%v m deep: peak at %v m, the wire at %v m", depthM, got, x)
			}
			null, depth := w.Across(Point{X: x}, Point{X: 1}, UsualGapM, 1.5*depthM)
			if math.Abs(null) > 1e-5*depthM || math.Abs(depth-depthM) > 1e-6*depthM {
				t.Errorf("%v m deep: null %v m off, depth %v m", depthM, null, depth)
			}
			if null, _ := w.Across(Point{}, Point{X: 1}, UsualGapM, 1.5*depthM); math.Abs(null-x) > 1e-5*depthM {
				t.Errorf("%v m deep: null at %v m, the wire at %v m", depthM, null, x)
			}
		}
	}
	for name, f := range map[string]func(float64) float64{
		"steep":  func(x float64) float64 { return math.Tanh(300 * (x - 0.3)) },
		"flat":   func(x float64) float64 { return math.Pow(x-0.3, 3) },
		"turned": func(x float64) float64 { return 0.3 - x },
		"a step": func(x float64) float64 { return math.Copysign(1, x-0.3) },
	} {
		asked := 0
		got := zeroOf(func(x float64) float64 { asked++; return f(x) }, -2, 1, f(-2), f(1))
		if math.Abs(got-0.3) > 1e-3 || name == "turned" && math.Abs(got-0.3) > 1e-9 {
			t.Errorf("%s: zero at %v after %d steps, want 0.3", name, got, asked)
		}
	}
}

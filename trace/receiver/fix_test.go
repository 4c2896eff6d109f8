package receiver

import (
	"math"
	"testing"
)

// The 95 % radius of two equal normal errors of one sigma each is 2.4477
// (Rayleigh distribution; any textbook).
func TestUnboundedIsThePublishedRadius(t *testing.T) {
	if got := UnboundedM() * 2.4477; math.Abs(got-8) > 1e-3 {
		t.Errorf("95 %% radius %.4f m, published 8 m", got)
	}
}

func TestHidden(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		stated float64
		fix    int
		bound  bool
	}{
		{nan, -1, false}, {nan, 1, false}, {nan, 4, true}, {nan, 5, true}, {nan, 2, true},
		{0.015, -1, true}, {0.015, 4, true}, {0.015, 1, false}, {1.2, 1, true}, {0, -1, false}, {99999, -1, false},
	} {
		if got := Bounded(c.stated, c.fix, nan); got != c.bound {
			t.Errorf("stated %v, fix %d: bounded %v", c.stated, c.fix, got)
		}
		if got := HiddenM(c.stated, c.fix, nan); !c.bound && got != UnboundedM() || c.stated > 0 && c.bound && got != 0 {
			t.Errorf("stated %v, fix %d: hidden %v m", c.stated, c.fix, got)
		}
	}
	// A differential receiver in the hand: 1 to 3 m at 95 % (common practice, no source).
	if r := 2.4477 * HiddenM(nan, 2, nan); r < 1 || r > 3 {
		t.Errorf("a differential fix hides a radius of %.2f m", r)
	}
	if Believed(0.01, 2, nan) || !Believed(0.01, 4, nan) {
		t.Error("a centimetre is RTK's and nobody else's")
	}
}

// Degrees as written with d decimals lie on steps of 10^-d.
func TestStep(t *testing.T) {
	for d := 0; d <= 8; d++ {
		var v []float64
		for i := range 9 {
			v = append(v, math.Round((-71.49997123456+0.1234567891*float64(i))*math.Pow10(d))/math.Pow10(d))
		}
		if got, want := Step(v), math.Pow10(-d); math.Abs(got-want) > 1e-12 && d > 0 {
			t.Errorf("%d decimals: step %g", d, got)
		}
	}
	if got := Step([]float64{1.123456789, 2.234567891, 3.345678912}); got != 0 {
		t.Errorf("nine digits have no step: %g", got)
	}
	if got := Step([]float64{44.100000001, 44.100000002, 44.100000003}); got != 0 {
		t.Errorf("what differs in the ninth decimal is not rounded to a tenth: %g", got)
	}
	if got := Step([]float64{2, 2, 2}); got != 0 {
		t.Errorf("one figure again and again tells nothing: %g", got)
	}
	if got := DepthStep([]float64{0.3048 * 3.1, 0.3048 * 2.9, 0.3048 * 3.3}); math.Abs(got-0.03048) > 1e-9 {
		t.Errorf("feet to a tenth: step %g m", got)
	}
	for _, c := range []struct {
		depthsM []float64
		stepM   float64
	}{
		{[]float64{1.05, 1.1, 1.15, 1.1, 1.2, 1.05, 1.1, 1.25}, 0.05},
		{[]float64{1.05, 1.1, 1.15, 1.1, 1.2, 1.06, 1.1, 1.25}, 0.01},
		{[]float64{1.05, 1.1, 1.15}, 0.01}, // three lie on a step of 5 cm by chance
		{[]float64{0.4, 0.5, 0.5, 0.4, 0.4, 0.5, 0.5, 0.5}, 0.1},
		{[]float64{0.4, 0.5, 0.5}, 0},
		// One figure again and again is no noise: on the coarsest step that it lies on. One that
		// lies on none tells nothing.
		{[]float64{0.4, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4}, 0.2},
		{[]float64{1.23, 1.23, 1.23, 1.23, 1.23, 1.23, 1.23, 1.23}, 0},
		{[]float64{1, 1, 1, 1}, 1},
		{[]float64{1, 1}, 0},
		{[]float64{1, 1, 1, 0.5, 1, 1, 1.5, 1}, 0.5},
		{[]float64{0.75, 1, 1, 0.75, 1.25, 1}, 0.25},
		{[]float64{0.8, 1, 1, 0.8, 1.2, 1}, 0.2},
		{[]float64{2 * 0.3048, 3 * 0.3048, 2 * 0.3048, 2 * 0.3048, 3 * 0.3048, 3 * 0.3048}, 0.3048},
		{[]float64{2.5 * 0.3048, 3 * 0.3048, 2.5 * 0.3048, 2.5 * 0.3048, 3 * 0.3048, 3 * 0.3048}, 0.1524},
		{[]float64{1, 1, 1, 1, 1, 1.27, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, 1}, // one of sixteen was taped
		{[]float64{1, 1, 1, 1, 1.08, 1.27, 1, 1, 1, 1, 1, 1, 1, 1, 1}, 0.01},
	} {
		if got := DepthStep(c.depthsM); math.Abs(got-c.stepM) > 1e-9 {
			t.Errorf("%v: step %g m, want %g", c.depthsM, got, c.stepM)
		}
	}
}

// What a position is off by itself and what it is off in all are one where it is told, and
// where nothing is told neither is less than an autonomous receiver's.
func TestOwnAndWhole(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		stated     float64
		fix        int
		own, whole float64
	}{
		{0.015, 4, 0.015, 0.015}, {0.015, -1, 0.015, 0.015},
		{nan, 4, 0.015, math.Hypot(0.015, 0.01)}, // usual, and shared
		{0.001, 4, 0.015, math.Hypot(0.015, 0.01)},
		{nan, 1, UnboundedM(), math.Hypot(1.2, UnboundedM())}, // of the usual HDOP
		{nan, -1, nan, math.Hypot(ExposedM, UnboundedM())},
	} {
		own, whole := OwnM(c.stated, c.fix, nan), WholeM(c.stated, c.fix, nan)
		if math.Abs(own-c.own) > 1e-9 || math.IsNaN(own) != math.IsNaN(c.own) || math.Abs(whole-c.whole) > 1e-9 {
			t.Errorf("stated %v, fix %d: own %.4f, in all %.4f m; want %.4f and %.4f", c.stated, c.fix, own, whole, c.own, c.whole)
		}
	}
}

// The error of a mark at a depth that can be none is what the caller takes it for.
func TestPinpointRead(t *testing.T) {
	for depthM, want := range map[float64]float64{1: 0.03, 0.1: LeastMarkM, DeepestM: 0.12, 0: 9, -1: 9, DeepestM + 1: 9, math.NaN(): 9} {
		if got := PinpointReadM(depthM, 9); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %g m: %g, want %g", depthM, got, want)
		}
	}
}

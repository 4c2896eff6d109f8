package receiver

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

const nT = 1e-9

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

func one(depthM float64) Section { return Section{Lines: []Conductor{{0, depthM, 1}}} }

func pair(depthM, aM, depth2M float64, share complex128) Section {
	return Section{Lines: []Conductor{{0, depthM, 1}, {aM, depth2M, share}}}
}

// Ampère's law, worked for 1 A at 1 m and 50 mA at 2 m; mu0/2pi = 2e-7 T·m/A
// as it was defined in the SI until 2019 and holds to ten digits since.
func TestSingleLine(t *testing.T) {
	s := one(1)
	near(t, "Bh over the line", real(s.Bh(0, 0)), 200*nT, 1e-9*200*nT)
	near(t, "Bh at the upper antenna", real(s.Bh(0, 0.4)), 142.857142857*nT, 1e-6*nT)
	near(t, "Bh one depth aside", real(s.Bh(1, 0)), 100*nT, 1e-7*nT)
	near(t, "Bv one depth aside", real(s.Bv(1, 0)), 100*nT, 1e-7*nT)
	near(t, "total one depth aside", math.Hypot(real(s.Bh(1, 0)), real(s.Bv(1, 0))), 141.42*nT, 0.01*nT)
	near(t, "depth", TwoAntennaDepthM(200, 142.857143, 0.4), 1, 1e-6)
	near(t, "gap", AntennaGapM(200, 142.857143, 1), 0.4, 1e-6)
	near(t, "current", CurrentA(200*nT, 1), 1, 1e-9)
	d := TwoAntennaDepthM(5, 4.166667, 0.4)
	near(t, "depth from 5 and 4.1667 nT", d, 2, 2e-5)
	near(t, "its current", CurrentA(5*nT, d), 0.05, 1e-6)
	near(t, "offset from the field's direction", offsetM(real(s.Bv(0.3, 0)), real(s.Bh(0.3, 0)), 1), 0.3, 1e-12)
}

// A table of the kind of pairs.csv (peak and null nearest
// the line), with rows for merged, stacked and symmetric lines.
func TestSpecialArrangements(t *testing.T) {
	both := func(q complex128) Section {
		return Section{Lines: []Conductor{{0, 1, 1}, {1, 1, q}, {-1, 1, q}}}
	}
	for _, c := range []struct {
		name                       string
		s                          Section
		peak, null, depth, current float64
	}{
		{"close, same way", pair(1, 0.5, 1, 0.3), 0.091, 0.104, 1.069, 1.335},
		{"close, opposed", pair(1, 0.5, 1, -0.3), -0.099, -0.139, 0.883, 0.680},
		{"weak", pair(1, 1, 1, 0.1), 0.026, 0.050, 1.057, 1.110},
		{"two depths", pair(1, 2, 1, 0.3), 0.025, 0.127, 1.143, 1.213},
		{"shallow pair", pair(0.6, 1, 0.6, 0.3), 0.022, 0.084, 0.711, 1.281},
		{"deep pair", pair(1.5, 1, 1.5, -0.3), -0.140, -0.225, 1.285, 0.687},
		{"equal currents", pair(1, 1, 1, 1), 0.500, 0.500, 1.522, 2.435},
		{"return current", pair(1, 1, 1, -1), -0.217, -0.618, 0.445, 0.246},
		{"shallower neighbour", pair(1, 0.6, 0.6, 0.3), 0.319, 0.234, 1.062, 1.399},
		{"stacked", pair(1, 0, 0.5, 0.2), 0, 0, 0.808, 1.132},
		{"both sides, same way", both(0.3), 0, 0, 1.3223, 1.719},
		{"both sides, opposed", both(-0.3), 0, 0, 0.639, 0.447},
	} {
		got := c.s.Survey(0, 0.4)
		near(t, c.name+" peak", got.PeakM, c.peak, 0.001)
		near(t, c.name+" null", got.NullM, c.null, 0.001)
		near(t, c.name+" depth", got.DepthM, c.depth, 0.001)
		near(t, c.name+" current", got.CurrentA, c.current, 0.001)
	}
	s := pair(1, 1, 1, 0.3)
	near(t, "Bh at x = 0", real(s.Bh(0, 0)), 230*nT, 1e-6*nT)
	near(t, "Bv at x = 0", real(s.Bv(0, 0)), -30*nT, 1e-6*nT)
}

// A quadrature current leaves a floor under the null; table of the phase's
// effect computed by superposition on a 0.2 mm grid.
func TestPhaseBlursNull(t *testing.T) {
	for deg, want := range map[float64]float64{0: 0, 30: 6.5, 60: 11.9, 90: 14.8, 120: 13.9, 150: 8.5, 180: 0} {
		got := pair(1, 1, 1, cmplx.Rect(0.3, deg*math.Pi/180)).Survey(0, 0.4)
		near(t, "null floor in % of peak", 100*got.NullFloor, want, 0.1)
		if deg == 90 {
			near(t, "mismatch at 90°", got.NullOffsetM, -0.011, 0.002)
			near(t, "depth at 90°", got.DepthM, 1.03, 0.005)
		}
	}
}

// Closed forms for two equal currents: one peak up to a spacing of 2d/√3, and
// further nulls at ±√(D²/4 − d²) about the middle beyond 2d.
func TestMergingAndSplitting(t *testing.T) {
	for _, d := range []float64{0.5, 1, 2} {
		limit := 2 / math.Sqrt(3) * d
		merged, split := pair(d, 0.999*limit, d, 1), pair(d, 1.001*limit, d, 1)
		near(t, "merged peak", merged.PeakM(0)/limit, 0.4995, 1e-4)
		if p := split.PeakM(0); p > 0.49*limit {
			t.Errorf("lines %.4f m apart at %.1f m show one peak at %.4f", 1.001*limit, d, p)
		}
		wide := pair(d, 2.2*d, d, 1)
		near(t, "outer null", wide.NullM(0), 1.1*d-math.Sqrt(1.1*1.1-1)*d, 1e-6)
	}
}

func drawSection(t *rapid.T) Section {
	s := one(rapid.Float64Range(0.4, 3).Draw(t, "d"))
	for range rapid.IntRange(1, 3).Draw(t, "neighbours") {
		s.Lines = append(s.Lines, Conductor{
			rapid.Float64Range(-3, 3).Draw(t, "a"), rapid.Float64Range(0.4, 3).Draw(t, "d2"),
			complex(rapid.Float64Range(-0.6, 0.6).Draw(t, "re"), rapid.Float64Range(-0.3, 0.3).Draw(t, "im"))})
	}
	return s
}

func (s Section) mapped(f func(Conductor) Conductor) Section {
	var out Section
	for _, c := range s.Lines {
		out.Lines = append(out.Lines, f(c))
	}
	return out
}

func same(t *rapid.T, what string, got, want float64) {
	if math.IsNaN(got) && math.IsNaN(want) || math.IsInf(got, 1) && math.IsInf(want, 1) {
		return
	}
	if !(math.Abs(got-want) <= 1e-6*(1+math.Abs(want))) {
		t.Fatalf("%s: %g, want %g", what, got, want)
	}
}

func TestMirrorImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSection(t)
		a := s.Survey(0, 0.4)
		b := s.mapped(func(c Conductor) Conductor { c.XM = -c.XM; return c }).Survey(0, 0.4)
		same(t, "peak", b.PeakM, -a.PeakM)
		same(t, "null offset", b.NullOffsetM, -a.NullOffsetM)
		same(t, "depth", b.DepthM, a.DepthM)
	})
}

func TestAllLengthsScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := drawSection(t), rapid.Float64Range(0.3, 3).Draw(t, "scale")
		a := s.Survey(0, 0.4)
		b := s.mapped(func(c Conductor) Conductor { c.XM *= f; c.DepthM *= f; return c }).Survey(0, 0.4*f)
		same(t, "peak", b.PeakM, f*a.PeakM)
		same(t, "null", b.NullM, f*a.NullM)
		same(t, "depth", b.DepthM, f*a.DepthM)
		same(t, "current", b.CurrentA, a.CurrentA)
	})
}

func TestLinearInCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSection(t)
		f := cmplx.Rect(rapid.Float64Range(0.01, 5).Draw(t, "factor"), rapid.Float64Range(-3, 3).Draw(t, "phase"))
		a := s.Survey(0, 0.4)
		b := s.mapped(func(c Conductor) Conductor { c.CurrentA *= f; return c }).Survey(0, 0.4)
		same(t, "peak", b.PeakM, a.PeakM)
		same(t, "null", b.NullM, a.NullM)
		same(t, "depth", b.DepthM, a.DepthM)
		same(t, "field", b.LowT/a.LowT, cmplx.Abs(f))
	})
}

// A neighbour a hair off the middle, a hair too small for its square, leaves
// two equal peaks: at every scale the walk stands between them. The hair was
// found by TestAllLengthsScale.
func TestWalkStandsBetweenEqualPeaks(t *testing.T) {
	for _, f := range []float64{0.5, 1, 3} {
		s := one(3 * f)
		s.Lines = append(s.Lines, Conductor{4e-146 * f, f, -0.25 + 0.125i})
		if p := s.PeakM(0); p != 0 {
			t.Errorf("%g times as large: the peak is at %g", f, p)
		}
		if p := s.PeakM(0.001 * f); !(p > f) {
			t.Errorf("%g times as large, from the right: the peak is at %g", f, p)
		}
	}
}

package tracetest

import (
	"fmt"
	"math"
	"testing"

	"loamline.example/geo"
)

// The expected values of this file are textbook magnetostatics (Ampère's law
// for a long wire, 2e-7 T·m/A over the distance; the sine rule for a finite
// wire) and values computed once from the two-conductor model by a separate
// script (numpy, grid of 0.2 mm); the script's rows are quoted with each test.

const reachM = 3000 // either way: as good as infinite at a metre

func long(x, depthM float64, amps complex128) wire {
	return wire{[]vec{{x, -reachM, -depthM}, {x, 0, -depthM}, {x, reachM, -depthM}}, []complex128{amps, amps}}
}

// north faces along +y, so that cross coordinates are x.
var north = stance{geo.XY{}, geo.XY{X: 0, Y: 1}}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

func TestLongWire(t *testing.T) {
	sc := scene{wires: []wire{long(0, 1, 1)}}
	near(t, "field over 1 A at 1 m", sc.horizontal(north, 0, 0), 200e-9, 2e-14)
	near(t, "at the upper antenna", sc.horizontal(north, 0, 0.4), 142.857e-9, 1e-12)
	near(t, "horizontal at x = d", sc.horizontal(north, 1, 0), 100e-9, 1e-13)
	near(t, "vertical at x = d", sc.vertical(north, 1), 100e-9, 1e-13)
	d, amps := twoAntenna(200e-9, 142.857142857e-9, 0.4)
	near(t, "depth", d, 1, 1e-6)
	near(t, "current", amps, 1, 1e-6)
}

// A straight piece that reaches L each way has L/√(L²+r²) of the infinite
// field: 1 % less at L = 7.02 r, 5 % less at 3.04 r.
func TestFiniteWire(t *testing.T) {
	for _, c := range []struct{ reach, share, tolerance float64 }{{7.02, 0.99, 1e-4}, {3.04, 0.95, 1e-4}, {22.3, 0.999, 1e-5}} {
		w := wire{[]vec{{0, -c.reach, -1}, {0, c.reach, -1}}, []complex128{1}}
		near(t, fmt.Sprint(c.reach), w.field(vec{}).along(vec{1, 0, 0})/200e-9, c.share, c.tolerance)
	}
	half := wire{[]vec{{0, 0, -1}, {0, reachM, -1}}, []complex128{1}}
	near(t, "half the field above an end", half.field(vec{}).along(vec{1, 0, 0}), 100e-9, 1e-12)
}

// A segment cut into pieces has the same field, and the field of a closed
// square at its centre is 2√2 μ0 I/(π a) (textbook).
func TestPieces(t *testing.T) {
	whole := wire{[]vec{{0, -5, -1}, {0, 5, -1}}, []complex128{2 + 1i}}
	cut := wire{[]vec{{0, -5, -1}, {0, -1, -1}, {0, 0.3, -1}, {0, 5, -1}}, []complex128{2 + 1i, 2 + 1i, 2 + 1i}}
	at := vec{0.7, 0.2, 0.1}
	near(t, "cut", cut.field(at).along(vec{1, 0, 0}), whole.field(at).along(vec{1, 0, 0}), 1e-18)
	square := wire{[]vec{{-1, -1, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}}, []complex128{1, 1, 1, 1}}
	near(t, "square", square.field(vec{}).along(vec{0, 0, 1}), 2*math.Sqrt2*4e-7/2, 1e-15)
}

// B = 1e-7 m/R³ beside a dipole: 0.100 nT for 1 A·m² at 10 m; double on its axis.
func TestDipole(t *testing.T) {
	d := dipole{moment: vec{0, 0, 1}}
	near(t, "beside", d.field(vec{10, 0, 0}).along(vec{0, 0, 1}), 0.1e-9, 1e-17)
	near(t, "on the axis", d.field(vec{0, 0, 10}).along(vec{0, 0, 1}), 0.2e-9, 1e-17)
}

// Rows of the two-conductor table: D, d, neighbour's depth, share, peak, null,
// depth read, current read; s = 0.40 m, target at x = 0 with 1 A.
func TestTwoConductors(t *testing.T) {
	for _, c := range []struct{ D, d, d2, q, peak, null, depth, amps float64 }{
		{0.5, 1.0, 1.0, +0.3, +0.091, +0.104, 1.069, 1.335},
		{0.5, 1.0, 1.0, -0.3, -0.099, -0.139, 0.883, 0.680},
		{1.0, 1.0, 1.0, +0.1, +0.026, +0.050, 1.057, 1.110},
		{1.0, 1.0, 1.0, +0.3, +0.082, +0.151, 1.171, 1.354},
		{1.0, 1.0, 1.0, -0.3, -0.071, -0.152, 0.831, 0.710},
		{1.0, 1.0, 1.0, +0.5, +0.150, +0.255, 1.285, 1.629},
		{1.5, 1.0, 1.0, +0.3, +0.045, +0.147, 1.176, 1.287},
		{2.0, 1.0, 1.0, -0.5, -0.039, -0.196, 0.793, 0.715},
		{1.0, 0.6, 0.6, +0.3, +0.022, +0.084, 0.711, 1.281},
		{1.0, 1.5, 1.5, -0.3, -0.140, -0.225, 1.285, 0.687},
		{0.6, 1.0, 0.6, +0.3, +0.319, +0.234, 1.062, 1.399},
		{0.6, 1.0, 0.6, -0.3, -0.163, -0.250, 0.769, 0.602},
	} {
		sc := scene{wires: []wire{long(0, c.d, 1), long(c.D, c.d2, complex(c.q, 0))}}
		o := sc.look(north, 0, 0, 0, 0.4, 1)
		name := fmt.Sprintf("D %g d %g q %g", c.D, c.d, c.q)
		near(t, name+" peak", o.peakM, c.peak, 0.001)
		near(t, name+" null", o.nullM, c.null, 0.001)
		near(t, name+" depth", o.depthM, c.depth, 0.0015)
		near(t, name+" current", o.amps, c.amps, 0.002)
	}
}

// Both sides ±1 m at +30 %: no mismatch and 1.322 m read. A neighbour 30 % at
// 90° of phase leaves 14.8 % of the peak at the null.
func TestFooledChecks(t *testing.T) {
	both := scene{wires: []wire{long(0, 1, 1), long(1, 1, 0.3), long(-1, 1, 0.3)}}
	o := both.look(north, 0, 0, 0, 0.4, 1)
	near(t, "mismatch", o.nullM-o.peakM, 0, 0.001)
	near(t, "depth", o.depthM, 1.322, 0.001)
	phased := scene{wires: []wire{long(0, 1, 1), long(1, 1, 0.3i)}}
	near(t, "null floor", 100*phased.look(north, 0, 0, 0, 0.4, 1).residualNullFrac, 14.8, 0.3)
}

// Before a 90° bend (d = 1, s = 0.4) the peak stays over the leg, the null is
// pulled outward by 0.26, 0.20, 0.15, 0.10 at 1, 2, 3, 5 depths and depth reads
// 0.782, 0.874, 0.928, 0.970 of true.
func TestBend(t *testing.T) {
	w := wire{[]vec{{0, -reachM, -1}, {0, 0, -1}, {-reachM, 0, -1}}, []complex128{1, 1}}
	for _, c := range []struct{ before, null, depth float64 }{{1, 0.258, 0.782}, {2, 0.20, 0.874}, {3, 0.15, 0.928}, {5, 0.10, 0.970}} {
		o := scene{wires: []wire{w}}.look(stance{geo.XY{Y: -c.before}, north.face}, 0, 0, 0, 0.4, 1)
		near(t, fmt.Sprint("peak at ", c.before), o.peakM, 0, 1e-3)
		near(t, fmt.Sprint("null at ", c.before), o.nullM, c.null, 0.006)
		near(t, fmt.Sprint("depth at ", c.before), o.depthM, c.depth, 0.003)
	}
}

// Towards the end of a line depth reads 0.775, 0.782, 0.874, 0.928 of true at
// 0.5, 1, 2, 3 depths before it.
func TestLineEnd(t *testing.T) {
	w := wire{[]vec{{0, -reachM, -1}, {0, 0, -1}}, []complex128{1}}
	for _, c := range []struct{ before, depth float64 }{{0.5, 0.775}, {1, 0.782}, {2, 0.874}, {3, 0.928}} {
		o := scene{wires: []wire{w}}.look(stance{geo.XY{Y: -c.before}, north.face}, 0, 0, 0, 0.4, 1)
		near(t, fmt.Sprint(c.before), o.depthM, c.depth, 0.003)
	}
}

// Off the peak by x, depth reads (d+s)(x²+d²)/(d(d+s) − x²): 1.16489 at 0.3 m.
// Lifted by 0.30 m it reads 0.30 m more and the signal falls to 0.7692.
func TestOffPeakAndLift(t *testing.T) {
	sc := scene{wires: []wire{long(0, 1, 1)}}
	near(t, "off the peak", sc.look(north, 0, 0.3, 0, 0.4, 1).depthM, 1.16489, 2e-4)
	down, up := sc.look(north, 0, 0, 0, 0.4, 1), sc.look(north, 0, 0, 0.3, 0.4, 1)
	near(t, "lift", up.depthM-down.depthM, 0.3, 1e-4)
	near(t, "signal", up.lowT/down.lowT, 0.7692, 1e-4)
}

// Two equal lines: one peak up to D = 2d/√3 = 1.1547 d, two beyond.
func TestPeaksSplit(t *testing.T) {
	peaks := func(D float64) int {
		sc := scene{wires: []wire{long(-D/2, 1, 1), long(D/2, 1, 1)}}
		n := 0
		for x := -1.5; x < 1.5; x += 0.001 {
			a, b, c := sc.horizontal(north, x-0.001, 0), sc.horizontal(north, x, 0), sc.horizontal(north, x+0.001, 0)
			if b > a && b >= c {
				n++
			}
		}
		return n
	}
	if a, b := peaks(1.14), peaks(1.17); a != 1 || b != 2 {
		t.Errorf("peaks at 1.14 and 1.17 depths: %d and %d, want 1 and 2", a, b)
	}
}

package receiver

import (
	"math"
	"testing"
)

// Derivations from Bh = k I d/(x²+d²): widths at fractions of the peak, the
// lobes of Bv, the closed form of the off-centre depth.
func TestWidths(t *testing.T) {
	for p, want := range map[float64]float64{0.95: 0.2294, 0.9: 0.3333, 0.8: 0.5, 0.75: 0.5774, 0.7: 0.6547, 0.5: 1, 1 / math.Sqrt2: 0.6436} {
		near(t, "half-width", halfWidthM(p, 1), want, 1e-4)
		l, r := one(1).WidthsM(0, p)
		near(t, "left", l, want, 1e-4)
		near(t, "right", r, want, 1e-4)
		near(t, "depth from width", widthDepthM(p, l+r), 1, 1e-6)
	}
	near(t, "70 % full width", 2*halfWidthM(0.7, 1), 1.3093, 1e-4)
	near(t, "total field at 70.7 %", totalHalfWidthM(0.7071, 1), 1, 1e-4)
	near(t, "total field at 80 %", totalHalfWidthM(0.8, 1), 0.75, 1e-9)
	near(t, "total field at 50 %", totalHalfWidthM(0.5, 1), 1.732, 1e-3)
	lobes := one(1)
	near(t, "lobe", lobes.walk(0.3, lobes.verticalSlope), 1, 1e-6)
}

// Table computed from the closed form (d+s)(x²+d²)/[d(d+s)−x²].
func TestOffCentre(t *testing.T) {
	for x, want := range map[float64]float64{0.1: 1.017, 0.2: 1.071, 0.3: 1.16489, 0.5: 1.522} {
		near(t, "depth read", offCentreDepthM(1, 0.4, x), want, 0.0005)
		s := one(1)
		near(t, "by superposition", TwoAntennaDepthM(real(s.Bh(x, 0)), real(s.Bh(x, 0.4)), 0.4), offCentreDepthM(1, 0.4, x), 1e-9)
	}
	near(t, "x = 0.3", offCentreDepthM(1, 0.4, 0.3), 1.16489, 1e-5)
	if d := offCentreDepthM(1, 0.4, 1.184); !math.IsInf(d, 1) {
		t.Errorf("beyond √(d(d+s)) the depth reads %g, want +Inf", d)
	}
	for d, want := range map[float64]float64{0.5: 2.25, 1: 3.5, 1.5: 4.75, 2: 6, 3: 8.5} {
		near(t, "% of depth per % of ratio", RatioErrorGrowth(d, 0.4), want, 1e-9)
	}
}

// Computed by superposition, s = 0.40 m: 100 mA at 1 m is 20 nT.
func TestLift(t *testing.T) {
	l := one(1).Lift(0, 0.4, 0.3)
	near(t, "growth", l.GrowthM, 0.3, 1e-4)
	near(t, "signal", l.SignalRatio, 0.7692, 1e-4)
	for _, c := range []struct{ air, depth, growth, signal float64 }{
		{1, 1.070, 1.13, 0.780}, {2, 1.140, 1.27, 0.790}, {5, 1.350, 1.67, 0.815}, {-2, 0.860, 0.73, math.NaN()},
	} {
		s := Section{Lines: []Conductor{{0, 1, 0.1}}, AirT: complex(c.air*nT, 0)}
		near(t, "air depth", s.Survey(0, 0.4).DepthM, c.depth, 0.001)
		l := s.Lift(0, 0.4, 0.3)
		near(t, "air growth over lift", l.GrowthM/0.3, c.growth, 0.0055)
		if !math.IsNaN(c.signal) {
			near(t, "air signal", l.SignalRatio, c.signal, 0.0006)
		}
	}
	weak := Section{Lines: []Conductor{{0, 1, 0.02}}, AirT: 2 * nT}
	near(t, "4 nT + 2 nT", weak.Survey(0, 0.4).DepthM, 1.7, 0.001)
	two := Section{Lines: []Conductor{{0, 1, 0.1}}, AirT: 2 * nT}
	near(t, "growth in metres", two.Lift(0, 0.4, 0.3).GrowthM, 0.381, 0.001)
}

// Which check sees which distortion: lift growth over lift, and the ratio of
// right to left width at 80 %; computed by superposition, h = 0.3 m.
func TestChecksThatSeeCoupling(t *testing.T) {
	both := Section{Lines: []Conductor{{0, 1, 1}, {1, 1, 0.3}, {-1, 1, 0.3}}}
	for _, c := range []struct {
		name           string
		s              Section
		lift, symmetry float64
	}{
		{"same way", pair(1, 1, 1, 0.3), 1.003, 1.234},
		{"opposed", pair(1, 1, 1, -0.3), 0.876, 0.880},
		{"two depths, same way", pair(1, 2, 1, 0.3), 1.23, 1.08},
		{"two depths, opposed", pair(1, 2, 1, -0.3), 0.78, 0.95},
		{"both sides", both, 1.02, 1.00},
	} {
		p := c.s.PeakM(0)
		near(t, c.name+" lift", c.s.Lift(p, 0.4, 0.3).GrowthM/0.3, c.lift, 0.006)
		l, r := c.s.WidthsM(p, 0.8)
		near(t, c.name+" symmetry", r/l, c.symmetry, 0.006)
	}
}

// Magnetic dipole: its field falls with the third power of the distance.
func TestDipole(t *testing.T) {
	for r, want := range map[float64]float64{3: 1.0009, 5: 1.0001, 10: 1.00001} {
		near(t, "antenna ratio", dipoleAntennaRatio(r, 0.4), want, 6e-5)
	}
}

// Skin depth by its textbook formula; the half-space bias by an independent
// numerical integral (s = 0.40 m).
func TestSoil(t *testing.T) {
	near(t, "skin depth 100 Ω·m, 1 kHz", skinDepthM(100, 1000), 159.2, 0.1)
	near(t, "skin depth 10 Ω·m, 33 kHz", skinDepthM(10, 33000), 8.76, 0.01)
	near(t, "skin depth 300 Ω·m, 60 Hz", skinDepthM(300, 60), 1125, 1)
	for _, c := range []struct{ rho, f, d, percent float64 }{
		{100, 1000, 1, -0.6}, {100, 33000, 1, -3.2}, {100, 200000, 1, -7.5}, {100, 80000, 2, -8.1},
		{30, 33000, 1, -5.7}, {10, 8000, 1, -4.9}, {10, 200000, 1, -20.1}, {10, 33000, 3, -19.8},
	} {
		near(t, "half-space bias in %", 100*halfSpaceDepthBias(c.rho, c.f, c.d, 0.4), c.percent, 0.1)
	}
	near(t, "no soil", halfSpaceDepthBias(1e9, 1, 1, 0.4), 0, 1e-4)
}

// Finite lengths and a square bend by Biot and Savart, d = 1 m, s = 0.4 m;
// the figures of ends and bends are also in testdata/field/wires.csv.
func TestWire(t *testing.T) {
	straight := func(l float64) Wire { return Wire{Points: []Point{{0, -l, -1}, {0, l, -1}}, CurrentA: 1} }
	at, right := Point{}, Point{1, 0, 0}
	for ratio, loss := range map[float64]float64{3.04: 0.05, 7.02: 0.01, 22.3: 0.001} {
		near(t, "length factor", lengthFactor(ratio, 1), 1-loss, 0.01*loss)
		near(t, "by Biot and Savart", straight(ratio).B(at).norm()/(200*nT), 1-loss, 0.01*loss)
	}
	halves := Wire{Points: []Point{{0, -1e4, -1}, {0, 0, -1}, {0, 1e4, -1}}, PieceA: []float64{1, 0.5}}
	near(t, "half the current beyond a place", halves.B(at).X, 150*nT, 1e-4*nT)
	near(t, "endless", straight(1e4).B(at).X, 200*nT, 1e-5*nT)
	near(t, "at an end", Wire{Points: []Point{{0, 0, -1}, {0, 1e4, -1}}, CurrentA: 1}.B(at).norm(), 100*nT, 1e-4*nT)
	for y, want := range map[float64]float64{0.5: 0.775, 1: 0.782, 2: 0.874, 3: 0.928} {
		_, d := Wire{Points: []Point{{0, -1e4, -1}, {0, y, -1}}, CurrentA: 1}.Across(at, right, 0.4, 3)
		near(t, "depth before an end", d, want, 0.001)
	}
	for _, c := range []struct{ y, null, depth float64 }{{5, 0.10, 0.970}, {3, 0.15, 0.928}, {2, 0.20, 0.874}, {1, 0.258, 0.782}} {
		// The line turns right, so the null moves left, outward.
		bend := Wire{Points: []Point{{0, -1e4, -1}, {0, c.y, -1}, {1e4, c.y, -1}}, CurrentA: 1}
		null, d := bend.Across(at, right, 0.4, 2)
		near(t, "peak before a bend", bend.PeakM(at, right, 1), 0, 0.002)
		near(t, "null before a bend", null, -c.null, 0.006)
		near(t, "depth before a bend", d, c.depth, 0.001)
	}
}

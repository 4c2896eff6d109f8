package otherworld

import (
	"math"
	"math/cmplx"
	"testing"
)

// wire runs along y at x, so long that its ends do not matter.
func wire(x, depthM float64, current complex128) filament {
	return filament{vec{x, -3000, -depthM}, vec{x, 3000, -depthM}, current}
}

// over is the slice across wires that run along y.
func over(fs ...filament) slice {
	return scene{filaments: fs}.slice(vec{}, vec{1, 0, 0}, searchM)
}

func twoCoils() receiver { return receiver{gapM: 0.40, stepM: 0.01, rule: ratio} }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %.6g ± %.2g", what, got, want, within)
	}
}

// Ampère's law for a long straight wire, B = mu0 I/(2 pi r): 200 nT at 1 m from
// 1 A, right of a current that runs along y, whatever way the place lies.
func TestLongWire(t *testing.T) {
	s := scene{filaments: []filament{wire(0, 1, 1)}}
	b := s.field(vec{})
	near(t, "over the wire, nT", real(b[0])*1e9, 200, 1e-4)
	near(t, "upwards, nT", real(b[2])*1e9, 0, 1e-9)
	for _, at := range []vec{{0.3, 5, 0.2}, {-2, 0, 0}, {1.7, -20, 1}} {
		b := s.field(at)
		r := math.Hypot(at.x, at.z+1)
		near(t, "at a distance, nT", 1e9*math.Sqrt(sq(b[0])+sq(b[1])+sq(b[2])), 1e9*mu0/(2*math.Pi*r), 1e-3)
	}
}

// A straight piece that reaches L each way has sinα of an infinite one's field,
// sinα = L/√(L²+r²), and half of that over its end (any textbook's Biot-Savart).
func TestFinitePiece(t *testing.T) {
	for _, l := range []float64{0.5, 3.04, 7.02} {
		f := filament{vec{0, -l, -1}, vec{0, l, -1}, 1}
		near(t, "amid, nT", f.unit(vec{}).x*1e9, 200*l/math.Hypot(l, 1), 1e-9)
		end := filament{vec{0, 0, -1}, vec{0, 2 * l, -1}, 1}
		near(t, "over its end, nT", end.unit(vec{}).x*1e9, 100*2*l/math.Hypot(2*l, 1), 1e-9)
	}
}

// A dipole of 1 A·m², 10 m off on its equator: 10⁻⁷/R³ = 0.100 nT, and twice
// that on its axis (any textbook).
func TestDipole(t *testing.T) {
	l := loop{moment: vec{0, 0, 1}}
	b := l.field(vec{10, 0, 0})
	near(t, "equator, nT", real(b[2])*1e9, -0.1, 1e-9)
	b = l.field(vec{0, 0, 10})
	near(t, "axis, nT", real(b[2])*1e9, 0.2, 1e-9)
}

// A single line is found where it lies, and every rule gives its depth. That
// the width at 80 % of the peak and the distance to where the field stands at
// 45° are the depth, and that it leans so, follows from Ampère's law; that the
// half-width at half the horizontal field is the depth says also the abstract of
// "The surface impedance anomaly resulting from a subsurface infinitely long
// conductive wire", IEEE Trans. Geosci. Remote Sens.
func TestSingleLine(t *testing.T) {
	for _, d := range []float64{0.5, 1, 2.7} {
		for rule := ratio; rule <= halfNull; rule++ {
			rc := twoCoils()
			rc.rule, rc.footM = rule, 0.05
			s := over(wire(0.2, d, 0.1))
			f := rc.search(s, -0.3, byBoth)
			near(t, "peak", f.peak, 0.2, 1e-3)
			near(t, "null", f.null, 0.2, 1e-3)
			near(t, "depth", rc.depth(s, f.peak, 0, 0), d, 3e-3)
			near(t, "lifted by 0.3 m", rc.depth(s, f.peak, 0.3, 0), d+0.3, 3e-3)
		}
		s := over(wire(0, d, 1))
		rc := twoCoils()
		near(t, "half width at half", rc.strength(s, d, 0)/rc.strength(s, 0, 0), 0.5, 1e-6)
	}
}

// Off the line by x the two-coil depth is (d+s)(x²+d²)/(d(d+s)−x²): 1.16489 m
// for x = 0.3, d = 1, s = 0.4, and none from 1.183 m on (derived from Ampère's
// law).
func TestOffCenter(t *testing.T) {
	s := over(wire(0, 1, 1))
	near(t, "0.3 m off", twoCoils().depth(s, 0.3, 0, 0), 1.16489, 1e-4)
	if d := twoCoils().depth(s, 1.19, 0, 0); !math.IsNaN(d) {
		t.Errorf("1.19 m off there is a depth of %.3f", d)
	}
	near(t, "tilted by 10°", twoCoils().depth(s, 0, 0, deg(10)), 1.038, 0.002)
	near(t, "tilted by 20°", twoCoils().depth(s, 0, 0, deg(20)), 1.173, 0.004)
}

// Two parallel long lines, superposed from Ampère's law on a grid by another
// program (a numpy survey with steps of 0.2 mm): where peak and null lie, what
// depth two coils 0.40 m apart show at the peak, what vertical field is left at
// the null over the peak's.
func TestNeighbor(t *testing.T) {
	for _, c := range []struct {
		apart, depth, beside float64
		q                    complex128
		peak, null, shown    float64
	}{
		{1, 1, 1, 0.3, 0.082, 0.151, 1.1707},
		{1, 1, 1, -0.3, -0.071, -0.152, 0.8306},
		{0.5, 1, 1, 0.3, 0.091, 0.104, 1.069},
		{2, 1, 1, 0.3, 0.025, 0.127, 1.143},
		{1, 0.6, 0.6, 0.3, 0.022, 0.084, 0.711},
		{1, 1.5, 1.5, -0.3, -0.140, -0.225, 1.285},
		{0.6, 1, 0.6, 0.3, 0.319, 0.234, 1.062},
	} {
		s := over(wire(0, c.depth, 1), wire(c.apart, c.beside, c.q))
		f := twoCoils().search(s, 0, byPeak)
		near(t, "peak", f.peak, c.peak, 0.001)
		near(t, "null", f.null, c.null, 0.001)
		near(t, "depth shown", twoCoils().depth(s, f.peak, 0, 0), c.shown, 0.001)
	}
	f := twoCoils().search(over(wire(0, 1, 1), wire(1, 1, 0.3i)), 0, byPeak)
	near(t, "null floor a quarter turn late", f.floor, 0.148, 0.003)
	s := over(wire(-1, 1, 0.3), wire(0, 1, 1), wire(1, 1, 0.3))
	f = twoCoils().search(s, 0, byPeak)
	near(t, "between two neighbours", f.peak-f.null, 0, 1e-3)
	near(t, "depth between two neighbours", twoCoils().depth(s, f.peak, 0, 0), 1.3223, 0.001)
}

// A long line's depth one depth before a square corner reads 0.782 of the true
// one and its null lies 0.258 depths to the outside; half a depth before its
// end it reads 0.775 (integrated by another program, numpy, two coils 0.40 m
// apart, one metre deep).
func TestCornerAndEnd(t *testing.T) {
	const long = 3000
	bend := over(filament{vec{0, -long, -1}, vec{0, 1, -1}, 1}, filament{vec{0, 1, -1}, vec{long, 1, -1}, 1})
	f := twoCoils().search(bend, 0, byPeak)
	near(t, "peak before the corner", f.peak, 0, 0.002)
	near(t, "null before the corner", f.null, -0.258, 0.004)
	near(t, "depth before the corner", twoCoils().depth(bend, f.peak, 0, 0), 0.782, 0.003)
	end := over(filament{vec{0, -long, -1}, vec{0, 0.5, -1}, 1})
	near(t, "depth before the end", twoCoils().depth(end, 0, 0, 0), 0.775, 0.003)
}

// In uniform ground a line reads too shallow: two-antenna depth by numerical
// integration of the half-space field in another program (numpy; family of Wait
// and Spies, Radio Science 6(8), 781, 1971), antennas 0.40 m apart.
func TestGround(t *testing.T) {
	for _, c := range []struct{ ohmM, depthM, freqHz, percent float64 }{
		{100, 1, 1000, -0.6}, {100, 1, 33000, -3.2}, {100, 2, 80000, -8.1}, {30, 1, 8000, -2.9},
		{10, 1, 200000, -20.1}, {10, 3, 33000, -19.8},
	} {
		got := 100 * (groundDepth(c.depthM, 0.4, c.freqHz, c.ohmM) - 1)
		near(t, "percent", got, c.percent, 0.25)
	}
}

// Air signal in step with the line's makes depth read deep: 2 nT on 20 nT of a
// line 1 m deep give 1.140 m, and 0.381 m of growth for a lift of 0.30 m.
func TestAir(t *testing.T) {
	s := over(wire(0, 1, 0.1))
	for h := range s.far {
		for i := range s.far[h] {
			s.far[h][i][0] += 2e-9
		}
	}
	d := twoCoils().depth(s, 0, 0, 0)
	near(t, "depth", d, 1.140, 0.001)
	near(t, "growth", twoCoils().depth(s, 0, 0.3, 0)-d, 0.381, 0.001)
}

// Cut into near and far, a scene has the field that it has whole.
func TestSliceIsTheScene(t *testing.T) {
	s := scene{loops: []loop{{at: vec{3, 14, 0.3}, moment: vec{2, 1, 0}, phase: 0.4}}}
	for i := range 60 {
		y := float64(i-30) * 2
		s.filaments = append(s.filaments, filament{vec{0.1 * math.Sin(y), y, -1}, vec{0.1 * math.Sin(y+2), y + 2, -1.1}, cmplx.Rect(0.1, 0.01*y)})
	}
	cut := s.slice(vec{}, vec{1, 0, 0}, searchM)
	for _, x := range []float64{-2.5, 0, 0.7, 2} {
		for _, z := range []float64{0, 0.5, 0.9} {
			a, b := cut.field(x, z), s.field(vec{x, 0, z})
			for i := range a {
				near(t, "part in ten thousand", cmplx.Abs(a[i]-b[i])/cmplx.Abs(b[0]), 0, 1e-3)
			}
		}
	}
}

// A current of 100 mA that has fallen to 80 mA after 100 m loses 19.38 dB/km
// (20 log10 1.25 over 0.1 km).
func TestAttenuation(t *testing.T) {
	alpha := 19.382 / 1000 * math.Ln10 / 20
	f := feed{amps: 0.1, perM: complex(alpha, 0), endM: 1e6}
	near(t, "after 100 m, mA", 1000*cmplx.Abs(f.at(100)), 80, 0.01)
	f.open, f.endM = true, 150
	near(t, "at the insulated end, mA", 1000*cmplx.Abs(f.at(150)), 0, 1e-9)
}

// Currents at a bond add up: what the strap takes is what the line has lost.
func TestBondsKeepTheCurrent(t *testing.T) {
	for _, c := range []coupling{{ratio: -0.4, fromM: -1e4, toM: 60}, {ratio: 0.5 + 0.1i, fromM: 30, toM: 60}} {
		f := feed{amps: 0.1, endM: 1e6, bonds: []bondedPart{c.leaves()}}
		for _, at := range []float64{c.fromM, c.toM} {
			if at < 0 {
				continue
			}
			before, after := f.at(at-1e-3)+c.ratio*f.at(at-1e-3)*complex(c.window(at-1e-3), 0), f.at(at+1e-3)+c.ratio*f.at(at+1e-3)*complex(c.window(at+1e-3), 0)
			near(t, "lost at a bond, A", cmplx.Abs(after-before), 0, 1e-9)
		}
	}
}

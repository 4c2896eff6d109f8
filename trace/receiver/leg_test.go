package receiver

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// A leg seen from above and a wire of one piece have one field, whichever way they lie.
func TestLegIsAWire(t *testing.T) {
	const depthM, gapM = 1.3, 0.4
	for _, c := range []struct{ a, c geo.XY }{
		{geo.XY{X: -40, Y: 0.2}, geo.XY{X: 60, Y: 0.2}},
		{geo.XY{X: -1, Y: -2}, geo.XY{X: 3, Y: 0.5}},
		{geo.XY{X: 2, Y: 2}, geo.XY{X: 1, Y: 5}},
		{geo.XY{X: 4, Y: -1}, geo.XY{X: -6, Y: -1}},
	} {
		w := Wire{Points: []Point{{c.a.X, c.a.Y, -depthM}, {c.c.X, c.c.Y, -depthM}}, CurrentA: 1 / TeslaMetrePerAmpere}
		low, high := SeeLeg(c.a, c.c, geo.XY{X: 1}).Fields(depthM, gapM)
		for _, x := range []struct{ got, heightM float64 }{{low, 0}, {high, gapM}} {
			// Right of the heading is -Y: over a current that comes this way the field points there.
			if want := -w.B(Point{Z: x.heightM}).Y; math.Abs(x.got-want) > 1e-12 {
				t.Errorf("%v to %v, %.1f m up: %.6f, a wire has %.6f", c.a, c.c, x.heightM, x.got, want)
			}
		}
	}
	down := -Wire{Points: []Point{{-9, 2, -depthM}, {5, 2, -depthM}}, CurrentA: 1 / TeslaMetrePerAmpere}.B(Point{}).Z
	if _, got := SeeLeg(geo.XY{X: -9, Y: 2}, geo.XY{X: 5, Y: 2}, geo.XY{X: 1}).Field(depthM); math.Abs(got-down) > 1e-12 {
		t.Errorf("downward %.6f, a wire has %.6f", got, down)
	}
	if low, high := SeeLeg(geo.XY{X: 1}, geo.XY{X: 1}, geo.XY{X: 1}).Fields(depthM, gapM); low != 0 || high != 0 {
		t.Errorf("a leg without length has a field of %g and %g", low, high)
	}
}

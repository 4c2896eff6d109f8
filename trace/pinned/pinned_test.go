package pinned

import (
	"math"
	"testing"

	"loamline.example/trace"
)

// Between two pins of one value the process is hardly free, far from both it is
// (the bridge of an Ornstein-Uhlenbeck process, Gelb 1974).
func TestPins(t *testing.T) {
	ps := New([]Pin{{20, 1}, {10, 1}})
	for _, c := range []struct{ at, mean, left float64 }{
		{10, 1, 0}, {20, 1, 0}, {0, math.Exp(-1), 1 - math.Exp(-2)}, {15, 1 / math.Cosh(0.5), math.Tanh(0.5)}, {200, 0, 1},
	} {
		if m, left := ps.At(c.at); math.Abs(m-c.mean) > 1e-6 || math.Abs(left-c.left) > 1e-6 {
			t.Errorf("at %.0f: %.4f, %.4f, want %.4f, %.4f", c.at, m, left, c.mean, c.left)
		}
	}
}

// What a trace was off at its exposed places, within what its accuracy allows, it is off
// elsewhere too: the band holds it far from them, and says nothing more near them.
func TestWhatIsSeenWidensWhatIsNot(t *testing.T) {
	band := func(offM, stationM float64) float64 {
		c := &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{
			{StationM: 10, Horizontal95M: 0.03}, {StationM: 14, Horizontal95M: 0.3}, {StationM: 60, Horizontal95M: 0.9}}}}}
		New([]Pin{{10, offM}, {12, offM}}).WidenApart(c)
		for _, v := range c.Parts[0].Vertices {
			if v.StationM == stationM {
				return v.Horizontal95M
			}
		}
		return trace.Unknown
	}
	for _, c := range []struct{ offM, stationM, want float64 }{
		{1.2, 10, 0.03}, {1.2, 14, 1.5 * math.Sqrt(1-math.Exp(-0.4))}, {1.2, 60, 1.5}, {0.6, 60, 0.9}, {0, 14, 0.3},
	} {
		if got := band(c.offM, c.stationM); math.Abs(got-c.want) > 0.01 {
			t.Errorf("%.1f m off, at %.0f m: ± %.2f m, want %.2f", c.offM, c.stationM, got, c.want)
		}
	}
}

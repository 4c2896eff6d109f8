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

// Where the trace was right at two exposed places and wrong at a third, it is not taken to be
// wrong by the mean of the three: beyond the third by what that shows, and beyond the first by
// no more than what all of them do.
func TestWhatTheNextPinShowsIsNotMadeBetterByOthers(t *testing.T) {
	pins := []Pin{{10, 0}, {40, 0.1}, {80, 1}}
	line := func() *trace.Centerline {
		return &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{
			{StationM: 0, Horizontal95M: 0.03}, {StationM: 60, Horizontal95M: 0.03}, {StationM: 80, Horizontal95M: 0.03}, {StationM: 120, Horizontal95M: 0.03}}}}}
	}
	all := 1.25 * math.Sqrt((0.1*0.1+1)/3)
	for _, moved := range []bool{false, true} {
		c := line()
		vs := c.Parts[0].Vertices
		for i := range vs {
			vs[i].Pos.X = vs[i].StationM
		}
		if moved {
			New(pins).MoveAcross(c, nil, 0.02, Shared{})
		} else {
			New(pins).WidenApart(c)
		}
		for i, want := range []float64{all * math.Sqrt(1-math.Exp(-2)), math.Max(all, 1.25*0.55) * 0.98, 0.02, 1.25} {
			if got := vs[i].Horizontal95M; math.Abs(got-want) > 0.03 {
				t.Errorf("moved %v, at the %d. vertex: ± %.2f m, want %.2f", moved, i, got, want)
			}
		}
	}
}

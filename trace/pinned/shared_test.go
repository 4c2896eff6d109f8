package pinned

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// bent is a line along x to (20, 0) and on along y.
func bent() *trace.Centerline {
	c := &trace.Centerline{Parts: []trace.Part{{}}}
	for s := 0.0; s <= 40; s += 2 {
		p := geo.XY{X: math.Min(s, 20), Y: math.Max(0, s-20)}
		c.Parts[0].Vertices = append(c.Parts[0].Vertices, trace.Vertex{Pos: p, StationM: s, Horizontal95M: 0.05})
	}
	return c
}

// A trace that lies 0.6 m off along the leg where it is exposed and 0.15 m across it lies
// 0.6 m off across the other leg: the band there holds that, and on the exposed leg it is
// what the pin makes it.
func TestWhatAPinDoesNotShow(t *testing.T) {
	c := bent()
	ps := New([]Pin{{10, 0.15}})
	unseenM := ps.MoveAcross(c, nil, 0.03, ps.Shared(c))
	if unseenM < 0.6 || unseenM > mostSharedM+0.15 {
		t.Errorf("%.2f m unseen", unseenM)
	}
	for _, v := range c.Parts[0].Vertices {
		switch x := v.Pos.X; {
		case x > 19.5 && v.Pos.Y > 1 && v.Horizontal95M < 0.6:
			t.Errorf("± %.2f m on the other leg, at %.0f m", v.Horizontal95M, v.StationM)
		case x < 19 && v.Horizontal95M > 0.21:
			t.Errorf("± %.2f m on the exposed leg, at %.0f m", v.Horizontal95M, v.StationM)
		}
	}
}

// Pins on legs that head different ways show all of it, and one that shows nothing leaves
// nothing; the share of an even angle is 95 %.
func TestShared(t *testing.T) {
	c := bent()
	if s := New([]Pin{{10, 0.15}, {30, 0.4}}).Shared(c); s.UnseenM != 0 {
		t.Errorf("%.2f m unseen on two legs", s.UnseenM)
	}
	if s := New([]Pin{{10, 0}}).Shared(c); s.AcrossM(geo.XY{X: 1}) != 0 {
		t.Errorf("%.2f m unseen of nothing", s.UnseenM)
	}
	if s := New([]Pin{{10, 100}}).Shared(c); s.UnseenM != 0 {
		t.Errorf("%.2f m unseen of what is no error of positions", s.UnseenM)
	}
	s := New([]Pin{{5, 0.3}, {15, 0.2}}).Shared(c)
	within, all := 0, 0
	for a := 0.0; a < math.Pi/2; a += 1e-4 {
		if u := 0.3 * math.Tan(a); u < 1.3 {
			all++
			if u < s.UnseenM {
				within++
			}
		}
	}
	if share := float64(within) / float64(all); math.Abs(share-0.95) > 0.001 {
		t.Errorf("%.3f of the angles", share)
	}
}

package locate

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"loamline.example/trace"
)

// exposedWalk is an RTK walk along a parallel that lies offM beside the line and
// shows scale times its depth of 1 m, with the line exposed at some readings.
func exposedWalk(n int, offM, scale float64, exposed ...int) []trace.Reading {
	rs := walkOff(n, offM, 0)
	for i := range rs {
		rs[i].Fix, rs[i].HAccM, rs[i].DepthM = trace.FixRTK, 0.015, scale*(1+[4]float64{-0.02, 0.02, 0.01, -0.01}[i%4])
	}
	for _, i := range exposed {
		x := rs[i]
		x.Row, x.Exposed, x.DepthM = int32(1000+i), true, 1
		x.Geographic.LatDeg = 44.1000038
		x.Geographic.LonDeg += 1e-6
		rs = append(rs, x)
	}
	return rs
}

func exposuresTold(s *trace.Sheet) (n int) {
	for _, a := range s.Advice {
		if a.Kind == trace.AdviseExposed {
			n++
		}
	}
	return n
}

// What was seen is the truth, wherever the trace went: the line goes through the
// exposed place, everything else is held by the band, and the check list begins
// with it.
func TestAnExposureBesideTheTrace(t *testing.T) {
	for _, offM := range []float64{0.1, 0.3, 1, 3, -0.5} {
		for _, at := range [][]int{{12}, {0}, {6, 18}} {
			s := builtFrom(t, exposedWalk(26, offM, 1, at...))
			l := s.Lines[0]
			if s.Counts.Exposed != len(at) || s.Counts.SetAside != 0 {
				t.Fatalf("%.1f m, %v: %+v", offM, at, s.Counts)
			}
			for _, p := range l.Centerline.Parts {
				for _, v := range p.Vertices {
					if off := math.Abs(s.Plane.LonLat(v.Pos).LatDeg-44.1000038) * 111120; off > v.Horizontal95M+0.01 {
						t.Errorf("%.1f m, %v: at %.1f m the line is %.2f m off at ± %.2f m", offM, at, v.StationM, off, v.Horizontal95M)
					}
				}
			}
			near := l.Centerline.Polyline()
			for i := range l.Readings {
				r := &l.Readings[i]
				if f := near.Nearest(r.Pos); r.Exposed && math.Abs(f.OffsetM) > 0.03 {
					t.Errorf("%.1f m, %v: the line passes the exposed place at %.2f m", offM, at, f.OffsetM)
				}
			}
			if math.Abs(offM) > 0.15 && (exposuresTold(s) == 0 || s.Advice[0].Kind != trace.AdviseExposed) {
				t.Errorf("%.1f m, %v: %q", offM, at, adviceText(s))
			}
		}
	}
}

// An exposure that agrees is no news.
func TestAnExposureOnTheTrace(t *testing.T) {
	s := builtFrom(t, exposedWalk(40, 0, 1, 10, 30))
	if exposuresTold(s) > 0 {
		t.Errorf("%q", adviceText(s))
	}
	if _, band := offNorth(s); band > 0.03 {
		t.Errorf("± %.3f m", band)
	}
}

// A receiver that reads 5 to 12 % wrong is held by the depth band before
// anything is exposed, and set right by what is.
func TestDepthScale(t *testing.T) {
	for _, scale := range []float64{0.88, 0.95, 1, 1.05, 1.12} {
		for _, at := range [][]int{nil, {8}, {8, 20, 33}} {
			s := builtFrom(t, exposedWalk(40, 0, scale, at...))
			worst := 0.0
			for _, v := range s.Lines[0].Centerline.Parts[0].Vertices {
				if off := math.Abs(v.DepthM - 1); off > v.Depth95M {
					t.Errorf("scale %.2f, exposed at %v: %.3f ± %.3f m at %.1f m", scale, at, v.DepthM, v.Depth95M, v.StationM)
				} else {
					worst = math.Max(worst, v.Depth95M)
				}
			}
			if len(at) == 3 && worst > 0.08 {
				t.Errorf("scale %.2f: three exposures leave ± %.3f m", scale, worst)
			}
			if exposuresTold(s) > 0 {
				t.Errorf("scale %.2f: what a receiver's error explains is told: %q", scale, adviceText(s))
			}
		}
	}
}

// A line seen at less than half the depth that was read: the profile goes
// through it, doubts the rest, and the check list says so first.
func TestAnExposureContradictsTheDepth(t *testing.T) {
	s := builtFrom(t, exposedWalk(26, 0, 2.2, 12))
	vs := s.Lines[0].Centerline.Parts[0].Vertices
	nearest := trace.Unknown
	for _, v := range vs {
		if math.Abs(v.StationM-24) < 0.3 {
			nearest = v.DepthM
		}
		if math.Abs(v.DepthM-1) > v.Depth95M {
			t.Errorf("%.2f ± %.2f m at %.1f m", v.DepthM, v.Depth95M, v.StationM)
		}
	}
	if !(math.Abs(nearest-1) < 0.05) {
		t.Errorf("the profile passes the exposed depth of 1 m at %.2f m", nearest)
	}
	if len(s.Advice) == 0 || s.Advice[0].Kind != trace.AdviseExposed || !strings.Contains(said(s.Advice[0].Remark), "exposed at a depth of 1.00 m") {
		t.Errorf("%q", adviceText(s))
	}
}

// One of three exposed depths that the error which the other two show does not explain is
// told of, though a receiver might be off by as much.
func TestOneOfThreeExposuresDisagrees(t *testing.T) {
	for _, c := range []struct {
		deeper float64 // of the second exposed depth
		told   int
	}{{1, 0}, {1.15, 1}} {
		rs := exposedWalk(40, 0, 1, 8, 20, 33)
		rs[41].DepthM *= c.deeper
		s := builtFrom(t, rs)
		if n := exposuresTold(s); n != c.told {
			t.Errorf("a depth %.2f times that of the trace: %d told, want %d: %q", c.deeper, n, c.told, adviceText(s))
		}
		if c.told > 0 && !strings.Contains(adviceText(s), "the other exposures show no such error") {
			t.Errorf("%q", adviceText(s))
		}
	}
}

// The error of a depth at a place is that of the vertex nearest to it, the first of
// several: found by search as by asking all.
func TestDepthSigmaNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	c := &trace.Centerline{Parts: make([]trace.Part, 3)}
	stationM := 0.0
	for k := range c.Parts {
		for range 40 {
			stationM += float64(rng.IntN(3))
			v := trace.Vertex{StationM: stationM, DepthM: 1, Depth95M: rng.Float64()}
			if rng.IntN(4) == 0 {
				v.DepthM = trace.Unknown
			}
			c.Parts[k].Vertices = append(c.Parts[k].Vertices, v)
		}
	}
	by := depthSigmas(c)
	for range 500 {
		at := float64(rng.IntN(int(2*stationM)+20)-10) / 2
		best, want := math.Inf(1), 0.0
		for _, s := range by {
			if d := math.Abs(s.stationM - at); d < best {
				best, want = d, s.rel
			}
		}
		if got := depthSigmaAt(by, at); got != want {
			t.Errorf("at %g m: %g, want %g", at, got, want)
		}
	}
	if got := depthSigmaAt(nil, 3); got != 0 {
		t.Errorf("without a depth: %g", got)
	}
}

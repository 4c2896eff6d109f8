package setupchange

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// lineOf is a line drawn through readings of so many set-ups each, along a course.
func lineOf(course geo.Polyline, strideM, noiseM float64, of func(i int) (trace.Hookup, float64)) *trace.Line {
	l := &trace.Line{Centerline: &trace.Centerline{}}
	var p trace.Part
	for i := 0; float64(i)*strideM <= course.Length(); i++ {
		r := trace.NewReading()
		r.Row, r.Status, r.StationM = int32(i+2), trace.StatusUsed, float64(i)*strideM
		r.Pos = course.At(r.StationM).Add(geo.XY{X: math.Sin(float64(9 * i)), Y: math.Cos(float64(5 * i))}.Scale(noiseM))
		r.Hookup, r.FreqHz = of(i)
		l.Readings = append(l.Readings, r)
		p.Vertices = append(p.Vertices, trace.Vertex{Pos: r.Pos, StationM: r.StationM})
	}
	l.Centerline.Parts = []trace.Part{p}
	return l
}

func elbow(deg float64) geo.Polyline {
	s, c := math.Sincos(deg * math.Pi / 180)
	return geo.NewPolyline([]geo.XY{{}, {X: 20}, {X: 20 + 30*c, Y: 30 * s}})
}

// With strides of 2 m the eleventh reading lies at the bend.
func TestDoubts(t *testing.T) {
	changes := func(at int, h trace.Hookup, hz float64) func(i int) (trace.Hookup, float64) {
		return func(i int) (trace.Hookup, float64) {
			if i < at {
				return trace.HookupDirect, 8192
			}
			return h, hz
		}
	}
	var arc []geo.XY
	for i := range 60 {
		arc = append(arc, geo.XY{X: 15 * math.Sin(float64(i)/20), Y: 15 - 15*math.Cos(float64(i)/20)})
	}
	for _, c := range []struct {
		what    string
		course  geo.Polyline
		strideM float64
		noiseM  float64
		of      func(i int) (trace.Hookup, float64)
		n       int
		fromM   float64
		toM     float64
		before  bool
	}{
		{"induction from a bend on", elbow(15), 2, 0.015, changes(11, trace.HookupInduction, 8192), 1, 20, 50, false},
		{"the other hand", elbow(-15), 2, 0.015, changes(11, trace.HookupInduction, 8192), 1, 20, 50, false},
		{"mains from a stride behind a bend on", elbow(15), 2, 0.015, changes(12, trace.HookupDirect, 50), 1, 22, 50, false},
		{"readings every half metre", elbow(15), 0.5, 0.015, changes(41, trace.HookupInduction, 8192), 1, 20, 50, false},
		{"less sure before", elbow(15), 2, 0.015, func(i int) (trace.Hookup, float64) {
			if i < 11 {
				return trace.HookupPassive, trace.Unknown
			}
			return trace.HookupClamp, trace.Unknown
		}, 1, 0, 22, true},
		{"straight on", elbow(0), 2, 0.015, changes(11, trace.HookupInduction, 8192), 0, 0, 0, false},
		{"in a curve", geo.NewPolyline(arc), 2, 0.015, changes(11, trace.HookupInduction, 8192), 0, 0, 0, false},
		{"where places scatter", elbow(15), 2, 0.6, changes(11, trace.HookupInduction, 8192), 0, 0, 0, false},
		{"no change", elbow(15), 2, 0.015, changes(99, trace.HookupInduction, 8192), 0, 0, 0, false},
		{"one frequency by two names", elbow(15), 2, 0.015, changes(11, trace.HookupDirect, 8000), 0, 0, 0, false},
		{"cells left empty", elbow(15), 2, 0.015, func(i int) (trace.Hookup, float64) {
			if i%3 == 0 {
				return trace.HookupDirect, 8192
			}
			return "", trace.Unknown
		}, 0, 0, 0, false},
		{"each place at two frequencies", elbow(15), 1, 0.015, func(i int) (trace.Hookup, float64) {
			return trace.HookupDirect, 8192 * float64(1+3*(i%2))
		}, 0, 0, 0, false},
		{"both over some metres", elbow(15), 1, 0.015, func(i int) (trace.Hookup, float64) {
			if i < 16 || i < 27 && i%2 == 0 {
				return trace.HookupDirect, 8192
			}
			return trace.HookupInduction, 8192
		}, 0, 0, 0, false},
	} {
		got := Doubts(lineOf(c.course, c.strideM, c.noiseM, c.of))
		if len(got) != c.n {
			t.Errorf("%s: %d doubts, want %d: %+v", c.what, len(got), c.n, got)
			continue
		}
		if c.n == 0 {
			continue
		}
		d := got[0].(finding.Doubt)
		if d.Why.(remark.SetupChanged).Before != c.before || math.Abs(d.FromM-c.fromM) > 0.01 || math.Abs(d.ToM-c.toM) > 0.01 {
			t.Errorf("%s: %.2f to %.2f m, %+v; want %.0f to %.0f m", c.what, d.FromM, d.ToM, d.Why, c.fromM, c.toM)
		}
	}
}

// Readings of the later set-up that were set aside beside the line were compared too.
func TestComparedAside(t *testing.T) {
	l := lineOf(elbow(15), 2, 0.015, func(i int) (trace.Hookup, float64) {
		if i < 11 {
			return trace.HookupDirect, 8192
		}
		return trace.HookupInduction, 8192
	})
	for i := range 4 {
		r := trace.NewReading()
		r.Row, r.Pos, r.Hookup, r.FreqHz = int32(90+i), geo.XY{X: 11 + 2*float64(i), Y: 0.3}, trace.HookupInduction, 8192
		r.SetAside(remark.Outlier{})
		l.Readings = append(l.Readings, r)
	}
	if got := Doubts(l); len(got) > 0 {
		t.Errorf("told %+v", got)
	}
}

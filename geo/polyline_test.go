package geo

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// somePath draws a path with repeated points, spikes and crossings among it.
func somePath(t *rapid.T) []XY {
	coordinate := rapid.Float64Range(-50, 50)
	path := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) XY {
		return XY{math.Round(coordinate.Draw(t, "x")), coordinate.Draw(t, "y")}
	}), 2, 40).Draw(t, "path")
	if rapid.Bool().Draw(t, "repeat a point") {
		path = append(path, path[len(path)-1])
	}
	return path
}

func TestPolylineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := NewPolyline(somePath(t))
		s := rapid.Float64Range(0, 1).Draw(t, "share") * l.Length()
		at := l.At(s)
		if f := l.Nearest(at); math.Abs(f.OffsetM) > 1e-9 {
			t.Fatalf("the place at %g lies %g m off the line", s, f.OffsetM)
		}
		if d := l.Direction(s).Norm(); l.Length() > 0 && s < l.Length() && math.Abs(d-1) > 1e-12 {
			t.Fatalf("direction of length %g", d)
		}
		q := XY{rapid.Float64Range(-80, 80).Draw(t, "qx"), rapid.Float64Range(-80, 80).Draw(t, "qy")}
		f := l.Nearest(q)
		if math.Abs(q.Dist(f.At)-math.Abs(f.OffsetM)) > 1e-9 || l.At(f.StationM).Dist(f.At) > 1e-6 {
			t.Fatalf("foot %+v doesn't fit together", f)
		}
		for _, p := range l.Points {
			if q.Dist(p) < math.Abs(f.OffsetM)-1e-9 {
				t.Fatalf("vertex %v is nearer than the foot", p)
			}
		}
		to := s + rapid.Float64Range(0, 1).Draw(t, "to")*(l.Length()-s)
		if part := NewPolyline(l.Slice(s, to)); math.Abs(part.Length()-(to-s)) > 1e-6 {
			t.Fatalf("a slice of %g m is %g m long", to-s, part.Length())
		}
		if g := l.Index().Nearest(q); g != f {
			t.Fatalf("the index finds %+v, the search %+v", g, f)
		}
	})
}

// To the right of travel is positive.
func TestPolylineSide(t *testing.T) {
	l := NewPolyline([]XY{{0, 0}, {10, 0}, {10, 10}})
	for _, c := range []struct {
		q       XY
		station float64
		offset  float64
		segment int
	}{
		{XY{5, -2}, 5, 2, 0},
		{XY{5, 2}, 5, -2, 0},
		{XY{12, 5}, 15, 2, 1},
		{XY{8, 5}, 15, -2, 1},
		{XY{-3, -4}, 0, 5, 0},
	} {
		if f := l.Nearest(c.q); math.Abs(f.StationM-c.station) > 1e-12 || math.Abs(f.OffsetM-c.offset) > 1e-12 || f.Segment != c.segment {
			t.Errorf("%v: %+v", c.q, f)
		}
	}
}

func TestPolylineIndexOnOnePoint(t *testing.T) {
	if f := NewPolyline([]XY{{1, 1}}).Index().Nearest(XY{4, 5}); f.OffsetM != 5 {
		t.Errorf("%+v", f)
	}
}

func BenchmarkNearest(b *testing.B) {
	path := wiggle(100000, 0.5)
	l := NewPolyline(path)
	r := rand.New(rand.NewPCG(1, 2))
	queries := make([]XY, 1000)
	for i := range queries {
		queries[i] = path[r.IntN(len(path))].Add(XY{r.NormFloat64(), r.NormFloat64()})
	}
	x := l.Index()
	for _, q := range queries[:5] {
		if x.Nearest(q) != l.Nearest(q) {
			b.Fatal("the index and the search disagree")
		}
	}
	b.Run("search", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			l.Nearest(queries[i%len(queries)])
		}
	})
	b.Run("index", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			x.Nearest(queries[i%len(queries)])
		}
	})
	b.Run("build", func(b *testing.B) {
		for b.Loop() {
			l.Index()
		}
	})
}

// Two feet that are equally far but for rounding are told apart as a search of the
// whole path tells them.
func TestPolylineIndexRounds(t *testing.T) {
	l := NewPolyline([]XY{{1, 1}, {1, 1}, {1, 1}, {1, 0.25}, {0, 2.7755575615628914e-17}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {0, 5.551115123125783e-17}})
	q := XY{X: 2.7755575615628914e-17}
	if f, g := l.Nearest(q), l.Index().Nearest(q); f != g {
		t.Errorf("the index finds %+v, the search %+v", g, f)
	}
}

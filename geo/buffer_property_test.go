package geo

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/paulmach/orb/planar"
)

// walk draws a path of n points: gentle, wild, at random, or on a grid where
// it runs over itself.
func walk(r *rand.Rand, kind, n int) []XY {
	stepM := math.Exp(r.Float64()*6 - 4)
	path, p, dir := make([]XY, n), XY{}, 0.0
	for i := range path {
		path[i] = p
		switch kind {
		case 0:
			dir += r.NormFloat64() * 0.1
		case 1:
			dir += r.NormFloat64()
		case 2:
			dir = r.Float64() * 2 * math.Pi
		case 3:
			dir = math.Pi / 2 * float64(r.IntN(4))
		}
		p = p.Add(XY{math.Cos(dir) * stepM, math.Sin(dir) * stepM})
		if kind == 3 {
			p = XY{math.Round(p.X*8) / 8, math.Round(p.Y*8) / 8}
		}
	}
	return path
}

// Whatever the path, places just within the half-width to the left and right of
// it are inside the zone.
func TestBufferHoldsWhatWasAsked(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for k := range 60 {
		path := walk(r, k%4, 2+r.IntN(40))
		left, right := make([]float64, len(path)), make([]float64, len(path))
		for i := range path {
			left[i], right[i] = 0.05+2*r.Float64(), 0.05+2*r.Float64()
			if k%3 == 0 {
				right[i] = left[i]
			}
			if k%5 == 1 {
				right[i] = 0
			}
		}
		zone, err := BufferVariable(path, left, right)
		if err != nil {
			t.Fatalf("case %d: %v", k, err)
		}
		zoneArea(t, zone)
		for i := 0; i+1 < len(path); i++ {
			for range 4 {
				f := r.Float64()
				at := path[i].Lerp(path[i+1], f)
				d := path[i+1].Sub(path[i])
				if d.Norm() == 0 {
					continue
				}
				n := XY{-d.Y, d.X}.Scale(1 / d.Norm())
				l := left[i] + f*(left[i+1]-left[i])
				rt := right[i] + f*(right[i+1]-right[i])
				for _, q := range []XY{at.Add(n.Scale(l * 0.999999)), at.Sub(n.Scale(rt * 0.999999)), at} {
					if !planar.MultiPolygonContains(zone, orb.Point{q.X, q.Y}) {
						t.Fatalf("case %d: (%g, %g) beside segment %d is outside", k, q.X, q.Y, i)
					}
				}
			}
		}
	}
}

// Nothing further from the path than the largest half-width is inside.
func TestBufferHoldsNoMore(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for k := range 60 {
		path := walk(r, k%4, 2+r.IntN(40))
		halfWidthM := 0.1 + 2*r.Float64()
		zone, err := Buffer(path, halfWidthM)
		if err != nil {
			t.Fatal(err)
		}
		line := NewPolyline(path)
		for _, poly := range zone {
			for _, ring := range poly {
				for _, p := range ring {
					if d := math.Abs(line.Nearest(XY{p[0], p[1]}).OffsetM); d > halfWidthM*1.0004+1e-3 {
						t.Fatalf("case %d: an edge lies %g m off, half-width %g m", k, d, halfWidthM)
					}
				}
			}
		}
	}
}

func TestBufferSameBytes(t *testing.T) {
	path := wiggle(400, 0.3)
	var first []byte
	for range 3 {
		zone, err := Buffer(path, 1.5)
		if err != nil {
			t.Fatal(err)
		}
		raw, err := wkb.Marshal(zone)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = raw
		} else if !bytes.Equal(raw, first) {
			t.Fatal("the same path gave different bytes")
		}
	}
}

// The slower ways stand too: each gives nearly the same zone.
func TestBufferAttemptsAgree(t *testing.T) {
	path := wiggle(60, 0.4)
	w := make([]float64, len(path))
	for i := range w {
		w[i] = 0.6 + 0.3*math.Sin(float64(i)/5)
	}
	b := newBand(path, w, w)
	var want float64
	for i, attempt := range bufferAttempts {
		zone, err := attempt(b)
		if errors.Is(err, errNotSimple) {
			continue
		}
		if err == nil {
			zone, err = b.complete(zone)
		}
		if err != nil {
			t.Fatalf("way %d: %v", i, err)
		}
		a := zoneArea(t, zone)
		if want == 0 {
			want = a
		}
		if math.Abs(a-want) > 2e-3*want {
			t.Errorf("way %d: area %g, want %g", i, a, want)
		}
	}
}

func FuzzBuffer(f *testing.F) {
	f.Add(0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.5, 0.2)
	f.Add(0.0, 0.0, 1e-7, 0.0, 5.0, 5.0, 3.0, 0.0)
	f.Add(1e6, 1e6, 1e6, 1e6, 1e6, 1e6+1, 1e-3, 10.0)
	f.Fuzz(func(t *testing.T, x0, y0, x1, y1, x2, y2, l, r float64) {
		for _, v := range []float64{x0, y0, x1, y1, x2, y2, l, r} {
			if math.Abs(v) > 1e6 {
				return
			}
		}
		path := []XY{{x0, y0}, {x1, y1}, {x2, y2}}
		zone, err := BufferVariable(path, []float64{l, l, r}, []float64{r, l, l})
		if err == nil && len(zone) == 0 {
			t.Error("neither a zone nor an error")
		}
	})
}

// Where the outline can be drawn as it is, the overlay library gives the same
// area; at most, a hole of a few hundredths of a square metre is filled.
func TestBufferDrawnAgreesWithOverlay(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	drawnCount := 0
	for k := range 300 {
		path := walk(r, k%4, 2+r.IntN(60))
		w := make([]float64, len(path))
		for i := range w {
			w[i] = 0.4 + 0.6*r.Float64()*float64(k%2)
		}
		b := newBand(path, w, w)
		zone, err := drawn(b.inflated(0))
		if err != nil || len(b.shortAt(zone)) > 0 {
			continue
		}
		drawnCount++
		want, err := dissolve(b.inflated(0).outline(asDrawn))
		if err != nil {
			t.Fatal(err)
		}
		if a, wantA := zoneArea(t, zone), zoneArea(t, want); a < wantA-1e-9*wantA || a > wantA+2e-4*wantA {
			t.Errorf("case %d: %.9f m2 drawn, %.9f by overlay", k, a, wantA)
		}
		if err := geomOf(zone).Validate(); err != nil {
			t.Errorf("case %d: %v", k, err)
		}
	}
	if drawnCount < 40 {
		t.Errorf("only %d zones were drawn", drawnCount)
	}
}

// A walker who stands and lets the receiver run draws hundreds of points on one
// spot. The zone is nearly that of the square that they fill, and comes soon.
func TestBufferOfAScribble(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	path := make([]XY, 400)
	for i := range path {
		path[i] = XY{r.Float64(), r.Float64()}
	}
	zone, err := Buffer(path, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	square := 1 + 4*0.5 + math.Pi/4
	if a := zoneArea(t, zone); a > square*1.0006 || a < 0.95*square || len(zone) != 1 || len(zone[0]) != 1 {
		t.Errorf("%.4f m2 in %d polygons, want nearly %.4f in one without holes", a, len(zone), square)
	}
}

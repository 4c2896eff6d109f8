package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// marksOn reads a path every 2 m; a repeating pattern of 2 cm stands in for
// noise.
func marksOn(n int, at func(s float64) geo.XY) *columns {
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	c := &columns{}
	for i := range n {
		p := at(2 * float64(i))
		p.X, p.Y = p.X+0.02*pattern[i%11], p.Y+0.02*pattern[(i+4)%11]
		c.rd = append(c.rd, reading{Reading: trace.Reading{Pos: p, StationM: 2 * float64(i), HAccM: 0.02, Fix: 4, DepthM: 1}})
	}
	return c
}

// A straight line and a circle are carried on across marks that lie elsewhere,
// within the error stated; the expected places are the geometry's own.
func TestOwnCourseIsCarriedOn(t *testing.T) {
	const radiusM = 60
	circle := func(s float64) geo.XY {
		return geo.XY{X: radiusM * math.Sin(s/radiusM), Y: radiusM * (1 - math.Cos(s/radiusM))}
	}
	straight := func(s float64) geo.XY { return geo.XY{X: 3 + 0.8*s, Y: 0.6 * s} }
	for _, tt := range []struct {
		name     string
		at       func(float64) geo.XY
		from, to int
		withinM  float64
	}{
		{"straight, both sides", straight, 20, 34, 0.05},
		{"straight on to the end", straight, 30, 49, 0.35},
		{"straight back to the start", straight, 0, 20, 0.35},
		{"circle, both sides", circle, 18, 30, 0.10},
	} {
		c := marksOn(50, tt.at)
		for k := tt.from; k <= tt.to; k++ {
			c.rd[k].Pos.Y += 2 // elsewhere
		}
		own, ok := carryOn(c, tt.from, tt.to)
		if !ok {
			t.Fatalf("%s: not carried on", tt.name)
		}
		for k := tt.from; k <= tt.to; k++ {
			off, sigma := own.beside(tt.at(2 * float64(k)))
			if math.Abs(off) > tt.withinM || math.Abs(off) > 3*sigma+0.03 {
				t.Errorf("%s: %.2f m off at %d m, error stated %.2f m", tt.name, off, 2*k, sigma)
			}
		}
	}
}

func TestOwnCourseNeedsMarks(t *testing.T) {
	c := marksOn(10, func(s float64) geo.XY { return geo.XY{X: s} })
	if _, ok := carryOn(c, 2, 8); ok {
		t.Error("carried on from two marks and one")
	}
}

func TestBesideTellsTheSide(t *testing.T) {
	own := carried{path: []geo.XY{{X: 0}, {X: 10}}, sigmaM: []float64{0.1, 0.3}}
	off, sigma := own.beside(geo.XY{X: 5, Y: 2}) // left of an eastward course, which lies to its right
	if off != 2 || math.Abs(sigma-0.2) > 1e-12 {
		t.Errorf("%g m, error %g m; want 2 and 0.2", off, sigma)
	}
}

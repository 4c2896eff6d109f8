package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
)

// The index finds the foot that a search of the whole path finds, on the path
// and some way off, where its legs are even and where they are not.
func TestLineIndexFindsTheFoot(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	pts := []geo.XY{{}}
	heading := 0.0
	for i := range 300 {
		heading += 0.3 * r.NormFloat64()
		leg := 0.2 + r.Float64()
		if i%50 == 0 {
			leg = 25
		}
		pts = append(pts, pts[i].Add(geo.XY{X: math.Cos(heading), Y: math.Sin(heading)}.Scale(leg)))
	}
	line := geo.NewPolyline(pts)
	x := newLineIndex(line)
	if x.passes == nil {
		t.Fatal("the path is long enough for an index")
	}
	for i := range 500 {
		at := line.At(line.Length() * r.Float64())
		off := []float64{0.1, 1, 4}[i%3]
		q := at.Add(geo.XY{X: off * r.NormFloat64(), Y: off * r.NormFloat64()})
		got, want := x.nearest(q), line.Nearest(q)
		if math.Abs(math.Abs(got.OffsetM)-math.Abs(want.OffsetM)) > 1e-9 {
			t.Fatalf("%v lies %.3f m off, by the index %.3f m", q, want.OffsetM, got.OffsetM)
		}
	}
}

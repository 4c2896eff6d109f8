package traverse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/geo"
)

// Places that scatter by far more than they are stated to are held by the band of the line
// that is joined through them; those of a ring that lie as stated make it no wider.
func TestScatterOfPlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	const sd = 0.09
	places := along(8, geo.XY{}, geo.XY{X: 120}, geo.XY{X: 150, Y: 60}, geo.XY{X: 300, Y: 60})
	truth := geo.NewPolyline(slices.Clone(places))
	for i := range places {
		places[i] = places[i].Add(geo.XY{X: sd * r.NormFloat64(), Y: sd * r.NormFloat64()})
	}
	in := 0
	vs := join(walk(places...)).Line.Parts[0].Vertices
	for _, v := range vs {
		if math.Abs(truth.Nearest(v.Pos).OffsetM) <= v.Horizontal95M {
			in++
		}
		if v.Horizontal95M > 1.96*2*sd && math.Abs(v.Pos.X-135) > 25 {
			t.Errorf("± %.2f m at %v", v.Horizontal95M, v.Pos)
		}
	}
	if share := float64(in) / float64(len(vs)); share < 0.9 {
		t.Errorf("%.0f %% of the places are inside the band", 100*share)
	}
	var ring []stand
	for k := range 40 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 40)
		ring = append(ring, stand{pos: geo.XY{X: 8*c + 0.02*r.NormFloat64(), Y: 8*s + 0.02*r.NormFloat64()}})
	}
	if m := scatter(ring); m > 0.03 {
		t.Errorf("a ring's places scatter by %.3f m", m)
	}
	var twice []stand // at each other place
	for k, at := range ring {
		twice = append(twice, at)
		if k%2 == 0 {
			twice = append(twice, at)
		}
	}
	if m := scatter(twice); math.IsNaN(m) || m > 0.03 {
		t.Errorf("a ring read twice at each other place scatters by %.3f m", m)
	}
	if m := scatter(ring[:6]); m != 0 {
		t.Errorf("six places tell %.3f m", m)
	}
}

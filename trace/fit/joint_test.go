package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
)

// How far a bend passes inside its corner, R(1/cos(θ/2) − 1) with tangents
// R·tan(θ/2), is plane geometry: an elbow without readings near is doubted by
// half of that for the widest bend that fits.
func TestUnseenBend(t *testing.T) {
	radius := 1.5 / math.Tan(math.Pi/4)
	want := 0.5 * radius * (1/math.Cos(math.Pi/4) - 1)
	if got := unseenBendM(math.Pi/2, 1.5); math.Abs(got-want) > 1e-9 {
		t.Errorf("doubt %.4f m, want %.4f", got, want)
	}
}

// A sharp elbow between readings three metres apart has a band that holds a
// bend, at the corner and not beyond the readings beside it.
func TestBandAtAnElbowWithoutReadings(t *testing.T) {
	var rs []reading
	for i := range 24 {
		p := geo.XY{X: -1.5 - 3*float64(11-i), Y: 0.004 * float64(i%3-1)}
		if i > 11 {
			p = geo.XY{X: 0.004 * float64(i%3-1), Y: 1.5 + 3*float64(i-12)}
		}
		r := plain(p.X, p.Y)
		r.SigmaM, r.TimeS, r.DepthM = 0.01, 10*float64(i), 1
		rs = append(rs, r)
	}
	res, err := Line(context.Background(), asRead(rs), Options{})
	if err != nil || len(res.Parts) != 1 {
		t.Fatalf("%v, %d parts", err, len(res.Parts))
	}
	var atElbow, beyond float64
	for _, v := range res.Parts[0].Vertices {
		if d := v.Pos.Norm(); d < 0.3 {
			atElbow = math.Max(atElbow, v.Horizontal95M)
		} else if d > 3 && d < 20 {
			beyond = math.Max(beyond, v.Horizontal95M)
		}
	}
	if doubt := unseenBendM(math.Pi/2, 1.5); atElbow < doubt || beyond > doubt/2 {
		t.Errorf("band ±%.3f m at the elbow, ±%.3f m beyond the readings beside it; the doubt is %.3f m", atElbow, beyond, doubt)
	}
}

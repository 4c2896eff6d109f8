package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// TestLeapt: places that a walk leaps to and back from are told of however many they are, and of
// a lone leap the side that is not clearly longer. Depths that step there do not tell of it.
func TestLeapt(t *testing.T) {
	block := func(from, to float64) []geo.XY {
		return along(60, func(x float64) float64 { return 7 * b2f(x >= from && x < to) })
	}
	for _, c := range []struct {
		name     string
		at       []geo.XY
		from, to float64 // of the walk along the line, in metres; 0 where nothing is told
		depthM   float64 // of what lies aside
	}{
		{"thirty and back", block(40, 100), 40, 98, 1},
		{"to its end", block(90, 1000), 90, 118, 1},
		{"in the middle", block(60, 1000), 0, 118, 1},
		{"walked straight on", block(0, 0), 0, 0, 1},
		{"to where another line is laid", along(60, func(x float64) float64 { return 30 * b2f(x >= 60) }), 0, 0, 1},
		{"to a deeper line and back", block(60, 90), 60, 88, 1.6},
		{"to one of another depth for good", block(90, 1000), 90, 118, 3},
	} {
		l := drawnThrough(c.at)
		for i, p := range c.at {
			if p.Y > 0 {
				l.Readings[i].DepthM, l.Centerline.Parts[0].Vertices[i].DepthM = c.depthM, c.depthM
			}
		}
		told := 0
		for _, b := range Check(l, rule()) {
			r, is := b.Remark.(remark.StrideOvershoots)
			if !is {
				continue
			}
			told++
			pl := l.Centerline.Polyline()
			if from, to := pl.At(b.FromM), pl.At(b.ToM); from.X != c.from || to.X != c.to || r.AsideM < 6.5 || r.AsideM > 7.5 || b.BandM < r.AsideM {
				t.Errorf("%s: from %v to %v: %+v", c.name, from, to, b)
			}
		}
		if told != int(b2f(c.to > 0)) {
			t.Errorf("%s: told %d times", c.name, told)
		}
	}
	var bent []geo.XY // walked twice: back to its start is no leap, which leads past both courses
	for i := range 24 {
		bent = append(bent, geo.XY{X: min(float64(i), 12), Y: max(0, float64(i)-12)})
	}
	for _, b := range Check(read(line(0.03, bent...), append(bent, bent...)...), rule()) {
		if _, is := b.Remark.(remark.StrideOvershoots); is {
			t.Errorf("walked twice: %+v", b)
		}
	}
}

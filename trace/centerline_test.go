package trace

import (
	"testing"

	"loamline.example/geo"
)

// What is told of one place can be seen on a map, and stays on the line.
func TestStretchIsNeverTooShortToSee(t *testing.T) {
	c := &Centerline{Parts: []Part{{Vertices: []Vertex{{}, {Pos: geo.XY{X: 10}, StationM: 10}}}}}
	for _, at := range []float64{0, 0.1, 5, 9.9, 10, 12} {
		from, to, path := c.Stretch(at, at)
		if from < 0 || to > 10 || to-from < 0.79 || path[0].Dist(path[len(path)-1]) < 0.79 || at <= 10 && (at < from-1e-9 || at > to+1e-9) {
			t.Errorf("at %g: %g to %g, %v", at, from, to, path)
		}
	}
	if from, to, _ := c.Stretch(2, 7); from != 2 || to != 7 {
		t.Errorf("a long stretch became %g to %g", from, to)
	}
	short := &Centerline{Parts: []Part{{Vertices: []Vertex{{}, {Pos: geo.XY{X: 0.3}, StationM: 0.3}}}}}
	if from, to, _ := short.Stretch(0.1, 0.1); from != 0 || to != 0.3 {
		t.Errorf("on a line of 0.3 m: %g to %g", from, to)
	}
}

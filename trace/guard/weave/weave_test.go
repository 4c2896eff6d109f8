package weave

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// A course that swings by 0.2 m to either side every 20 m has a bow for each half of that, as
// far off its chord; one that is straight or bends to one side has none or one.
func TestBows(t *testing.T) {
	swings := Course(func(s float64) geo.XY { return geo.XY{X: s, Y: 0.2 * math.Sin(2*math.Pi*s/20)} })
	runs := swings.Bows(0, 80, 1)
	if len(runs) != 1 || len(runs[0]) < 6 || len(runs[0]) > 10 {
		t.Fatalf("%d runs: %+v", len(runs), runs)
	}
	for _, b := range runs[0][1 : len(runs[0])-1] {
		if b.OffM < 0.15 || b.OffM > 0.5 || math.Abs(b.ToM-b.FromM-10) > 2 {
			t.Errorf("%+v", b)
		}
	}
	for name, c := range map[string]Course{
		"straight": func(s float64) geo.XY { return geo.XY{X: s} },
		"a bend":   func(s float64) geo.XY { return geo.XY{X: 200 * math.Sin(s/200), Y: 200 * (1 - math.Cos(s/200))} },
	} {
		for _, run := range c.Bows(0, 80, 1) {
			if len(run) > 1 {
				t.Errorf("%s: %+v", name, run)
			}
		}
	}
}

package guard

import (
	"math"
	"testing"
)

// What bows to and fro is held as wide as it bows, and a straighter course with it; what
// is laid round bends is not.
func TestWeavesAreHeld(t *testing.T) {
	for _, c := range []struct {
		name   string
		across func(x float64) float64
		off    float64 // of the widest bow; 0 for no weave
	}{
		{"to and fro", func(x float64) float64 { return 0.25 * math.Sin(2*math.Pi*x/24) }, 0.25},
		{"as good as straight", func(x float64) float64 { return 0.02 * math.Sin(2*math.Pi*x/24) }, 0},
		{"round one wide bend", func(x float64) float64 { return x * x / 400 }, 0},
		{"past an obstacle", func(x float64) float64 { return 1.5 / (1 + math.Exp(-(x-25)/3)) }, 0},
		{"wider than a receiver strays", func(x float64) float64 { return 1.2 * math.Sin(2*math.Pi*x/60) }, 0},
	} {
		walk := along(61, c.across)
		l := read(line(0.03, walk...), walk...)
		bs := Check(l, rule(), Between)
		widest := 0.0
		for _, b := range bs {
			widest = math.Max(widest, b.BandM)
		}
		if c.off == 0 && len(bs) > 0 {
			t.Errorf("%s: %+v", c.name, bs)
		}
		if c.off > 0 && (widest < c.off || widest > 1.3*c.off) {
			t.Errorf("%s: held to %.2f m", c.name, widest)
		}
		if Apply(l, rule()); c.off > 0 {
			for _, x := range l.Centerline.Parts[0].Vertices {
				if x.Horizontal95M < 0.7*c.off {
					t.Errorf("%s: ± %.2f m at %.1f m", c.name, x.Horizontal95M, x.StationM)
				}
			}
			if len(l.Centerline.Notes) != 1 || len(l.Findings) > 0 {
				t.Errorf("%s: %v, %v", c.name, l.Centerline.Notes, l.Findings)
			}
		}
	}
}

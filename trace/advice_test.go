package trace

import (
	"testing"

	"loamline/geo"
)

// A stretch between two vertices has the wider band of both.
func TestWorstBandOfAShortStretch(t *testing.T) {
	l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 10}, geo.XY{X: 20})
	vs := l.Centerline.Parts[0].Vertices
	vs[0].Horizontal95M, vs[1].Horizontal95M, vs[2].Horizontal95M = 0.2, 0.3, Unknown
	for _, tt := range []struct{ from, to, want float64 }{{2, 4, 0.3}, {0, 0, 0.3}, {12, 14, 0.3}, {15, 25, 0.3}, {30, 40, 0}} {
		if got := worstBand(l, tt.from, tt.to); got != tt.want {
			t.Errorf("%g to %g m: %g, want %g", tt.from, tt.to, got, tt.want)
		}
	}
}

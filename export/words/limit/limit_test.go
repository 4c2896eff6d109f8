package limit

import (
	"testing"

	"loamline.example/geo"
)

// A bound is never told as nothing, nor as less than it is.
func TestBoundsAreRoundedUp(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Short(geo.Metric, 0), "0.01 m"}, {Short(geo.Metric, 0.3), "0.30 m"}, {Short(geo.Metric, 0.301), "0.31 m"},
		{Short(geo.US, 0.001), "1 in"}, {Short(geo.US, 0.0255), "2 in"},
		{Percent(0), "1 %"}, {Percent(0.2), "20 %"}, {Percent(0.201), "21 %"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	if p := WholePercent(-0.001); p != 0 || 1/p < 0 {
		t.Errorf("%g", p)
	}
}

package bleed

import (
	"math"
	"testing"
)

// Evidence that is even for and against coupling to a known neighbour is a sign
// of it: most lines that show as much are coupled. What nobody drew, and what is
// left of a line once a coupling is taken out, keep their odds.
func TestCalibrated(t *testing.T) {
	known := coupledFit{c: &coupler{e: exposure{at: []neighbourAt{}}}}
	unknown := coupledFit{c: &coupler{}}
	for _, c := range []struct {
		name  string
		f     coupledFit
		first bool
		odds  float64
		want  float64
	}{
		{"even", known, true, 0, 0.88},
		{"just suspect", known, true, -1.36, 0.80},
		{"just reported", known, true, -4.44, 0.50},
		{"what is left", known, false, 0, 0.50},
		{"undrawn", unknown, true, 0, 0.50},
		{"no fit at all", coupledFit{}, true, math.Inf(-1), 0},
	} {
		c.f.logOdds = c.odds
		if got := probability(c.f.calibrated(c.first)); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s: odds of e^%.2f give %.3f, want %.2f", c.name, c.odds, got, c.want)
		}
	}
}

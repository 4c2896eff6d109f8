package bleed

import (
	"math"
	"testing"
)

// Evidence that is even for and against coupling to a known neighbour is a sign
// of it: most lines that show as much are coupled. What nobody drew, and what is
// left of a line once a coupling is taken out, keep their odds.
func TestCalibrated(t *testing.T) {
	known := coupledFit{c: &coupler{e: neighbour{at: []neighbourAt{}}}}
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

// A score grows with the evidence and, beside a known neighbour, with the
// displacement fitted; what nobody drew is never all but sure.
func TestScoreGrows(t *testing.T) {
	at := func(known bool, odds, shiftM float64) float64 {
		c := testColumns()
		f := finding{coupledFit: coupledFit{c: &coupler{col: c}, logOdds: odds}, from: 5, to: 15}
		if known {
			f.c.e.at = make([]neighbourAt, len(c.rd))
		}
		f.effects = make([]effect, len(c.rd))
		for i := range f.effects {
			f.effects[i].shiftM = shiftM
		}
		return f.score()
	}
	if weak, strong := at(true, -3, 0.15), at(true, 15, 0.15); weak >= strong {
		t.Errorf("known: %.2f with weak evidence, %.2f with strong", weak, strong)
	}
	if small, large := at(true, 10, 0.02), at(true, 10, 0.3); small > 0.5 || large < 0.85 {
		t.Errorf("known: %.2f where 0.02 m is fitted, %.2f where 0.3 m is", small, large)
	}
	if s := at(false, 300, 0.3); s < 0.3 || s > 0.8 {
		t.Errorf("unknown: %.2f", s)
	}
}

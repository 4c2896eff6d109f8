package bleed

import (
	"testing"

	"loamline.example/trace"
)

// TestGradeOfSmallEffects: what is surely coupled is suspected. A neighbour that nobody drew and
// that may as well carry nothing is not.
func TestGradeOfSmallEffects(t *testing.T) {
	for _, c := range []struct {
		name            string
		share, sd       float64
		shiftM, lnDepth float64
		drawn           bool
		want            trace.Grade
	}{
		{"clear", -0.5, 0.1, 0.12, -0.3, false, trace.GradeStrong},
		{"may carry none", -0.4, 0.22, 0.12, -0.3, false, trace.GradeWatch},
		{"may carry none, drawn", -0.4, 0.22, 0.12, -0.3, true, trace.GradeStrong},
	} {
		fit := coupledFit{c: &coupler{}, fitted: fitted{n: 10, ds: 10}, coupled: 0.99}
		fit.p[pShare], fit.cov[pShare][pShare] = c.share, c.sd*c.sd
		for range 5 {
			fit.effects = append(fit.effects, effect{response: response{shiftM: c.shiftM, lnDepth: c.lnDepth}})
		}
		f := finding{coupledFit: fit, to: 4, name: Unknown}
		if c.drawn {
			f.name, f.c.e.at = "G-1", make([]neighbourAt, 5)
		}
		if got := (&columns{}).grade(f); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

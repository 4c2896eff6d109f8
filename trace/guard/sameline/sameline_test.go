package sameline

import (
	"math"
	"testing"
)

func TestAcross(t *testing.T) {
	side := func(f Figures) []Figures {
		out := make([]Figures, 6)
		for i := range out {
			by := 1 + 0.02*math.Sin(float64(i*i))
			out[i] = Figures{f.DepthM * by, f.Signal * by, f.CurrentMA * by}
		}
		return out
	}
	own, nan := Figures{1, 100, 40}, math.NaN()
	for what, c := range map[string]struct {
		after Figures
		want  bool
	}{
		"the same":                       {own, true},
		"no current":                     {Figures{1, 100, nan}, true},
		"another depth":                  {Figures{1.3, 100, 40}, false},
		"another signal":                 {Figures{1, 130, 40}, false},
		"another current":                {Figures{1, 100, 30}, false},
		"no signal":                      {Figures{1, nan, 40}, false},
		"no depth, which tells the most": {Figures{0, 100, 40}, false},
	} {
		if got := Across(side(own), side(c.after)); got != c.want {
			t.Errorf("%s: %v", what, got)
		}
	}
	if Across(side(own)[:2], side(own)) {
		t.Error("two readings tell nothing")
	}
}

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

// TestSlipped: over a line twice as deep half the signal is shown, over one half as deep twice
// (Ampère's law), and the same current; a display that is wrong by itself leaves the signal and
// changes the current with the depth.
func TestSlipped(t *testing.T) {
	about := []Figures{{1, 100, 20}, {1, 102, 20}, {1, 98, 20}}
	for _, c := range []struct {
		own  Figures
		want bool
	}{
		{Figures{2, 50, 20}, false}, {Figures{2, 100, 40}, true}, {Figures{2, 0, 20}, false}, {Figures{2, 0, 40}, true}, {Figures{2, 0, 0}, false},
		{Figures{0.5, 200, 20}, false}, {Figures{0.5, 100, 10}, true}, {Figures{0.5, 0, 20}, false}, {Figures{0.5, 0, 10}, true},
	} {
		if got := Slipped(c.own, about, math.Log(1/c.own.DepthM)); got != c.want {
			t.Errorf("%+v: slipped %v", c.own, got)
		}
	}
}

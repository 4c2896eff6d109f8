package depthlevel

import (
	"math"
	"testing"
)

// course is places a stride of 2 m apart that turn by some degrees a stride over some strides.
func course(before, after int, degrees float64, over int) (out [][2]float64) {
	x, y, dir := 0.0, 0.0, 0.3
	for k := range before + after {
		out = append(out, [2]float64{x, y})
		if k >= before-1 && k < before-1+over {
			dir += degrees * math.Pi / 180
		}
		x, y = x+2*math.Cos(dir), y+2*math.Sin(dir)
	}
	return out
}

func TestTurnsAt(t *testing.T) {
	for _, c := range []struct {
		name   string
		places [][2]float64
		errM   float64
		want   bool
	}{
		{"straight", course(8, 8, 0, 1), 0.02, false},
		{"an elbow", course(8, 8, 12, 1), 0.02, true},
		{"one within what places err by", course(8, 8, 12, 1), 0.5, false},
		{"a sweep", course(8, 8, 8, 9), 0.02, false},
		{"two places before", course(2, 8, 20, 1), 0.02, false},
	} {
		at := 8
		if len(c.places) < 16 {
			at = 2
		}
		if got := TurnsAt(c.places, at, c.errM); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// What the signal shows to be the line's own, and what is small, is marked so.
func TestStepsOfALineAreMarked(t *testing.T) {
	own, small := line(2, levels(1.1, 8, 1.6, 9, 0, 0)...), line(2, levels(1.1, 5, 1.36, 5, 0, 0)...)
	for k := range own {
		own[k].Signal = 50 / own[k].DepthM
	}
	if s := Find(own, 0); len(s) != 1 || !s[0].Lies || s[0].Small {
		t.Errorf("by its signal: %+v", s)
	}
	if s := Find(small, 0); len(s) != 1 || s[0].Lies || !s[0].Small {
		t.Errorf("by a little: %+v", s)
	}
}

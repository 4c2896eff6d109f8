package inarow

import (
	"slices"
	"testing"
)

func TestMark(t *testing.T) {
	for what, c := range map[string]struct {
		z     []float64
		apart bool
		want  []int
	}{
		"five together":        {[]float64{0, 3.1, 3.1, 3.1, 3.1, 3.1, 0}, false, []int{1, 2, 3, 4, 5}},
		"to either side":       {[]float64{3.1, -3.1, 3.1, -3.1, 3.1}, false, []int{0, 1, 2, 3, 4}},
		"five, not so far":     {[]float64{0, 2.9, 2.9, 2.9, 2.9, 2.9, 0}, false, nil},
		"four":                 {[]float64{3.1, 3.1, 3.1, 3.1}, false, nil},
		"one that is not":      {[]float64{3.6, 3.6, 1.9, 3.6, 3.6}, false, []int{0, 1, 3, 4}},
		"not of one piece":     {[]float64{3.1, 3.1, 3.1, 3.1, 3.1}, true, nil},
		"one far off is a run": {[]float64{0, 0, 6.8, 0, 0}, false, []int{2}},
	} {
		bad := make([]bool, len(c.z))
		Mark(c.z, bad, func(int) bool { return !c.apart })
		var got []int
		for k, b := range bad {
			if b {
				got = append(got, k)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
}

package fit

import (
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
)

// A leap is told in words that hold at an end of the walk too, and never as 0.0 m.
func TestLeapWords(t *testing.T) {
	for _, c := range []struct {
		offsetM float64
		want    string
	}{
		{-4.21, "4.2 m off the line that the other readings make"},
		{0.996, "1.0 m off the line that the other readings make"},
		{0.348, "35 cm off the line that the other readings make"},
		{-0.031, "3 cm off the line that the other readings make"},
		{0.004, "out of order along the walk"},
	} {
		if got := words.Remark(geo.Metric, leapWhy(c.offsetM)); got != "position outlier: "+c.want {
			t.Errorf("%g m: %q, want %q", c.offsetM, got, c.want)
		}
	}
}

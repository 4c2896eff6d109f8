package paststride

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// The middle stride of eight places, 4 m long, goes aside of two straight courses; by
// arithmetic.
func TestLeads(t *testing.T) {
	walk := func(strideDeg, afterDeg float64) []geo.XY {
		at := []geo.XY{{}}
		for k := range 7 {
			deg, m := 0.0, 2.0
			switch {
			case k == 3:
				deg, m = strideDeg, 4
			case k > 3:
				deg = afterDeg
			}
			s, c := math.Sincos(deg * math.Pi / 180)
			at = append(at, at[k].Add(geo.XY{X: m * c, Y: m * s}))
		}
		return at
	}
	for _, c := range []struct{ stride, after, want float64 }{
		{0, 0, 0},
		{20, 0, 0},
		{24.9, 0, 0},
		{25.1, 0, 4 * math.Sin(25.1*math.Pi/180)},
		{30, 0, 2},
		{-30, 0, 2},
		{30, 30, 0}, // as the course turns
		{60, 30, 2},
		{-30, 30, 2},
	} {
		if got := Leads(walk(c.stride, c.after)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("stride at %g°, course on at %g°: %g m, want %g", c.stride, c.after, got, c.want)
		}
	}
	at := walk(30, 0)
	at[2] = at[2].Add(geo.XY{Y: 0.5})
	if got := Leads(at); got != 0 {
		t.Errorf("past an uneven course by %g m", got)
	}
}

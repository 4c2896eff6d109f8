package fit

import (
	"context"
	"testing"

	"loamline.example/geo"
)

// A leg among many leaps, beyond the end of the line that was first found, is not
// lost for good: its readings get stations of their own again.
func TestLegBeyondAnEndIsRegained(t *testing.T) {
	at := []geo.XY{{X: -12.40, Y: 18.06}, {X: -25.74, Y: 12.49}, {X: -30.36, Y: 12.10}, {X: -34.16, Y: 11.84}, {X: -38.52, Y: 11.52},
		{X: -43.12, Y: 11.16}, {X: -49.11, Y: 10.72}, {X: -53.18, Y: 10.34}, {X: -58.01, Y: 10.01}, {X: -60.77, Y: 7.82},
		{X: -64.50, Y: 3.44}, {X: -66.40, Y: 1.18}, {X: -69.13, Y: -1.96}, {X: -71.67, Y: -4.99}, {X: -74.87, Y: -8.70},
		{X: -78.72, Y: -13.25}, {X: -83.03, Y: -15.58}, {X: -86.31, Y: -18.77}, {X: -91.47, Y: -16.28}, {X: -107.40, Y: -14.70},
		{X: -101.03, Y: -17.05}, {X: -100.62, Y: -34.18}, {X: -104.38, Y: -34.51}, {X: -114.31, Y: -18.07}, {X: -118.75, Y: -18.41},
		{X: -122.97, Y: -18.73}}
	leap := map[int]bool{0: true, 17: true, 19: true, 21: true, 22: true}
	rs := make([]reading, len(at))
	for i, p := range at {
		rs[i] = plain(p.X, p.Y)
		rs[i].SigmaM, rs[i].Fix, rs[i].TimeS, rs[i].DepthM = 0.017, 4, 18*float64(i), 0.64
	}
	res, err := Line(context.Background(), asRead(rs), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range res.Verdicts {
		if leap[i] == (v.Fate == Used) {
			t.Errorf("reading %d: a leap %t, but used %t (%s)", i, leap[i], v.Fate == Used, v.Why)
		}
	}
}

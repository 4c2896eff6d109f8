package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
)

// A hole that is measured after the walk, back along the line, makes no leap of the last
// readings behind a bend, timed or not, and stands where it lies on the walk.
func TestAHoleIsNoStepOfTheWalk(t *testing.T) {
	truth := geo.NewPolyline(curved([][2]float64{{54, 0}, {10, 0.09}, {13, 0}}, []float64{0, 0}))
	for _, timed := range []bool{true, false} {
		for _, lastM := range []float64{66, 70} {
			var rs []reading
			for s := 1.0; s <= lastM; s += 4 {
				r := plain(truth.At(s).X, truth.At(s).Y)
				r.SigmaM, r.TimeS, r.Fix = 0.02, math.NaN(), 4
				if timed {
					r.TimeS = 12 * s
				}
				rs = append(rs, r)
			}
			hole := rs[len(rs)-1]
			hole.Pos, hole.Exposed, hole.index = truth.At(35), true, int32(len(rs))
			hole.TimeS += 600
			rs = append(rs, hole)
			for i := range rs {
				rs[i].index = int32(i)
			}
			res, err := fitLine(context.Background(), rs, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if got := setAside(res); len(got) > 0 {
				t.Errorf("timed %v, walked to %.1f m: readings %v of %d are set aside", timed, lastM, got, len(rs))
			}
			w := newWalk(rs)
			for i := range w.obs {
				if w.obs[i].exposed && (w.obs[i-1].p.Dist(w.obs[i].p) > 4.1 || w.obs[i+1].p.Dist(w.obs[i].p) > 4.1) {
					t.Errorf("timed %v: the hole at 35 m is the walk's place %d of %d", timed, i, len(w.obs))
				}
			}
		}
	}
}

package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A step of the depth lies where the positions say, to within their error along the line: by
// coarse ones the band holds both levels some metres to either side, by good ones beside the
// step alone, and far from it neither grows.
func TestStepAlongCoarsePositions(t *testing.T) {
	for _, c := range []struct {
		accM, bothToM float64
		fix           trace.Fix
	}{{0.015, 0, trace.FixRTK}, {3, 2, 1}} {
		var rs []trace.Reading
		for i := range 60 {
			r := trace.NewReading()
			r.Row, r.Pos, r.HAccM, r.Fix = int32(i+2), geo.XY{X: 2 * float64(i), Y: 1.4 * c.accM * math.Sin(float64(i*i))}, c.accM, c.fix
			if r.DepthM = 1 + 0.01*float64(i%3); i >= 30 {
				r.DepthM += 0.6
			}
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, aside := range []float64{-c.bothToM, c.bothToM} {
			if d, half := depthBand(res, 59+aside); c.bothToM > 0 && (d-half > 1.05 || d+half < 1.55) {
				t.Errorf("± %.2f m: %.2f ± %.2f m at %v m beside a step", c.accM, d, half, aside)
			}
		}
		for _, x := range []float64{20, 48, 70, 100} {
			if d, half := depthBand(res, x); half > 0.1 {
				t.Errorf("± %.2f m: %.2f ± %.2f m at %v m", c.accM, d, half, x)
			}
		}
	}
}

package fit

import (
	"context"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A line that goes under a road for three readings, five metres apart, is drawn there
// and not at the depth on either side; one reading alone stays a spike.
func TestDepthFollowsAShortDive(t *testing.T) {
	draw := func(deep ...int) []trace.Vertex {
		var rs []trace.Reading
		for i := range 24 {
			r := trace.NewReading()
			r.Pos, r.Fix, r.HAccM, r.Status = geo.XY{X: 5 * float64(i), Y: 0.01 * math.Sin(float64(7*i))}, 4, 0.015, trace.StatusUsed
			r.DepthM = 0.85 * (1 + 0.03*math.Sin(float64(5*i)))
			for _, k := range deep {
				if i == k {
					r.DepthM = 2.3 * (1 + 0.05*math.Sin(float64(3*i)))
				}
			}
			rs = append(rs, r)
		}
		res, err := Line(context.Background(), rs, Options{})
		if err != nil || len(res.Parts) != 1 {
			t.Fatalf("%d parts, %v", len(res.Parts), err)
		}
		return res.Parts[0].Vertices
	}
	at := func(vs []trace.Vertex, stationM float64) (depth, band float64) {
		best := vs[0]
		for _, v := range vs {
			if math.Abs(v.StationM-stationM) < math.Abs(best.StationM-stationM) {
				best = v
			}
		}
		return best.DepthM, best.Depth95M
	}
	for _, deep := range [][]int{{10, 11, 12}, {10, 11}, {8, 9, 10, 11, 12}} {
		vs := draw(deep...)
		mid := 5 * float64(deep[0]+deep[len(deep)-1]) / 2
		if d, band := at(vs, mid); math.Abs(d-2.3) > math.Max(band, 0.25) {
			t.Errorf("%d deep readings: %.2f ± %.2f m in their middle, 2.3 m is true", len(deep), d, band)
		}
		for _, s := range []float64{15, 95} {
			if d, band := at(vs, s); math.Abs(d-0.85) > 0.06 || band > 0.2 {
				t.Errorf("%d deep readings: %.2f ± %.2f m at %.0f m, 0.85 m is true", len(deep), d, band, s)
			}
		}
	}
	if d, _ := at(draw(11), 55); d > 1 {
		t.Errorf("one deep reading: %.2f m", d)
	}
}

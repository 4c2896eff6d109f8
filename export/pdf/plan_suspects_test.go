package pdf

import (
	"testing"

	"loamline.example/export/internal/plan"
	"loamline.example/geo"
	"loamline.example/trace"
)

// However a sheet is turned, the arrow to the likely side points to the place on
// the ground that lies on that side of travel.
func TestTheArrowPointsToTheLikelySide(t *testing.T) {
	for _, angle := range []float64{0, 1, 2.5, -2} {
		v := plan.View{Window: plan.Rect{W: 200, H: 100}, Scale: 200, AngleRad: angle}
		for _, travel := range []geo.XY{{X: 1}, {Y: 1}, {X: -0.6, Y: 0.8}} {
			from := v.Paper(geo.XY{})
			dir := v.Paper(travel).Sub(from).Unit()
			right := geo.XY{X: travel.Y, Y: -travel.X}
			for side, at := range map[trace.Side]geo.XY{trace.Right: right, trace.Left: right.Scale(-1)} {
				want := v.Paper(at).Sub(from).Unit()
				if got := towards(side, dir); got.Sub(want).Norm() > 1e-9 {
					t.Errorf("turned by %g, travel %v: %s is %v on paper, want %v", angle, travel, side, got, want)
				}
			}
		}
	}
}

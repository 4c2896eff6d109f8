package zones

import (
	"math"
	"testing"

	"loamline.example/trace"
)

// The reach over a stretch is that of all that is drawn on it, also between two
// places where it is known.
func TestReachOfAStretch(t *testing.T) {
	zs := []trace.ZoneReach{{StationM: 0, LeftM: 0.6, RightM: 0.5}, {StationM: 10, LeftM: 0.6, RightM: 0.9}, {StationM: 20, LeftM: 1.6, RightM: 0.9}}
	all := func(float64) bool { return false }
	for _, tt := range []struct {
		from, to float64
		want     Reach
	}{
		{0, 10, Reach{[2]float64{0.6, 0.6}, [2]float64{0.5, 0.9}, true}},
		{2, 4, Reach{[2]float64{0.6, 0.6}, [2]float64{0.58, 0.66}, true}},
		{12, 20, Reach{[2]float64{0.8, 1.6}, [2]float64{0.9, 0.9}, true}},
		{30, 40, Reach{}},
	} {
		got := ReachOver(zs, tt.from, tt.to, all)
		for i := range 2 {
			if math.Abs(got.Left[i]-tt.want.Left[i]) > 1e-9 || math.Abs(got.Right[i]-tt.want.Right[i]) > 1e-9 || got.Known != tt.want.Known {
				t.Errorf("%g to %g m: %+v, want %+v", tt.from, tt.to, got, tt.want)
			}
		}
	}
}

package locate

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// Two legs 0.80 m apart and 0.90 m down, with the same current out and back: by Ampère's law
// their peaks stand 1.24 m apart, and two antennas 0.4 m apart show 0.37 m there (worked out by
// hand from the field x·z/((x−a)²+z²)((x+a)²+z²)). The map holds the legs and their depth.
func TestMapHoldsBothLegsOfALineThatTurnsBack(t *testing.T) {
	const halfM, peakM, depthM, shownM = 0.40, 0.62, 0.90, 0.374
	var at []geo.XY
	for y := 0.0; y <= 60; y += 2 {
		at = append(at, geo.XY{X: -peakM + 0.01*math.Sin(3*y), Y: y})
	}
	at = append(at, geo.XY{X: 0, Y: 60 + peakM})
	for y := 60.0; y >= 0; y -= 2 {
		at = append(at, geo.XY{X: peakM + 0.01*math.Sin(5*y), Y: y})
	}
	rs := walkOver(at)
	for i := range rs {
		rs[i].DepthM = shownM * (1 + 0.02*math.Sin(7*float64(i)))
	}
	l := builtFrom(t, rs).Lines[0]
	held := 0
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			if s := v.StationM; s < 10 || s > 50 && s < 72 || s > 112 {
				continue
			}
			held++
			if v.Horizontal95M < peakM-halfM || v.DepthM+v.Depth95M < depthM {
				t.Errorf("%.0f m: ± %.2f m across, %.2f ± %.2f m deep", v.StationM, v.Horizontal95M, v.DepthM, v.Depth95M)
			}
		}
	}
	if held < 20 {
		t.Errorf("%d places were looked at", held)
	}
}

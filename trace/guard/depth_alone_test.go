package guard

import (
	"testing"

	"loamline.example/trace"
)

// TestDeepAlone: a deeper depth that was dropped is in the band as far as the next depths that were
// kept, where these are so far off that the line may go down and up again between them and
// nothing contradicts it; no item tells of it. A depth about every stride leaves no room for a dive.
func TestDeepAlone(t *testing.T) {
	for _, c := range []struct {
		name   string
		every  int     // readings have a depth, of a walk of two metres a stride
		signal float64 // of that one, of 100; 0 for none
		want   float64 // least band there
	}{
		{"every third", 3, 0, 0.89}, {"every fourth", 4, 0, 0.89}, {"each", 1, 0, 0},
		{"signal falls with it", 3, 60, 0.89}, {"signal stays", 3, 99, 0},
	} {
		l := line(0.05, along(37, level)...)
		read(l, along(37, level)...)
		for i := range l.Readings {
			r := &l.Readings[i]
			if i%c.every != 0 {
				r.DepthM = trace.Unknown
			}
			if c.signal > 0 {
				r.Signal = 100
			}
			if i == 12 {
				r.DepthM, r.DepthDropped = 1.9, true
				if c.signal > 0 {
					r.Signal = c.signal
				}
			}
		}
		Apply(l, rule())
		bands := map[float64]float64{}
		for _, x := range l.Centerline.Parts[0].Vertices {
			bands[x.StationM] = x.Depth95M
		}
		if bands[24] < c.want || c.want == 0 && bands[24] > 0.2 {
			t.Errorf("%s: band %.2f m at the depth", c.name, bands[24])
		}
		if bands[14] > bands[24] || bands[40] > 0.2 || c.want > 0 && bands[22] < c.want {
			t.Errorf("%s: bands %v", c.name, bands)
		}
		if len(l.Findings) > 0 {
			t.Errorf("%s: %+v", c.name, l.Findings)
		}
	}
}

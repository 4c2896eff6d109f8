package swapped

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// through is a line through some places, with readings of a current every metre.
func through(name string, currentMA func(stationM float64) float64, at ...geo.XY) trace.Line {
	l := trace.Line{Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
	l.Setup.Name = name
	path := geo.NewPolyline(at)
	for i, p := range at {
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: p, StationM: path.Station(i)})
	}
	for stationM := 0.0; stationM <= path.Length(); stationM++ {
		r := trace.NewReading()
		r.Pos, r.StationM, r.Status, r.CurrentMA = path.At(stationM), stationM, trace.StatusUsed, currentMA(stationM)
		l.Readings = append(l.Readings, r)
	}
	return l
}

func TestTell(t *testing.T) {
	west, east, south, north := geo.XY{X: -30}, geo.XY{X: 20}, geo.XY{X: -10, Y: -25}, geo.XY{X: 10, Y: 25}
	unread := func(float64) float64 { return math.NaN() }
	same := func(float64) float64 { return 60 }
	steps := func(before, after, atM float64) func(float64) float64 {
		return func(stationM float64) float64 {
			if stationM < atM {
				return before
			}
			return after
		}
	}
	inM, southM := geo.XY{}.Dist(west), geo.XY{}.Dist(south)
	for _, c := range []struct {
		name string
		a, b trace.Line
		// from where to where on either is told; 0, 0 where nothing is
		a0, a1, b0, b1 float64
	}{
		{"names changed", through("A", unread, west, geo.XY{}, north), through("B", unread, south, geo.XY{X: 0.1}, east), 30, 30 + southM, southM, southM + 19.9},
		{"one read the other way", through("A", unread, west, geo.XY{}, north), through("B", unread, east, geo.XY{X: 0.1}, south), 30, 30 + southM, 0, 19.9},
		{"currents change with the names", through("A", steps(60, 25, inM), west, geo.XY{}, north), through("B", steps(25, 60, southM), south, geo.XY{X: 0.1}, east), 30, 30 + southM, southM, southM + 19.9},
		{"one current", through("A", same, west, geo.XY{}, north), through("B", same, south, geo.XY{X: 0.1}, east), 30, 30 + southM, southM, southM + 19.9},
		{"each keeps its current", through("A", same, west, geo.XY{}, north), through("B", steps(25, 25, 0), south, geo.XY{X: 0.1}, east), 0, 0, 0, 0},
		{"they cross", through("A", unread, west, geo.XY{}, east), through("B", unread, south, geo.XY{X: 0.1}, north), 0, 0, 0, 0},
		{"both turn and neither goes straight on", through("A", unread, west, geo.XY{}, north), through("B", unread, geo.XY{X: 10, Y: -25}, geo.XY{X: 0.1}, geo.XY{X: 20, Y: 14}), 0, 0, 0, 0},
		{"one ends on the other", through("A", unread, west, geo.XY{}, north), through("B", unread, south, geo.XY{X: 0.1}), 0, 0, 0, 0},
		{"side by side round a corner", through("A", unread, west, geo.XY{}, north), through("B", unread, west.Add(geo.XY{Y: -0.6}), geo.XY{X: 0.7, Y: -0.6}, north.Add(geo.XY{X: 0.7})), 0, 0, 0, 0},
	} {
		at := c.b.Centerline.Polyline().Nearest(geo.XY{})
		c.a.Findings = []trace.Finding{finding.Crossing{Line: "A", Other: "B", StationM: inM, OtherStationM: at.StationM, SeparationM: 0.1}}
		lines := []trace.Line{c.a, c.b}
		Tell(lines)
		for k, want := range [2][2]float64{{c.a0, c.a1}, {c.b0, c.b1}} {
			var from, to float64
			for _, f := range lines[k].Findings {
				if d, ok := f.(finding.Doubt); ok {
					from, to = d.FromM, d.ToM
					if d.Why != trace.Remark(remark.MixedUp{Other: []string{"B", "A"}[k]}) {
						t.Errorf("%s: told %v", c.name, d.Why)
					}
				}
			}
			if math.Abs(from-want[0]) > 0.2 || math.Abs(to-want[1]) > 0.2 {
				t.Errorf("%s: line %d is told of from %.1f to %.1f m, want %.1f to %.1f", c.name, k, from, to, want[0], want[1])
			}
		}
	}
}

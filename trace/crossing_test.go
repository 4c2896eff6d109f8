package trace

import (
	"math"
	"testing"

	"loamline/geo"
)

func drawn(name string, depthM float64, pts ...geo.XY) Line {
	var p Part
	pl := geo.NewPolyline(pts)
	for i, q := range pts {
		p.Vertices = append(p.Vertices, Vertex{Pos: q, StationM: pl.Station(i), DepthM: depthM, Horizontal95M: 0.1})
	}
	return Line{Setup: LineSetup{Name: name, DiameterM: Unknown}, Centerline: &Centerline{Parts: []Part{p}}}
}

func TestCrossings(t *testing.T) {
	a := drawn("A", 1.0, geo.XY{X: 0}, geo.XY{X: 20})
	tests := []struct {
		name  string
		other Line
		want  []Crossing
	}{
		{"crosses", drawn("B", 1.5, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3}), []Crossing{{StationM: 5, SeparationM: 0, DepthDifferenceM: 0.5}}},
		{"comes close", drawn("B", 1.5, geo.XY{X: 5, Y: 0.4}, geo.XY{X: 5, Y: 3}), []Crossing{{StationM: 5, SeparationM: 0.4, DepthDifferenceM: 0.5}}},
		{"stays away", drawn("B", 1.5, geo.XY{X: 5, Y: 2}, geo.XY{X: 5, Y: 3}), nil},
		{"crosses twice", drawn("B", 1, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3}, geo.XY{X: 9, Y: 3}, geo.XY{X: 9, Y: -3}),
			[]Crossing{{StationM: 5}, {StationM: 9}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := crossings([]Line{a, tt.other})[0]
			if len(got) != len(tt.want) {
				t.Fatalf("got %v", got)
			}
			for i, w := range tt.want {
				if g := got[i]; math.Abs(g.StationM-w.StationM) > 1e-9 || math.Abs(g.SeparationM-w.SeparationM) > 1e-9 || math.Abs(g.DepthDifferenceM-w.DepthDifferenceM) > 1e-9 {
					t.Errorf("got %+v, want %+v", g, w)
				}
			}
		})
	}
}

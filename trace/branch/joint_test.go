package branch

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// partThrough is a part through points, from a station on.
func partThrough(fromM float64, pts ...geo.XY) trace.Part {
	p, line := trace.Part{}, geo.NewPolyline(pts)
	for i, q := range pts {
		p.Vertices = append(p.Vertices, trace.Vertex{Pos: q, StationM: fromM + line.Station(i)})
	}
	return p
}

func TestJoints(t *testing.T) {
	branch := partThrough(0, geo.XY{}, geo.XY{X: 30}, geo.XY{X: 30, Y: -10})
	on := partThrough(50, geo.XY{X: 30}, geo.XY{X: 60})
	on.Joins = true
	c := trace.Centerline{Parts: []trace.Part{branch, on}}
	if j := Joints(&c); len(j) != 1 || j[0] != (Joint{EndM: 50, OnM: 30}) {
		t.Errorf("a main that goes on from its branch: %+v", j)
	}
	first := partThrough(0, geo.XY{}, geo.XY{X: 30})
	after := partThrough(40, geo.XY{X: 30, Y: -10}, geo.XY{X: 30}, geo.XY{X: 60})
	after.Joins = true
	c = trace.Centerline{Parts: []trace.Part{first, after}}
	if j := Joints(&c); len(j) != 1 || j[0] != (Joint{EndM: 30, OnM: 50}) {
		t.Errorf("a main that ends on a branch walked back: %+v", j)
	}
	after.Joins = false
	if j := Joints(&trace.Centerline{Parts: []trace.Part{first, after}}); len(j) != 0 {
		t.Errorf("a gap has joints: %+v", j)
	}
}

func TestSpurs(t *testing.T) {
	out := trace.Centerline{Parts: []trace.Part{partThrough(100, geo.XY{}, geo.XY{X: 30}, geo.XY{X: 30, Y: -6}, geo.XY{X: 30.3}, geo.XY{X: 60})}}
	s := Spurs(&out)
	if len(s) != 1 || math.Abs(s[0].FromM-130) > 1.5 || math.Abs(s[0].ToM-142) > 1.5 {
		t.Errorf("a branch of 6 m: %+v", s)
	}
	for name, pts := range map[string][]geo.XY{
		"elbow":        {{}, {X: 30}, {X: 30, Y: -20}},
		"hairpin":      {{}, {X: 30}, {X: 30, Y: -1.5}, {Y: -1.5}},
		"back to back": {{}, {X: 30}, {X: 30, Y: -6}, {X: 30.3}}, // ends where it came from: nothing goes on
	} {
		if s := Spurs(&trace.Centerline{Parts: []trace.Part{partThrough(0, pts...)}}); len(s) != 0 {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

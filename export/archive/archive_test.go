package archive

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A line 4.9 m away comes near where 5 m is asked for, one 5.1 m away does not,
// wherever the cells' edges lie; its depths and where it comes from stay with it.
func TestNear(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1})
	for _, c := range []struct {
		offM float64
		near bool
	}{{4.9, true}, {5.1, false}, {-4.9, true}, {-5.1, false}, {0, true}} {
		var path []geo.LonLat
		for _, x := range []float64{-40, 0, 40} {
			path = append(path, plane.LonLat(geo.XY{X: x, Y: c.offM}))
		}
		q := NearQuery{Plane: plane, Places: []geo.XY{{X: 3}, {X: 500, Y: 500}, {X: math.NaN()}}, WithinM: 5}
		got := NearRecords(q, NewCells(q), []Line{{Job: "T-1 / north", Line: "W-1", Utility: "water", Date: "2026-05-12", Path: path, DepthM: []float64{1, 1.1, 1.2}}})
		if (len(got) == 1) != c.near {
			t.Errorf("%g m away: near %v", c.offM, len(got) == 1)
			continue
		}
		for _, r := range got {
			if r.Name != "W-1" || r.Source != "archive: job T-1 / north, traced on 2026-05-12" || r.Utility != trace.Water || len(r.DepthM) != 3 || r.DepthM[1] != 1.1 || math.Abs(r.Path[1].Y-c.offM) > 0.001 {
				t.Errorf("%+v", r)
			}
		}
	}
}

// Depths that do not go with the path are no depths of it.
func TestDepthsThatDoNotFitAreLeftOut(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{})
	if r := (Line{Path: make([]geo.LonLat, 3), DepthM: []float64{1, 2}}).record(plane); r.DepthM != nil {
		t.Errorf("%v", r.DepthM)
	}
}

// A job's key starts from its ticket and name.
func TestJobKeys(t *testing.T) {
	s := &trace.Sheet{Name: "north"}
	if JobKey(s) != "north" {
		t.Errorf("without a ticket: %q", JobKey(s))
	}
	if s.Job.Ticket = "T-1"; JobKey(s) != "T-1 / north" {
		t.Errorf("with a ticket: %q", JobKey(s))
	}
}

// A line that was traced worse than records are taken to err says so of itself: nothing is
// held against its place to the decimetre. One wide place of a good one does not.
func TestALineIsAsGoodAsItWasTraced(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{})
	for name, c := range map[string]struct {
		bands  []float64
		doubtM float64
	}{
		"fixed":                  {[]float64{0.03, 0.04, 0.03}, 0},
		"autonomous":             {[]float64{4.2, 4.0, 4.1}, 4.1 - 1.96*trace.RecordSigmaM},
		"one wide place":         {[]float64{0.03, 40, 0.03}, 0},
		"not known":              {nil, 0},
		"not known in places":    {[]float64{math.NaN(), 2, math.NaN()}, 2 - 1.96*trace.RecordSigmaM},
		"as good as a record is": {[]float64{0.5, 0.5}, 0},
	} {
		r := Line{Path: make([]geo.LonLat, 3), Horizontal95M: c.bands}.record(plane)
		if math.Abs(r.DoubtM-c.doubtM) > 1e-9 || (r.DoubtWhy != "") != (c.doubtM > 0) || !r.Earlier {
			t.Errorf("%s: %+v", name, r)
		}
	}
}

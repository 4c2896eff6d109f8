package records

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

func recorded(name string, u trace.Utility, depthM float64, pts ...geo.XY) trace.Record {
	r := trace.Record{Name: name, Source: "town.geojson", Utility: u, Path: pts}
	for range pts {
		r.DepthM = append(r.DepthM, depthM)
	}
	return r
}

// What a known line's meeting with a trace comes to: the places and distances are
// plane geometry worked out by hand.
func TestKnownLinesCrossTraces(t *testing.T) {
	doubtful := recorded("duct", trace.Communication, trace.Unknown, geo.XY{X: 5, Y: 2}, geo.XY{X: 5, Y: 9})
	doubtful.DoubtM, doubtful.DoubtWhy = 1.43, "its frame is not stated"
	water := func(depthM float64, pts ...geo.XY) trace.Record {
		return recorded("main 12", trace.Water, depthM, pts...)
	}
	for _, tt := range []struct {
		name    string
		records []trace.Record
		want    []finding.Crossing
	}{
		{"a duct across", []trace.Record{recorded("duct", trace.Communication, 0.6, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3})},
			[]finding.Crossing{{StationM: 5, OtherStationM: 3, OtherDepthM: 0.6, DepthDifferenceM: -0.4}}},
		{"a duct that ends near", []trace.Record{recorded("duct", trace.Communication, trace.Unknown, geo.XY{X: 5, Y: 1.2}, geo.XY{X: 5, Y: 9})},
			[]finding.Crossing{{StationM: 5, SeparationM: 1.2, OtherDepthM: trace.Unknown, DepthDifferenceM: trace.Unknown}}},
		{"a duct farther off than a record errs", []trace.Record{recorded("duct", trace.Communication, 1, geo.XY{X: 5, Y: 1.4}, geo.XY{X: 5, Y: 9})}, nil},
		{"the same where its frame may move it", []trace.Record{doubtful},
			[]finding.Crossing{{StationM: 5, SeparationM: 2, OtherDepthM: trace.Unknown, DepthDifferenceM: trace.Unknown, DoubtM: 1.43}}},
		{"the line's own record", []trace.Record{water(1, geo.XY{X: 0, Y: -0.1}, geo.XY{X: 10, Y: 0.1}, geo.XY{X: 20, Y: -0.1})}, nil},
		{"a service of the same class, across", []trace.Record{water(1, geo.XY{X: 7, Y: 4}, geo.XY{X: 7, Y: -4})}, []finding.Crossing{{StationM: 7, OtherStationM: 4, OtherDepthM: 1}}},
		{"a line of an earlier job with the trace's name, across", []trace.Record{recorded("A", trace.Water, 1, geo.XY{X: 7, Y: 4}, geo.XY{X: 7, Y: -4})},
			[]finding.Crossing{{StationM: 7, OtherStationM: 4, OtherDepthM: 1}}},
		{"in two pieces that join on the trace", []trace.Record{recorded("duct", trace.Gas, 1, geo.XY{X: 5, Y: -3}, geo.XY{X: 5}), recorded("duct", trace.Gas, 1, geo.XY{X: 5}, geo.XY{X: 5, Y: 3})},
			[]finding.Crossing{{StationM: 5, OtherStationM: 3, OtherDepthM: 1}}},
		{"sways about the trace", []trace.Record{recorded("duct", trace.Gas, 1, geo.XY{X: 1, Y: -0.1}, geo.XY{X: 5, Y: 0.1}, geo.XY{X: 9, Y: -0.1})},
			[]finding.Crossing{{StationM: 3, OtherStationM: 2.0025, OtherDepthM: 1}}},
		{"comes back after a detour", []trace.Record{recorded("duct", trace.Gas, 1, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3}, geo.XY{X: 9, Y: 3}, geo.XY{X: 9, Y: -3})},
			[]finding.Crossing{{StationM: 5, OtherStationM: 3, OtherDepthM: 1}, {StationM: 9, OtherStationM: 13, OtherDepthM: 1}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a := fixture.Line("A", 1.0, geo.XY{X: 0}, geo.XY{X: 5}, geo.XY{X: 10}, geo.XY{X: 15}, geo.XY{X: 20})
			a.Setup.Utility = trace.Water
			s := &trace.Sheet{Lines: []trace.Line{a}, Records: tt.records}
			KnownCrossings(s, NewIndex(s.Records))
			if len(s.Lines[0].Findings) != len(tt.want) {
				t.Fatalf("got %+v", s.Lines[0].Findings)
			}
			for i, w := range tt.want {
				g := s.Lines[0].Findings[i].(finding.Crossing)
				same := func(a, b float64) bool { return math.Abs(a-b) < 1e-3 || math.IsNaN(a) && math.IsNaN(b) }
				if !same(g.StationM, w.StationM) || !same(g.OtherStationM, w.OtherStationM) || !same(g.SeparationM, w.SeparationM) || !same(g.OtherDepthM, w.OtherDepthM) ||
					!same(g.DepthDifferenceM, w.DepthDifferenceM) || g.DoubtM != w.DoubtM || g.Source != "town.geojson" || g.Line != "A" || !g.OnRecord() {
					t.Errorf("got %+v, want %+v", g, w)
				}
			}
			if len(finding.CrossedBy(s, "A"))+len(finding.CrossedBy(s, "duct")) != 0 {
				t.Error("a meeting with a record was told as seen from a traced line")
			}
		})
	}
}

// A record of a line that was traced too is told once, by the trace.
func TestKnownLineThatWasTraced(t *testing.T) {
	a := fixture.Line("A", 1.0, geo.XY{X: 0}, geo.XY{X: 10}, geo.XY{X: 20})
	b := fixture.Line("B", 1.5, geo.XY{X: 5, Y: -8}, geo.XY{X: 5, Y: -4}, geo.XY{X: 5, Y: 4}, geo.XY{X: 5, Y: 8})
	for _, tt := range []struct {
		name string
		at   float64
		want int
	}{{"where the trace has it", 5.3, 0}, {"where the trace does not", 12, 1}} {
		s := &trace.Sheet{Lines: []trace.Line{a, b}, Records: []trace.Record{recorded("B", trace.Gas, 1, geo.XY{X: 5.3, Y: -9}, geo.XY{X: 5.3, Y: -2}, geo.XY{X: tt.at, Y: -1}, geo.XY{X: tt.at, Y: 9})}}
		for i, cs := range Crossings(s.Lines) {
			for _, c := range cs {
				s.Lines[i].Findings = append(s.Lines[i].Findings, c)
			}
		}
		KnownCrossings(s, NewIndex(s.Records))
		n := 0
		for _, f := range s.Lines[0].Findings {
			if c := f.(finding.Crossing); c.OnRecord() {
				n++
			}
		}
		if n != tt.want {
			t.Errorf("%s: %+v", tt.name, s.Lines[0].Findings)
		}
	}
}

package locate

import (
	"context"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// What of the input costs the map more than a row stands under what to check before
// digging, as well as among the problems: --strict goes by the former.
func TestStrictIsToldWhy(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*trace.Source)
		want   trace.Remark
	}{
		{"a line of the job file without a reading", func(s *trace.Source) { s.Job.Lines = append(s.Job.Lines, trace.LineSetup{Name: "W-9"}) }, remark.LineUnread{Line: "W-9"}},
		{"two names for one line", func(s *trace.Source) {
			for i := range s.Readings {
				s.Readings[i].Line = []string{"W-1", "w 1"}[2*i/len(s.Readings)]
			}
		}, remark.NamesAlike{Name: "W-1", Other: "w 1"}},
		{"simulator data", func(s *trace.Source) { s.Readings[1].Fix = trace.FixSimulator }, remark.SimulatorData{File: "walk.csv", N: 1}},
		{"a layer of another place", func(s *trace.Source) {
			far := s.Readings[0].Geographic
			s.Records = []trace.GeoRecord{{Name: "main", Source: "town.geojson", Path: []geo.LonLat{{LonDeg: far.LonDeg + 1, LatDeg: far.LatDeg}, {LonDeg: far.LonDeg + 1.001, LatDeg: far.LatDeg}}}}
		}, remark.LayerFar{Source: "town.geojson", N: 1, ReachM: trace.RecordReachM}},
		{"nothing", func(*trace.Source) {}, nil},
	} {
		src := walkJob(-71.5, 44.1, func(j *trace.Job) { j.Datum = "NAD83(2011)" })
		src.Inputs[0].Name = "walk.csv"
		tt.change(&src)
		s, err := Build(context.Background(), src)
		if err != nil {
			t.Fatal(tt.name, err)
		}
		k := slices.IndexFunc(s.Advice, func(a trace.Advice) bool { return a.Kind == trace.AdviseInput })
		if tt.want == nil {
			if k >= 0 {
				t.Errorf("%s: %s", tt.name, said(s.Advice[k].Remark))
			}
			continue
		}
		if k < 0 || s.Advice[k].Remark != tt.want {
			t.Errorf("%s: %+v, problems %v", tt.name, s.Advice, s.Problems)
		}
	}
}

// A lift check that is inconclusive is told as that, and asks nothing; one that failed
// does.
func TestInconclusiveCheckAsksNothing(t *testing.T) {
	l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 20})
	for _, tt := range []struct {
		outcome trace.Outcome
		asks    bool
	}{{trace.OutcomePassed, false}, {trace.OutcomeInconclusive, false}, {trace.OutcomeFailed, true}} {
		f := finding.FieldCheck{Line: "A", Kind: trace.CheckLift, StationM: 4, Outcome: tt.outcome, Remark: trace.Verbatim("Lifted.")}
		if _, asks := adviseFinding(f, l); asks != tt.asks || f.NeedsEyes() != tt.asks || f.Passed() != (tt.outcome == trace.OutcomePassed) {
			t.Errorf("%s: asks %v, needs eyes %v, passed %v", tt.outcome, asks, f.NeedsEyes(), f.Passed())
		}
	}
}

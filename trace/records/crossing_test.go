package records

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

func TestCrossings(t *testing.T) {
	a := fixture.Line("A", 1.0, geo.XY{X: 0}, geo.XY{X: 20})
	tests := []struct {
		name  string
		other trace.Line
		want  []finding.Crossing
	}{
		{"crosses", fixture.Line("B", 1.5, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3}), []finding.Crossing{{StationM: 5, SeparationM: 0, DepthDifferenceM: 0.5}}},
		{"comes close", fixture.Line("B", 1.5, geo.XY{X: 5, Y: 0.4}, geo.XY{X: 5, Y: 3}), []finding.Crossing{{StationM: 5, SeparationM: 0.4, DepthDifferenceM: 0.5}}},
		{"stays away", fixture.Line("B", 1.5, geo.XY{X: 5, Y: 2}, geo.XY{X: 5, Y: 3}), nil},
		{"crosses twice", fixture.Line("B", 1, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3}, geo.XY{X: 9, Y: 3}, geo.XY{X: 9, Y: -3}),
			[]finding.Crossing{{StationM: 5, OtherStationM: 3}, {StationM: 9, OtherStationM: 13}}},
		{"sways about it", fixture.Line("B", 1, geo.XY{X: 1, Y: -0.1}, geo.XY{X: 5, Y: 0.1}, geo.XY{X: 9, Y: -0.1}, geo.XY{X: 13, Y: 0.1}),
			[]finding.Crossing{{StationM: 3}}},
		{"the same line", fixture.Line("B", 1, geo.XY{X: 0}, geo.XY{X: 4}, geo.XY{X: 8}, geo.XY{X: 20}), []finding.Crossing{{StationM: 0}}},
		{"comes back after a detour", fixture.Line("B", 1, geo.XY{X: 5, Y: -3}, geo.XY{X: 7, Y: 9}, geo.XY{X: 9, Y: -3}),
			[]finding.Crossing{{StationM: 5.5}, {StationM: 8.5}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Crossings([]trace.Line{a, tt.other})[0]
			if len(got) != len(tt.want) {
				t.Fatalf("got %v", got)
			}
			for i, w := range tt.want {
				if g := got[i]; math.Abs(g.StationM-w.StationM) > 1e-9 || math.Abs(g.SeparationM-w.SeparationM) > 1e-9 || math.Abs(g.DepthDifferenceM-w.DepthDifferenceM) > 1e-9 ||
					w.OtherStationM > 0 && math.Abs(g.OtherStationM-w.OtherStationM) > 1e-9 {
					t.Errorf("got %+v, want %+v", g, w)
				}
			}
		})
	}
}

// A crossing is a finding of one line; the other line's page must know it too.
func TestCrossingsAreSeenFromBothLines(t *testing.T) {
	s := &trace.Sheet{Lines: []trace.Line{
		fixture.Line("A", 1.0, geo.XY{X: 0}, geo.XY{X: 20}),
		fixture.Line("B", 1.5, geo.XY{X: 5, Y: 3}, geo.XY{X: 5, Y: -3}),
	}}
	for i, cs := range Crossings(s.Lines) {
		for _, c := range cs {
			s.Lines[i].Findings = append(s.Lines[i].Findings, c)
		}
	}
	if got := finding.CrossedBy(s, "A"); len(got) != 0 {
		t.Errorf("A is told its own crossing twice: %+v", got)
	}
	got := finding.CrossedBy(s, "B")
	if len(got) != 1 || got[0].Line != "B" || got[0].Other != "A" || got[0].StationM != 3 || got[0].OtherStationM != 5 || got[0].DepthDifferenceM != -0.5 {
		t.Errorf("B is told %+v", got)
	}
}

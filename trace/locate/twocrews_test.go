package locate

import (
	"testing"
	"time"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// Two crews who trace one line from both its ends at the same time, each into a table of its
// own, make one line: nobody swept from the one end to the other with every reading.
func TestTwoCrewsOnOneLine(t *testing.T) {
	const n = 30
	south := fixture.Walk(0, "W-1", -30.5, 44.1, n)
	north := fixture.Walk(1, "W-1", -30.5, 44.1+n*1e-5, n)
	begun := time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC)
	for k := range south {
		south[k].Time = begun.Add(time.Duration(10*k) * time.Second)
		north[n-1-k].Time = begun.Add(time.Duration(10*k+4) * time.Second)
	}
	rs := append(south, north...)
	for k := range rs {
		rs[k].HAccM, rs[k].Fix, rs[k].DepthM = 0.02, trace.FixRTK, 1
	}
	s, err := Build(t.Context(), trace.Source{Name: "job", Job: trace.DefaultJob(), Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}, {Name: "b.csv"}}})
	if err != nil {
		t.Fatal(err)
	}
	l := s.Lines[0]
	for _, f := range l.Findings {
		if d, ok := f.(finding.Doubt); ok {
			t.Errorf("doubted: %#v", d.Why)
		}
	}
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			if v.Horizontal95M > 2 {
				t.Fatalf("a band of %g m at %g m", v.Horizontal95M, v.StationM)
			}
		}
	}
}

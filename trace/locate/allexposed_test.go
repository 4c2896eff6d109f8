package locate

import (
	"context"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/tracetest/fixture"
)

// A table of potholes alone is a job too: there is no reading left to test for
// bleed-over.
func TestBuildOfExposedPlacesAlone(t *testing.T) {
	rs := fixture.Walk(0, "A", -30.5, 44.1, 12)
	for i := range rs {
		rs[i].Exposed, rs[i].DepthM = true, 1
	}
	s, err := Build(context.Background(), trace.Source{Name: "a", Job: trace.DefaultJob(), Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil || s.Counts.Exposed != 12 || s.Lines[0].Centerline == nil {
		t.Fatalf("%+v, %v", s, err)
	}
}

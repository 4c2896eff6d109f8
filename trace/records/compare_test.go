package records

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// compared lays a straight trace of 40 m, vertices 2 m apart, over records of the
// same class of utility.
func compared(records ...trace.Record) trace.Line {
	var pts []geo.XY
	for x := 0.0; x <= 40; x += 2 {
		pts = append(pts, geo.XY{X: x})
	}
	l := fixture.Line("W-1", 1, pts...)
	l.Setup.Utility = trace.Water
	s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}, Records: records}
	Compare(s, NewIndex(s.Records))
	return s.Lines[0]
}

func TestCompareRecords(t *testing.T) {
	// Records run on past the trace at both ends; negative Y is to the right.
	straight := trace.Record{Name: "main", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: -0.4}, {X: 45, Y: -0.4}}}
	l := compared(straight)
	if len(l.Compared) != 21 || len(l.Findings) != 0 || math.Abs(l.Compared[3].OffsetM-0.4) > 1e-9 {
		t.Errorf("within both bands: %d places, %+v", len(l.Compared), l.Findings)
	}
	// 95 % of a record taken as known to 0.3 m one sigma, and of the trace 0.1 m.
	if want := math.Hypot(0.1, 1.96*0.3); math.Abs(l.Compared[0].AllowedM-want) > 1e-9 {
		t.Errorf("allowed %g m, want %g", l.Compared[0].AllowedM, want)
	}

	bent := trace.Record{Name: "main", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: 0.2}, {X: 18, Y: 0.2}, {X: 22, Y: 1.6}, {X: 45, Y: 1.6}}}
	l = compared(bent)
	if len(l.Findings) != 1 {
		t.Fatalf("findings %+v", l.Findings)
	}
	f := l.Findings[0].(finding.RecordDifference)
	if f.FromM < 18 || f.FromM > 22 || f.ToM != 40 || math.Abs(f.LargestOffsetM+1.6) > 1e-9 || f.Record != "main" {
		t.Errorf("finding %+v", f)
	}

	for _, r := range []trace.Record{
		{Name: "gas", Utility: trace.Gas, Path: straight.Path},
		{Name: "far", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: 9}, {X: 45, Y: 9}}},
		{Name: "across", Utility: trace.Water, Path: []geo.XY{{X: 20, Y: -9}, {X: 20, Y: 9}}},
	} {
		if l := compared(r); len(l.Compared) != 0 || len(l.Findings) != 0 {
			t.Errorf("%s was compared: %+v", r.Name, l.Findings)
		}
	}
}

func TestCompareTakesTheNearestRecord(t *testing.T) {
	near := trace.Record{Name: "near", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: 0.1}, {X: 21, Y: 0.1}}}
	long := trace.Record{Name: "long", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: 2}, {X: 45, Y: 2}}}
	for _, o := range compared(near, long).Compared {
		want := "near"
		if o.StationM > 20 {
			want = "long"
		}
		if o.Record != want {
			t.Errorf("at %g m compared with %s, want %s", o.StationM, o.Record, want)
		}
	}
}

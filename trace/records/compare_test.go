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
func compared(records ...trace.Record) trace.Line { return comparedEvery(2, records...) }

func comparedEvery(stepM float64, records ...trace.Record) trace.Line {
	var pts []geo.XY
	for x := 0.0; x <= 40; x += stepM {
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

// A layer's record of the trace's own name is the one that the trace is held against,
// though another of its kind lies nearer, or it lies farther off than a record errs. An
// earlier job's names are its own.
func TestCompareHoldsTheRecordOfTheSameName(t *testing.T) {
	at := func(name string, y float64) trace.Record {
		return trace.Record{Name: name, Utility: trace.Water, Path: []geo.XY{{X: -5, Y: y}, {X: 45, Y: y}}}
	}
	earlier := at("W-1", 3)
	earlier.Earlier = true
	piece := at("W-1", 8)
	piece.Path[1].X = 21
	for name, c := range map[string]struct {
		records []trace.Record
		offM    float64 // at the end of the trace; 0 where nothing differs
	}{
		"its own":                            {[]trace.Record{at("W-1", 0.1)}, 0},
		"3 m off, on another":                {[]trace.Record{at("W-2", 0.1), at("W-1", 3)}, -3},
		"the same, in the other order":       {[]trace.Record{at("W-1", 3), at("W-2", 0.1)}, -3},
		"8 m off":                            {[]trace.Record{at("W-1", 8)}, -8},
		"across the road":                    {[]trace.Record{at("W-1", -25)}, 25},
		"just within reach of its name":      {[]trace.Record{at("W-1", -29)}, 29},
		"just beyond it":                     {[]trace.Record{at("W-1", -31)}, 0},
		"another, just near enough":          {[]trace.Record{at("W-2", 4.9)}, -4.9},
		"another, just too far off":          {[]trace.Record{at("W-2", 5.1)}, 0},
		"in another street":                  {[]trace.Record{at("W-1", 40)}, 0},
		"two of the name, one of them here":  {[]trace.Record{at("W-1", 8), at("W-1", 0.1)}, 0},
		"another line of its kind":           {[]trace.Record{at("W-2", 8)}, 0},
		"of an earlier job, on another":      {[]trace.Record{at("W-2", 0.1), earlier}, 0},
		"for half of the way, then no other": {[]trace.Record{piece}, -8},
	} {
		l := compared(c.records...)
		largest := 0.0
		for _, f := range l.Findings {
			largest = f.(finding.RecordDifference).LargestOffsetM
		}
		if math.Abs(largest-c.offM) > 1e-9 {
			t.Errorf("%s: %g m off, want %g: %+v", name, largest, c.offM, l.Findings)
		}
	}
}

// A stretch of disagreement is told from 3 m on (judgement).
func TestShortestDifferenceFromARecord(t *testing.T) {
	for lengthM, want := range map[float64]int{3: 0, 4: 1} { // half a metre more than the stretch that disagrees
		aside := trace.Record{Name: "main", Utility: trace.Water, Path: []geo.XY{{X: -5}, {X: 17.3}, {X: 17.3, Y: 0.8}, {X: 18.7 + lengthM, Y: 0.8}, {X: 18.7 + lengthM}, {X: 45}}}
		if l := comparedEvery(0.5, aside); len(l.Findings) != want {
			t.Errorf("%.1f m: %+v", lengthM, l.Findings)
		}
	}
}

// A record of the trace's own name that leaves it is the line as drawn, elsewhere, and no
// other line that comes close.
func TestRecordOfTheSameNameThatLeavesIsNoOtherLine(t *testing.T) {
	l := fixture.Line("W-1", 1, geo.XY{}, geo.XY{X: 10}, geo.XY{X: 20}, geo.XY{X: 25}, geo.XY{X: 30}, geo.XY{X: 35}, geo.XY{X: 40}, geo.XY{X: 45}, geo.XY{X: 50})
	l.Setup.Utility = trace.Water
	leaves := trace.Record{Name: "W-1", Utility: trace.Water, Path: []geo.XY{{X: -5, Y: 0.1}, {X: 15, Y: 0.1}, {X: 25, Y: 8}, {X: 60, Y: 12}}}
	s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}, Records: []trace.Record{leaves}}
	KnownCrossings(s, NewIndex(s.Records))
	if len(s.Lines[0].Findings) != 0 {
		t.Errorf("told as another line: %+v", s.Lines[0].Findings)
	}
	Compare(s, NewIndex(s.Records))
	if len(s.Lines[0].Findings) != 1 {
		t.Errorf("where it lies elsewhere: %+v", s.Lines[0].Findings)
	}
}

package closelines

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// line is one along y from x = 0 to length, with a zone of half a metre to either side.
func line(name string, y, lengthM float64) trace.Line {
	l := trace.Line{Setup: trace.LineSetup{Name: name}, Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
	for x := 0.0; x <= lengthM; x += 2 {
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: geo.XY{X: x, Y: y}, StationM: x})
		l.Reach = append(l.Reach, trace.ZoneReach{StationM: x, LeftM: 0.5, RightM: 0.5})
	}
	return l
}

// Two zones of 0.5 m to either side leave no room for a bucket where they end less than
// 0.3 m apart (common practice, no source): where the lines lie 1.3 m apart or less.
func TestZonesThatLeaveNoRoom(t *testing.T) {
	for apartM, want := range map[float64]bool{0.2: true, 1.29: true, 1.31: false, 5: false} {
		got := Find(&trace.Sheet{Lines: []trace.Line{line("A", 0, 20), line("B", apartM, 20)}})
		if (len(got) == 1) != want {
			t.Fatalf("%g m apart: %+v", apartM, got)
		}
		if want && (got[0].Line != "A" || got[0].Other != "B" || got[0].FromM != 0 || got[0].ToM != 20 || math.Abs(got[0].LeastM-apartM) > 1e-9) {
			t.Errorf("%g m apart: %+v", apartM, got[0])
		}
	}
	one := line("B", 0.2, 20)
	one.Centerline = nil
	if got := Find(&trace.Sheet{Lines: []trace.Line{line("A", 0, 20), one}}); got != nil {
		t.Errorf("a line that was not drawn: %+v", got)
	}
}

// Lines that are close only because they cross are told as a crossing, up to 30 m of them
// (judgement); those that run beside each other for longer are told besides.
func TestCloseBecauseTheyCross(t *testing.T) {
	for lengthM, want := range map[float64]int{28: 0, 32: 1} {
		a := line("A", 0, lengthM)
		a.Findings = []trace.Finding{finding.Crossing{Line: "A", Other: "B", StationM: lengthM / 2}}
		if got := Find(&trace.Sheet{Lines: []trace.Line{a, line("B", 0.2, lengthM)}}); len(got) != want {
			t.Errorf("%g m: %+v", lengthM, got)
		}
	}
}

// A record that runs beside a line, out of its zone of 0.5 m and with less than 0.3 m between
// that and its own of 0.46 m, leaves no room; one that the zone holds, one that has room and
// one that only ends there are not told.
func TestRecordsThatLeaveNoRoom(t *testing.T) {
	for _, c := range []struct {
		apartM, lengthM float64
		want            bool
	}{{0.2, 20, false}, {0.33, 20, false}, {0.35, 20, true}, {1.25, 20, true}, {1.27, 20, false}, {0.9, 4, true}, {0.9, 2, false}} {
		a := line("A", 0, 20)
		a.Tolerance.HalfWidthM = 0.46
		s := &trace.Sheet{Lines: []trace.Line{a}, Records: []trace.Record{{Name: "R", Path: []geo.XY{{X: 0, Y: c.apartM}, {X: c.lengthM, Y: c.apartM}}}, {Name: "none"}}}
		if c.lengthM < 20 { // it comes from far off and ends there
			s.Records[0].Path = append(s.Records[0].Path, geo.XY{X: c.lengthM, Y: 40})
		}
		if got := Records(&trace.Sheet{Lines: append(s.Lines, line("B", c.apartM, 40)), Records: s.Records}); len(got) > 0 {
			t.Errorf("a line was traced there: %+v", got)
		}
		got := Records(s)
		if (len(got) == 1) != c.want {
			t.Errorf("%g m apart over %g m: %+v", c.apartM, c.lengthM, got)
		}
		if c.want && (got[0].Line != "A" || got[0].Other != "R" || !got[0].OnRecord || got[0].ToM-got[0].FromM < 3 || math.Abs(got[0].LeastM-c.apartM) > 1e-9) {
			t.Errorf("%g m apart over %g m: %+v", c.apartM, c.lengthM, got)
		}
	}
}

// A record that comes nearer along a line, from beside its zone into it, is told to where it
// comes closest: its item ended at 1.67 m, where the zone began to hold it, and it came to
// 1.41 m.
func TestRecordsAreToldToWhereTheyComeClosest(t *testing.T) {
	a := line("A", 0, 40)
	a.Tolerance.HalfWidthM = 0.46
	got := Records(&trace.Sheet{Lines: []trace.Line{a}, Records: []trace.Record{{Name: "R", Path: []geo.XY{{X: 0, Y: 1.2}, {X: 40, Y: 0.1}}}}})
	if len(got) != 1 || got[0].FromM != 0 || got[0].ToM < 26 || got[0].ToM > 33 || math.Abs(got[0].LeastM-(1.2-1.1*got[0].ToM/40)) > 0.02 {
		t.Errorf("%+v", got)
	}
}

package records

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// A trace that lies on a record of its kind for most of the way and leaves it at
// an end may have jumped: the record stays a neighbour.
func TestRecordThatTheTraceLeavesIsNoneOfItsOwn(t *testing.T) {
	offs := make([]offsetAt, 40)
	for i := range offs {
		offs[i] = offsetAt{offsetM: 0.1, allowedM: 0.6}
	}
	if !mostWithin(offs, 0.9) {
		t.Error("a record that the trace never leaves is a neighbour")
	}
	for i := 37; i < 40; i++ {
		offs[i].offsetM = 2
	}
	if mostWithin(offs, 0.9) {
		t.Error("a record that the trace leaves by 2 m at an end is its own")
	}
}

// A line of another kind is another line, though it goes by the same name: a neighbour
// that is told of where it comes close, and no record that the trace is held against.
func TestOneNameForTwoKindsIsTwoLines(t *testing.T) {
	l := fixture.Line("1", 1, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 40})
	l.Setup.Utility = trace.Water
	everywhere := func(float64) bool { return true }
	for _, c := range []struct {
		kind trace.Utility
		own  bool
	}{{trace.Gas, false}, {trace.Water, true}, {trace.UnknownKind, true}, {"", true}} {
		r := trace.Record{Name: "1", Utility: c.kind, Path: []geo.XY{{X: -5, Y: 0.8}, {X: 45, Y: 0.8}}}
		s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}, Records: []trace.Record{r}}
		Compare(s, NewIndex(s.Records))
		KnownCrossings(s, NewIndex(s.Records))
		close := false
		for _, f := range s.Lines[0].Findings {
			_, ok := f.(finding.Crossing)
			close = close || ok
		}
		if IsOf(&l, r, everywhere) != c.own || len(s.Lines[0].Compared) > 0 != c.own || close == c.own {
			t.Errorf("%q: own %v, compared %v, close %v", c.kind, IsOf(&l, r, everywhere), s.Lines[0].Compared, close)
		}
	}
}

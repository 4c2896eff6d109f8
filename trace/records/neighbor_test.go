package records

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// A layer has a main in pieces of one name, and names come twice: what a crew is told of a
// neighbour, its side and what it is, is of the piece that lies there.
func TestNeighborIsThePieceThatLiesThere(t *testing.T) {
	l := fixture.Line("W-1", 1, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 40}) // to the east: positive Y is left
	at := []remark.Stretch{{FromM: 5, ToM: 35}}
	piece := func(utility trace.Utility, y, from, to float64) trace.Record {
		return trace.Record{Name: "G-1", Utility: utility, Path: []geo.XY{{X: from, Y: y}, {X: to, Y: y}}}
	}
	here := piece(trace.Gas, 1, -5, 45)
	for name, c := range map[string]struct {
		records []trace.Record
		side    trace.Side
		utility trace.Utility
	}{
		"alone":                        {[]trace.Record{here}, trace.Left, trace.Gas},
		"a piece beyond, first":        {[]trace.Record{piece(trace.Gas, -30, -5, 45), here}, trace.Left, trace.Gas},
		"another line of that name":    {[]trace.Record{piece(trace.Electric, -6, -5, 45), here}, trace.Left, trace.Gas},
		"one piece after the other":    {[]trace.Record{piece(trace.Gas, 1, -5, 15), piece(trace.Gas, 1, 15, 45)}, trace.Left, trace.Gas},
		"on the left, then the right":  {[]trace.Record{piece(trace.Gas, 1, -5, 20), piece(trace.Gas, -1, 20, 45)}, "", trace.Gas},
		"of one kind, then of another": {[]trace.Record{piece(trace.Gas, 1, -5, 20), piece(trace.Electric, 1, 20, 45)}, trace.Left, ""},
	} {
		got := NeighborOf(&trace.Sheet{Records: c.records}, l, "G-1", 1, at)
		if got.Side != c.side || got.Utility != c.utility || !got.Record {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A neighbour of another kind that goes by the line's own name is told with what it is.
func TestNeighborOfTheLinesOwnName(t *testing.T) {
	l := fixture.Line("1", 1, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 40})
	l.Setup.Utility = trace.Water
	path := []geo.XY{{X: -5, Y: 1}, {X: 45, Y: 1}}
	s := &trace.Sheet{Lines: []trace.Line{l}, Records: []trace.Record{{Name: "1", Utility: trace.Gas, Path: path}}}
	at := []remark.Stretch{{FromM: 5, ToM: 35}}
	if got := NeighborOf(s, l, "1", 1, at); got.Utility != trace.Gas || got.Side != trace.Left {
		t.Errorf("%+v", got)
	}
	s.Records[0].Utility = trace.Water
	if got := NeighborOf(s, l, "1", 1, at); got.Record {
		t.Errorf("its own record is its neighbour: %+v", got)
	}
}

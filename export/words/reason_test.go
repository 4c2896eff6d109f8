package words

import (
	"slices"
	"testing"

	"loamline.example/trace"
)

func TestReasonsAreCountedByWhatTheyShare(t *testing.T) {
	row := int32(1)
	reading := func(st trace.Status, dropped bool, reason trace.Remark) trace.Reading {
		r := trace.NewReading()
		row++
		r.Row = row
		r.Status, r.DepthDropped, r.Reason = st, dropped, reason
		return r
	}
	s := &trace.Sheet{Lines: []trace.Line{
		{Readings: []trace.Reading{
			reading(trace.StatusSetAside, false, trace.Verbatim("position outlier: leaps 4.2 m off")),
			reading(trace.StatusUsed, true, trace.Verbatim("depth is a receiver's filler for 'none' (999 m)")),
			reading(trace.StatusUsed, false, trace.Verbatim("depth computed from the two antennas")),
			reading(trace.StatusExposed, false, nil),
		}},
		{Readings: []trace.Reading{
			reading(trace.StatusSetAside, false, trace.Verbatim("position outlier: leaps 1.1 m off")),
			reading(trace.StatusSetAside, false, trace.Verbatim("fix 0: the positioning receiver had no fix")),
			reading(trace.StatusCheck, true, trace.Verbatim("depth 0 is not a depth; Lifted by 0.30 m: signal fell")),
		}},
	}}
	want := []ReasonCount{{"position outlier", 2, []RowOf{{0, 2}, {0, 6}}}, {"depth left out, position used: depth is a receiver's filler for 'none'", 1, []RowOf{{0, 3}}}, {"fix 0", 1, []RowOf{{0, 7}}}}
	got := Reasons(s)
	if len(got) != len(want) {
		t.Fatalf("got %v", got)
	}
	for i := range want {
		if got[i].Why != want[i].Why || got[i].N != want[i].N || !slices.Equal(got[i].Rows, want[i].Rows) {
			t.Errorf("got %v, want %v", got[i], want[i])
		}
	}
}

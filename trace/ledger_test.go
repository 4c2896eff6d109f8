package trace

import (
	"slices"
	"testing"
)

func TestReasonsAreCountedByWhatTheyShare(t *testing.T) {
	row := int32(1)
	reading := func(st Status, dropped bool, reason string) Reading {
		r := NewReading()
		row++
		r.Row = row
		r.Status, r.DepthDropped, r.Reason = st, dropped, reason
		return r
	}
	s := &Sheet{Lines: []Line{
		{Readings: []Reading{
			reading(StatusSetAside, false, "position outlier: leaps 4.2 m off"),
			reading(StatusUsed, true, "depth is a receiver's filler for 'none' (999 m)"),
			reading(StatusUsed, false, "depth computed from the two antennas"),
			reading(StatusExposed, false, ""),
		}},
		{Readings: []Reading{
			reading(StatusSetAside, false, "position outlier: leaps 1.1 m off"),
			reading(StatusSetAside, false, "fix 0: the positioning receiver had no fix"),
			reading(StatusCheck, true, "depth 0 is not a depth; Lifted by 0.30 m: signal fell"),
		}},
	}}
	want := []ReasonCount{{"position outlier", 2, []RowOf{{0, 2}, {0, 6}}}, {"depth left out, position used: depth is a receiver's filler for 'none'", 1, []RowOf{{0, 3}}}, {"fix 0", 1, []RowOf{{0, 7}}}}
	got := s.Reasons()
	if len(got) != len(want) {
		t.Fatalf("got %v", got)
	}
	for i := range want {
		if got[i].Why != want[i].Why || got[i].N != want[i].N || !slices.Equal(got[i].Rows, want[i].Rows) {
			t.Errorf("got %v, want %v", got[i], want[i])
		}
	}
}

// Each status is counted once and in its own place, and a ledger that loses or
// gains a row by any of them does not balance.
func TestCountReadings(t *testing.T) {
	var rs []Reading
	for n, st := range []Status{StatusUsed, StatusSetAside, StatusCheck, StatusExposed} {
		for range n + 2 { // 2, 3, 4, 5
			r := NewReading()
			r.Status = st
			rs = append(rs, r)
		}
	}
	c := CountReadings(rs)
	if want := (Counts{Rows: 14, Used: 2, SetAside: 3, Check: 4, Exposed: 5}); c != want || !c.Balanced() {
		t.Errorf("got %+v, want %+v", c, want)
	}
	c.Rows, c.Unreadable = 20, 6
	if !c.Balanced() {
		t.Error("unreadable rows count")
	}
	for _, n := range []*int{&c.Rows, &c.Used, &c.SetAside, &c.Check, &c.Exposed, &c.Unreadable} {
		*n++
		if c.Balanced() {
			t.Errorf("one row too many balances: %+v", c)
		}
		*n--
	}
}

package trace

import "testing"

func TestReasonsAreCountedByWhatTheyShare(t *testing.T) {
	reading := func(st Status, dropped bool, reason string) Reading {
		r := NewReading()
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
			reading(StatusCheck, true, "depth 0 is no depth; Lifted by 0.30 m: signal fell"),
		}},
	}}
	want := []ReasonCount{{"position outlier", 2}, {"depth left out, position used: depth is a receiver's filler for 'none'", 1}, {"fix 0", 1}}
	got := s.Reasons()
	if len(got) != len(want) {
		t.Fatalf("got %v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("got %v, want %v", got[i], want[i])
		}
	}
}

package locate

import (
	"testing"

	"loamline/trace"
)

func TestEveryRowIsCountedOnce(t *testing.T) {
	reading := func(st trace.Status) trace.Reading { return trace.Reading{Status: st} }
	s := &trace.Sheet{Lines: []trace.Line{
		{Readings: []trace.Reading{reading(trace.StatusSetAside), reading(trace.StatusUsed), reading(trace.StatusUsed), reading(trace.StatusExposed)}},
		{Readings: []trace.Reading{reading(trace.StatusSetAside), reading(trace.StatusSetAside), reading(trace.StatusCheck)}},
	}}
	s.Counts = trace.Counts{Rows: 8, Unreadable: 1}
	count(s)
	if c := (trace.Counts{Rows: 8, Used: 2, SetAside: 3, Check: 1, Exposed: 1, Unreadable: 1}); s.Counts != c || !c.Balanced() {
		t.Errorf("got %+v", s.Counts)
	}
}

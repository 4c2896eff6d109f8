package trace

import "testing"

func TestEveryRowIsCountedOnce(t *testing.T) {
	reading := func(st Status) Reading { return Reading{Status: st} }
	s := &Sheet{Lines: []Line{
		{Readings: []Reading{reading(StatusSetAside), reading(StatusUsed), reading(StatusUsed), reading(StatusExposed)}},
		{Readings: []Reading{reading(StatusSetAside), reading(StatusSetAside), reading(StatusCheck)}},
	}}
	s.Counts = Counts{Rows: 8, Unreadable: 1}
	count(s)
	if c := (Counts{Rows: 8, Used: 2, SetAside: 3, Check: 1, Exposed: 1, Unreadable: 1}); s.Counts != c || !c.Balanced() {
		t.Errorf("got %+v", s.Counts)
	}
}

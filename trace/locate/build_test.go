package locate

import (
	"context"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
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

// Rows that could not be read are rows of the sheet too.
func TestUnreadableRowsAreCounted(t *testing.T) {
	var rs []trace.Reading
	for i := range 4 {
		r := trace.NewReading()
		r.Line, r.Row, r.Geographic, r.HAccM, r.Fix = "A", int32(i+2), geo.LonLat{LonDeg: -30.5 + 3e-5*float64(i), LatDeg: 44.1}, 0.02, 4
		rs = append(rs, r)
	}
	s, err := Build(context.Background(), trace.Source{Name: "a", Job: trace.DefaultJob(), Readings: rs, Unreadable: 3, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil {
		t.Fatal(err)
	}
	if c := s.Counts; c.Rows != 7 || c.Unreadable != 3 || !c.Balanced() {
		t.Errorf("%+v", c)
	}
}

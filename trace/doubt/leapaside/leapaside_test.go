package leapaside

import (
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A walk of 40 readings, one a second, that leaps aside after the twentieth: told where the
// fit left out what is next to the leap, and nowhere else.
func TestDoubts(t *testing.T) {
	walk := func(asideM float64, leftOut ...int) *trace.Line {
		l := &trace.Line{Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
		for i := range 40 {
			r := trace.NewReading()
			r.Pos, r.StationM, r.HAccM, r.Status = geo.XY{X: 0.45 * float64(i)}, 0.45*float64(i), 0.015, trace.StatusUsed
			r.Time = time.Date(2026, 5, 12, 8, 0, i, 0, time.UTC)
			if i >= 20 {
				r.Pos.Y = asideM
			}
			l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: r.Pos, StationM: r.StationM})
			l.Readings = append(l.Readings, r)
		}
		for _, i := range leftOut {
			l.Readings[i].SetAside(remark.Outlier{})
			l.Readings[i].StationM = trace.Unknown
		}
		return l
	}
	for _, c := range []struct {
		what string
		line *trace.Line
		want bool
	}{
		{"0.7 m, two left out", walk(0.7, 19, 20), true},
		{"0.7 m, none left out", walk(0.7), false},
		{"0.7 m, others left out", walk(0.7, 5, 33), false},
		{"straight on, two left out", walk(0, 19, 20), false},
	} {
		got := Doubts(c.line)
		if (len(got) == 1) != c.want || len(got) > 1 {
			t.Errorf("%s: %+v", c.what, got)
			continue
		}
		if c.want {
			if d := got[0].(finding.Doubt); !(d.FromM < 8.2 && d.ToM > 9.4) || !(d.Why.(remark.StrideOvershoots).AsideM > 0.6) {
				t.Errorf("%s: %+v", c.what, d)
			}
		}
	}
}

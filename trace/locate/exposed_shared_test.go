package locate

import (
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// sharedWalk is two lines of one receiver, 40 m apart, of which A was exposed once; the
// depths of both are scale times the true one of 1 m.
func sharedWalk(t *testing.T, scale float64, later time.Duration) *trace.Sheet {
	t.Helper()
	rs := exposedWalk(26, 0, scale, 12)
	day := time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC)
	for i := range rs {
		rs[i].Line, rs[i].Time = "A", day.Add(time.Duration(i)*time.Second)
	}
	for i, r := range exposedWalk(26, 0, scale) {
		r.Line, r.Row = "B", int32(2000+i)
		r.Geographic.LatDeg += 40 / 111120.0
		r.Time = day.Add(time.Hour + later + time.Duration(i)*time.Second)
		rs = append(rs, r)
	}
	return builtFrom(t, rs)
}

// An exposure that shows depths wrong on one line shows it of all that the receiver read
// that day: their bands hold it, a part of it by which no receiver errs is told of each
// and what another day read is left alone.
func TestAnExposureSpeaksForTheOtherLines(t *testing.T) {
	for _, c := range []struct {
		scale             float64
		later             time.Duration
		noted, told, held bool
	}{
		{1, 0, false, false, true},
		{0.84, 0, true, false, true},
		{1.2, 0, true, false, true},
		{0.84, 72 * time.Hour, false, false, false},
		{1.9, 0, false, true, true},
		{0.45, 0, false, true, false}, // a band of less than all of the depth cannot hold it, and says so
		{1.9, 72 * time.Hour, false, false, false},
	} {
		s := sharedWalk(t, c.scale, c.later)
		b := s.Lines[1]
		noted := false
		for _, n := range b.Centerline.Notes {
			_, is := n.(remark.DepthsAsOn)
			noted = noted || is
		}
		told := strings.Contains(adviceText(s), "as wrong as on A")
		held := true
		for _, v := range b.Centerline.Parts[0].Vertices {
			held = held && math.Abs(v.DepthM-1) <= v.Depth95M
		}
		if noted != c.noted || told != c.told || held != c.held && c.held {
			t.Errorf("scale %.2f, %s later: noted %v, told %v, held %v; want %v, %v, %v: %q", c.scale, c.later, noted, told, held, c.noted, c.told, c.held, adviceText(s))
		}
	}
}

package guard

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A place ahead of an end is not beside the line: where it lies as the line would go on, the
// band of the whole line says nothing of it, and it is told as past the end where no zone
// holds it.
func TestExposedAheadOfAnEnd(t *testing.T) {
	for _, c := range []struct {
		name         string
		at           geo.XY
		beside, past bool
		offM         float64
	}{
		{"within the zone's end", geo.XY{X: 40.3, Y: 0.02}, false, false, 0},
		{"a stride on", geo.XY{X: 41.4, Y: 0.02}, false, true, 0},
		{"a stride on and aside", geo.XY{X: 41.4, Y: 0.6}, true, false, 0.6},
		{"a stride before the beginning", geo.XY{X: -1.4, Y: -0.03}, false, true, 0},
		{"beside", geo.XY{X: 20, Y: 0.6}, true, false, 0.6},
	} {
		l := read(line(0.05, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		r := trace.NewReading()
		r.Pos, r.Status, r.Exposed = c.at, trace.StatusExposed, true
		l.Readings = append(l.Readings, r)
		beside, past := false, false
		for _, b := range newView(l, rule()).exposed() {
			_, is := b.Remark.(remark.ExposedBeyond)
			past = past || is
			if off, is := b.Remark.(remark.ExposedOffLine); is {
				if beside = true; math.Abs(off.OffM-c.offM) > 1e-9 {
					t.Errorf("%s: %g m off, want %g", c.name, off.OffM, c.offM)
				}
			}
		}
		if beside != c.beside || past != c.past {
			t.Errorf("%s: beside %v, past the end %v", c.name, beside, past)
		}
	}
}

// An exposed place past an end of the line is told, but where readings that no line stands
// for lead to it: nearer to it than the line, and not the exposure itself.
func TestExposedBeyond(t *testing.T) {
	for _, c := range []struct {
		name string
		lost []geo.XY
		want int
	}{
		{"none", nil, 1},
		{"some on the way", []geo.XY{{X: 45}, {X: 50}, {X: 55}}, 0},
		{"some elsewhere", []geo.XY{{X: 10, Y: 30}, {X: 12, Y: 30}}, 1},
	} {
		l := read(line(0.05, geo.XY{}, geo.XY{X: 40}), along(21, level)...)
		add := func(at geo.XY, status trace.Status) {
			r := trace.NewReading()
			r.Pos, r.Status, r.Exposed = at, status, status == trace.StatusExposed
			l.Readings = append(l.Readings, r)
		}
		for _, at := range c.lost {
			add(at, trace.StatusSetAside)
		}
		add(geo.XY{X: 60}, trace.StatusExposed)
		n := 0
		for _, b := range newView(l, rule()).exposed() {
			if _, is := b.Remark.(remark.ExposedBeyond); is {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%s: told %d times, want %d", c.name, n, c.want)
		}
	}
}

package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

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

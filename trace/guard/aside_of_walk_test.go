package guard

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// asideOfTheWalk are what is told of readings to one side of a walk.
func asideOfTheWalk(l *trace.Line) (out []Breach) {
	for _, b := range Check(l, rule(), Off) {
		if _, ok := b.Remark.(remark.AsideOfTheWalk); ok {
			out = append(out, b)
		}
	}
	return out
}

// A fix that is lost where the walk stands leaves a spur; a branch that is walked to its
// end and back, a turn back and a corner leave none.
func TestSpurs(t *testing.T) {
	straight := along(21, level)
	withTip := func(tip ...geo.XY) []geo.XY {
		return slices.Concat(straight[:11], tip, straight[10:])
	}
	tip := func(n int, aside float64) (ps []geo.XY) {
		for k := range n {
			ps = append(ps, geo.XY{X: 20 + 0.03*float64(k), Y: aside})
		}
		return ps
	}
	for _, c := range []struct {
		name string
		walk []geo.XY
		want int // readings at the tip; 0 for no spur
	}{
		{"ten readings 3.5 m aside", withTip(tip(10, 3.5)...), 10},
		{"one reading 4 m aside", withTip(tip(1, 4)...), 1},
		{"one reading a stride aside", withTip(tip(1, 2)...), 0},
		{"0.5 m aside", withTip(tip(3, 0.5)...), 0},
		{"a branch walked out and back", withTip(geo.XY{X: 20, Y: 1}, geo.XY{X: 20, Y: 2}, geo.XY{X: 20, Y: 3}, geo.XY{X: 20, Y: 2}, geo.XY{X: 20, Y: 1}), 0},
		{"a turn back beside itself", slices.Concat(straight[:11], []geo.XY{{X: 20, Y: 1.5}, {X: 18, Y: 1.5}, {X: 16, Y: 1.5}, {X: 14, Y: 1.5}}), 0},
		{"a corner", slices.Concat(straight[:11], []geo.XY{{X: 20, Y: 2}, {X: 20, Y: 4}, {X: 20, Y: 6}}), 0},
		{"a detour of a step", slices.Concat(straight[:11], []geo.XY{{X: 20.5, Y: 2}, {X: 22.5, Y: 2}}, straight[12:]), 0},
	} {
		got := asideOfTheWalk(drawnThrough(c.walk))
		if c.want == 0 && len(got) > 0 || c.want > 0 && (len(got) != 1 || got[0].Remark.(remark.AsideOfTheWalk).Readings != c.want) {
			t.Errorf("%s: %+v", c.name, got)
		}
		if len(got) == 1 && (got[0].FromM > 20.01 || got[0].ToM < 20+got[0].BandM) {
			t.Errorf("%s: told from %.1f to %.1f m", c.name, got[0].FromM, got[0].ToM)
		}
	}
}

// A short stretch between two gaps, far aside of the way past it, is told of; one on the
// way is not.
func TestIslets(t *testing.T) {
	for _, c := range []struct {
		name   string
		asideM float64
		want   bool
	}{{"12 m aside", 12, true}, {"on the way", 0, false}, {"1.5 m aside", 1.5, false}} {
		var l *trace.Line
		for _, part := range [][]geo.XY{along(6, level), {{X: 13, Y: c.asideM}, {X: 14, Y: c.asideM}, {X: 15, Y: c.asideM}}, {{X: 18}, {X: 20}, {X: 22}, {X: 24}}} {
			one := line(0.05, part...)
			if l == nil {
				l = one
			} else {
				p := one.Centerline.Parts[0]
				end := l.Centerline.Parts[len(l.Centerline.Parts)-1]
				after := end.ToM() + end.Vertices[len(end.Vertices)-1].Pos.Dist(p.Vertices[0].Pos)
				for i := range p.Vertices {
					p.Vertices[i].StationM += after
				}
				l.Centerline.Parts = append(l.Centerline.Parts, p)
			}
			read(l, part...)
		}
		got := asideOfTheWalk(l)
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", c.name, got)
		}
		if c.want && len(got) == 1 && math.Abs(got[0].FromM-l.Centerline.Parts[1].FromM()) > 0.01 {
			t.Errorf("%s: told from %.2f m", c.name, got[0].FromM)
		}
	}
}

// Where the line goes aside with the fix, the band of the poorer readings holds the course
// that goes on; where the fix does not change, or the step is farther than it errs, nothing
// is asked.
func TestAsideWithTheFix(t *testing.T) {
	for _, c := range []struct {
		name         string
		asideM, poor float64
		back, want   bool
	}{
		{"1 m aside by a poor fix", 1, 0.6, false, true},
		{"and back by a good one", 1, 0.6, true, true},
		{"by a good fix", 1, 0.02, false, false},
		{"5 m by a fix good to 0.6", 5, 0.6, false, false},
		{"on the course", 0, 0.6, false, false},
	} {
		walk := along(50, func(x float64) float64 { return c.asideM * b2f(x > 40 && (!c.back || x < 80)) })
		l := drawnThrough(walk)
		for i := range l.Readings {
			if x := walk[i].X; x > 40 && (!c.back || x < 80) {
				l.Readings[i].HAccM = c.poor
			}
		}
		bs := Check(l, rule(), Between)
		bs = slices.DeleteFunc(bs, func(b Breach) bool { _, ok := b.Remark.(remark.AsideWithTheFix); return !ok })
		if (len(bs) > 0) != c.want {
			t.Errorf("%s: %+v", c.name, bs)
			continue
		}
		if !c.want {
			continue
		}
		if b := bs[0]; b.BandM < c.asideM || b.FromM < 40 || b.FromM > 45 {
			t.Errorf("%s: %+v", c.name, b)
		}
	}
}

// Depths that the profile follows and the antennas contradict are told of, with a band
// that holds both; depths that all stand in one way to the antennas are not.
func TestDepthsAgainstTheirAntennas(t *testing.T) {
	for _, c := range []struct {
		name  string
		slips int     // readings written down at a quarter
		scale float64 // of all depths to what the antennas give
		top   int     // the slips, and as many readings besides, show the largest signal
		want  bool
	}{
		{"two slips", 2, 1, 0, true}, {"one slip", 1, 1, 0, true}, {"none", 0, 1, 0, false}, {"all 1.5 times", 0, 1.5, 0, false},
		{"one slip at the largest signal, which another shows too", 1, 1, 1, true}, {"one slip at the end of the display", 1, 1, 3, false},
	} {
		at := along(21, level)
		l := read(line(0.05, at...), at...)
		for i := range l.Readings {
			r := &l.Readings[i]
			r.DepthM = c.scale
			r.SignalLow, r.SignalHigh = 100-float64(i), (100-float64(i))/1.4 // 0.4 m apart over 1 m
			l.Centerline.Parts[0].Vertices[i].DepthM = c.scale
			if i >= 10 && i < 10+c.slips {
				r.DepthM = 0.25
				if c.top > 0 {
					r.SignalLow, r.SignalHigh = 100, 100/1.4
				}
				l.Centerline.Parts[0].Vertices[i].DepthM = 0.25
			}
		}
		for i := range c.top {
			l.Readings[i].SignalLow, l.Readings[i].SignalHigh = 100, 100/1.4
		}
		var got []Breach
		for _, b := range Check(l, rule(), Deep) {
			if _, ok := b.Remark.(remark.AgainstAntennas); ok {
				got = append(got, b)
			}
		}
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", c.name, got)
		}
		if len(got) == 1 && (got[0].DepthBandM < 0.7 || got[0].DepthBandM > 0.8 || got[0].Remark.(remark.AgainstAntennas).Readings != c.slips) {
			t.Errorf("%s: %+v", c.name, got[0])
		}
	}
}

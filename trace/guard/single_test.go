package guard

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A single reading that was set aside is told between the readings before and after it;
// the band holds one that is near, and a far one is told alone. Two that stand beside
// each other are told together.
func TestSingleReadingsHaveAPlace(t *testing.T) {
	for _, c := range []struct {
		name   string
		off    map[int]float64 // by the number of the reading
		places [][2]float64
		band   float64
	}{
		{"one 1.5 m off", map[int]float64{10: 1.5}, [][2]float64{{18, 22}}, 1.5},
		{"one 8 m off", map[int]float64{10: 8}, [][2]float64{{18, 22}}, 0},
		{"two apart", map[int]float64{4: 2, 15: -1}, [][2]float64{{6, 10}, {28, 32}}, 1},
		{"two together", map[int]float64{10: 2, 11: -1.2}, [][2]float64{{18, 24}}, 2},
	} {
		walk := along(21, level)
		l := line(0.05, walk...)
		for i, y := range c.off {
			walk[i].Y = y
		}
		read(l, walk...)
		for i := range c.off {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: math.Abs(walk[i].Y)})
		}
		Apply(l, rule())
		var got [][2]float64
		for _, f := range l.Findings {
			d, is := f.(finding.Doubt)
			if is && trace.Known(d.FromM) {
				got = append(got, [2]float64{d.FromM, d.ToM})
			}
		}
		if len(got) != len(c.places) {
			t.Errorf("%s: told at %v, not at %v", c.name, got, c.places)
			continue
		}
		v := newView(l, rule())
		for k, p := range c.places {
			if math.Abs(got[k][0]-p[0]) > 0.01 || math.Abs(got[k][1]-p[1]) > 0.01 {
				t.Errorf("%s: told at %v, not at %v", c.name, got[k], p)
			}
			if band := v.bandAt(0, (p[0]+p[1])/2); band < c.band || c.band == 0 && band > 0.06 {
				t.Errorf("%s: a band of %.2f m at %v", c.name, band, p)
			}
		}
	}
}

// looseRule is that of positions of 0.8 m by their fix alone.
func looseRule() Rule {
	return Rule{HalfWidthM: 0.5, OwnM: func(*trace.Reading) float64 { return 0.8 }}
}

// Readings of a poor fix that were set aside are told where they lie outside the zone: one
// by itself where its own error does not reach it, and neighbours to one side whatever it is.
// One whose error reaches, and neighbours to both sides, are as much by chance.
func TestSetAsideByAPoorFixIsTold(t *testing.T) {
	for _, c := range []struct {
		name  string
		off   map[int]float64 // by the number of the reading
		gaps  int
		alone int // told by themselves
	}{
		{"a short branch", map[int]float64{10: 2.4, 11: 4.4}, 1, 0},
		{"a shorter one", map[int]float64{10: 1.9, 11: 2.1}, 0, 0},
		{"to both sides", map[int]float64{10: 1.9, 11: -2}, 0, 0},
		{"one that may be in the zone", map[int]float64{10: 2}, 0, 0},
		{"one that is not", map[int]float64{10: 3.1}, 0, 1},
		{"six short branches", map[int]float64{5: 1.8, 6: 1.8, 15: 2, 16: 2, 25: -2, 26: -2, 35: 2, 36: 2, 45: 2, 46: 2, 55: 1.8, 56: 1.9}, 0, 12},
		{"one of a branch was used", map[int]float64{10: 2.8, 12: 4.3}, 0, 2},
	} {
		walk := along(61, level)
		l := line(1, walk...)
		for i, y := range c.off {
			walk[i].Y = y
		}
		read(l, walk...)
		for i := range c.off {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: math.Abs(walk[i].Y)})
		}
		gaps, alone, blocks := 0, 0, 0
		for _, b := range Check(l, looseRule()) {
			switch r := b.Remark.(type) {
			case remark.Block:
				blocks++
				gaps += int(b2f(!b.Covered))
			case remark.SingleReadings:
				alone += r.N
			}
		}
		if gaps != c.gaps || alone != c.alone || c.name == "a shorter one" && blocks != 1 {
			t.Errorf("%s: %d gaps, %d blocks, %d single readings", c.name, gaps, blocks, alone)
		}
	}
}

// More than one in twenty that was set aside farther off than the zone is wide and than
// their neighbours scatter is told of the whole line, whatever their fix may be off.
func TestManySetAsideByAPoorFixAreTold(t *testing.T) {
	for offM, want := range map[float64]bool{0.3: false, 1.4: true} {
		walk := along(60, level)
		l := line(0.8, walk...)
		for i := 5; i < 60; i += 12 {
			walk[i].Y = offM
		}
		read(l, walk...)
		for i := 5; i < 60; i += 12 {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: offM})
		}
		told := slices.ContainsFunc(Check(l, looseRule()), func(b Breach) bool { _, is := b.Remark.(remark.ManyUnused); return is })
		if told != want {
			t.Errorf("five of 60 %.1f m off: told %v", offM, told)
		}
	}
}

// A gap beside the line says where along it the way to its places leaves it.
func TestAGapBesideTheLineHasAPlace(t *testing.T) {
	walk := along(21, level)
	l := read(line(0.05, walk[:19]...), walk[:19]...)
	read(l, geo.XY{X: 37.5, Y: 2}, geo.XY{X: 38, Y: 4})
	for _, i := range []int{19, 20} {
		l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 2})
	}
	Apply(l, rule())
	for _, f := range l.Findings {
		if gap, is := f.(finding.Gap); is && gap.Along != nil && gap.Along[0] < 36 && gap.Along[0] > 35 && gap.Along[1] == 36 {
			return
		}
	}
	t.Errorf("no gap at the end of the line: %+v", l.Findings)
}

// A walk that leaves the line shortly before its end and does not come back is told as far
// past that end as it leads.
func TestAGapLeavesBeforeTheEndAndGoesOn(t *testing.T) {
	walk := along(21, level)
	away := []geo.XY{{X: 39, Y: 8}, {X: 44, Y: 9}, {X: 50, Y: 9}}
	l := read(line(0.05, walk...), append(walk, away...)...)
	for i := range away {
		l.Readings[21+i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 8})
	}
	Apply(l, rule())
	for _, f := range l.Findings {
		if gap, is := f.(finding.Gap); is && gap.Along != nil {
			if from, to := gap.Place(); math.Abs(from-39) > 0.1 || math.Abs(to-(40+math.Hypot(10, 9))) > 0.1 {
				t.Errorf("%.1f to %.1f m, want 39.0 to 53.5", from, to)
			}
			return
		}
	}
	t.Errorf("no gap: %+v", l.Findings)
}

// Readings past an end that no line is drawn through are told past it, before the start
// where they lie there.
func TestAGapPastAnEndReachesToIt(t *testing.T) {
	walk := along(21, level)
	for _, start := range []bool{true, false} {
		drawn, past, want := walk[:17], []int{17, 18, 19, 20}, 8.0
		if start {
			drawn, past, want = walk[4:], []int{0, 1, 2, 3}, -8.0
		}
		l := read(line(0.05, drawn...), walk...)
		for _, i := range past {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 2})
		}
		Apply(l, rule())
		found := false
		for _, f := range l.Findings {
			if gap, is := f.(finding.Gap); is && math.Abs(gap.PastM-want) < 0.01 {
				from, to := gap.Place()
				found = to-from > 8 && (start && from < -7.9 || !start && to > 39.9)
			}
		}
		if !found {
			t.Errorf("before the start %v: %+v", start, l.Findings)
		}
	}
}

package guard

import (
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// TestBesideCourse: ten positions that leapt aside together, by more than any step to another
// line is wide, and were taken for the line: the band holds the straight way past them, and
// the map tells of it. Past what was set aside nothing is drawn wrong, and a line that winds
// goes out and back all along.
func TestBesideCourse(t *testing.T) {
	burst := func(x float64) float64 {
		if x >= 20 && x < 40 {
			return 12
		}
		return 0
	}
	winds := func(x float64) float64 { // to alternate sides, by as much as the burst
		return []float64{0, 0, 0, 12, 12, 12}[int(x/2)%6]
	}
	aside := func(at []geo.XY, drawn []geo.XY) (n int, bandM float64) {
		l := read(line(0.1, drawn...), at...)
		Apply(l, rule())
		for _, f := range l.Findings {
			if d, ok := f.(finding.Doubt); ok {
				if a, ok := d.Why.(remark.AsideOfTheWalk); ok && a.Readings > 2 && d.FromM >= 18 && d.ToM <= 66 {
					n++
				}
			}
		}
		for _, x := range l.Centerline.Parts[0].Vertices {
			if x.Pos.Y > 11 && x.Horizontal95M > bandM {
				bandM = x.Horizontal95M
			}
		}
		return n, bandM
	}
	walk := along(31, burst)
	if n, bandM := aside(walk, walk); n != 1 || bandM < 12 {
		t.Errorf("ten that leapt: %d told, band %.2f m", n, bandM)
	}
	if n, _ := aside(walk, along(31, level)); n != 0 {
		t.Errorf("the line is drawn straight past them: %d told", n)
	}
	walk = along(31, winds)
	if n, _ := aside(walk, walk); n != 0 {
		t.Errorf("out and back all along: %d told", n)
	}
}

// TestBlockAtAnEnd: where readings at the end of a walk were set aside, the zone holds the
// straight way on to the last of them too: a fix that jumped is often right again there.
func TestBlockAtAnEnd(t *testing.T) {
	l := line(0.1, geo.XY{}, geo.XY{X: 40})
	read(l, append(along(21, level), geo.XY{X: 42, Y: 7}, geo.XY{X: 44, Y: 7}, geo.XY{X: 46, Y: 7}, geo.XY{X: 90})...)
	for i := 21; i < len(l.Readings); i++ {
		l.Readings[i].Status, l.Readings[i].Reason = trace.StatusSetAside, remark.Outlier{}
	}
	Apply(l, rule())
	for _, f := range l.Findings {
		if g, ok := f.(finding.Gap); ok {
			if len(g.Courses) != 2 || g.Courses[1].Path[0] != (geo.XY{X: 40}) || g.Courses[1].Path[1] != (geo.XY{X: 90}) {
				t.Errorf("courses %+v, want the places and the way straight on", g.Courses)
			}
			return
		}
	}
	t.Errorf("no gap: %+v", l.Findings)
}

// TestBlockOverACorner: where a block that was set aside leaves out the corner of a line, over
// more than a stride may be long, the zone holds the way over the corner in which the
// legs meet.
func TestBlockOverACorner(t *testing.T) {
	l := line(0.1, geo.XY{}, geo.XY{X: 40})
	back := line(0.1, geo.XY{X: 80, Y: 50}, geo.XY{X: 80, Y: 90}).Centerline.Parts[0]
	for i := range back.Vertices {
		back.Vertices[i].StationM += 120
	}
	l.Centerline.Parts = append(l.Centerline.Parts, back)
	read(l, along(21, level)...)
	for k := range 9 { // the burst, 20 m beside
		at := geo.XY{X: 50 + 10*float64(k), Y: -20}
		if k > 3 {
			at = geo.XY{X: 100, Y: -30 + 10*float64(k)}
		}
		read(l, at)
		l.Readings[len(l.Readings)-1].SetAside(remark.Outlier{})
	}
	for k := range 21 {
		read(l, geo.XY{X: 80, Y: 50 + 2*float64(k)})
	}
	start := l.Readings[0].Time
	for i := range l.Readings {
		l.Readings[i].Row, l.Readings[i].Time = int32(i+2), start.Add(time.Duration(i)*8*time.Second)
	}
	Apply(l, rule())
	for _, f := range l.Findings {
		if g, ok := f.(finding.Gap); ok && len(g.Courses) == 2 && len(g.Courses[1].Path) == 3 && g.Courses[1].Path[1].Dist(geo.XY{X: 80}) < 0.01 {
			return
		}
	}
	t.Errorf("no way over the corner: %+v", l.Findings)
}

// TestNoWayPastALeap: between places of a long block that lie farther apart than anybody
// reads along one line the walk went elsewhere, and no way leads past them.
func TestNoWayPastALeap(t *testing.T) {
	ways := func(leapM float64) int {
		l := line(0.1, geo.XY{}, geo.XY{X: 40})
		on := line(0.1, geo.XY{X: 120}, geo.XY{X: 160}).Centerline.Parts[0]
		for i := range on.Vertices {
			on.Vertices[i].StationM += 120
		}
		l.Centerline.Parts = append(l.Centerline.Parts, on)
		read(l, along(21, level)...)
		for k := range 8 {
			at := geo.XY{X: 45 + 10*float64(k), Y: -20}
			if k == 4 {
				at.Y -= leapM
			}
			read(l, at)
			l.Readings[len(l.Readings)-1].SetAside(remark.Outlier{})
		}
		for k := range 21 {
			read(l, geo.XY{X: 120 + 2*float64(k)})
		}
		start := l.Readings[0].Time
		for i := range l.Readings {
			l.Readings[i].Row, l.Readings[i].Time = int32(i+2), start.Add(time.Duration(i)*8*time.Second)
		}
		Apply(l, rule())
		for _, f := range l.Findings {
			if g, ok := f.(finding.Gap); ok {
				return len(g.Courses)
			}
		}
		return 0
	}
	if n := ways(0); n != 2 {
		t.Errorf("a block read place by place: %d courses, want its places and the way past them", n)
	}
	if n := ways(100); n > 1 {
		t.Errorf("a leap of 100 m within it: %d courses, want none past it", n)
	}
}

package guard

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A stride of the walk that no line is drawn along is a gap: of a ring drawn open between
// two readings. A ring that is open where its walk is, and a line that turns back beside
// itself, have none.
func TestStridesWithoutALine(t *testing.T) {
	var round []geo.XY
	for a := 0.0; a < 2*math.Pi-0.2; a += 0.25 {
		round = append(round, geo.XY{X: 10 * math.Cos(a), Y: 10 * math.Sin(a)})
	}
	n := len(round)
	back := []geo.XY{{X: 0}, {X: 2}, {X: 4}, {X: 6}, {X: 8}, {X: 8.5, Y: 2}, {X: 6.5, Y: 2}, {X: 4.5, Y: 2}, {X: 2.5, Y: 2}, {X: 0.5, Y: 2}}
	var over []geo.XY
	for a := 0.0; a <= 6.5; a += 0.25 {
		over = append(over, geo.XY{X: 10 * math.Cos(a), Y: 10 * math.Sin(a)})
	}
	for _, c := range []struct {
		name        string
		drawn, walk []geo.XY
		want        int
		lost        int // readings at the start that were set aside
	}{
		{"open amid the walk", append(append([]geo.XY{}, round[9:]...), round[:9]...), round, 1, 0},
		{"open where the walk is", round, round, 0, 0},
		{"turned back", back, back, 0, 0},
		{"closed", append(append([]geo.XY{}, round...), round[0]), append(append([]geo.XY{}, round...), round[0]), 0, 0},
		{"not closed where the walk is", round[:n:n], append(append([]geo.XY{}, round...), round[0].Add(geo.XY{X: 0.02})), 1, 0},
		{"its first readings lost where its end holds them", over[2:], over, 1, 2},
	} {
		l := read(line(0.05, c.drawn...), c.walk...)
		for i := range c.lost {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromOrder})
		}
		Apply(l, rule())
		n := 0
		for _, f := range l.Findings {
			if gap, is := f.(finding.Gap); is && gap.Along != nil {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%s: %d gaps, not %d: %+v", c.name, n, c.want, l.Findings)
		}
	}
}

// TestStrideTime: the usual time of a stride is none where the rows are no walk, and is not
// less than none where few of them have times.
func TestStrideTime(t *testing.T) {
	at := along(31, level)
	for _, shuffled := range []bool{false, true} {
		l := read(line(0.05, at...), at...)
		if got := newView(l, rule()).strideTime; got <= 0 {
			t.Errorf("%v for a walk", got)
		}
		for i := range l.Readings {
			if r := &l.Readings[i]; i%3 == 0 {
				r.Time = r.Time.Add(-time.Duration(i) * time.Hour)
			} else {
				r.Time = time.Time{}
			}
		}
		if shuffled {
			rand.New(rand.NewPCG(6, 1)).Shuffle(len(l.Readings), func(i, k int) {
				l.Readings[i].Pos, l.Readings[k].Pos = l.Readings[k].Pos, l.Readings[i].Pos
			})
		}
		if v := newView(l, rule()); v.inOrder == shuffled || v.strideTime != 0 {
			t.Errorf("shuffled %v: a walk %v, whose strides take %v", shuffled, v.inOrder, v.strideTime)
		}
	}
}

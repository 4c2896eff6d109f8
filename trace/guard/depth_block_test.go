package guard

import (
	"math"
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Depths that step to another level and back are in the band on both levels over all of the
// stretch, and those that do not come back on the shorter side.
func TestDepthsThatStepAreTold(t *testing.T) {
	for _, of := range [][2]int{{8, 13}, {12, 20}} {
		first, last := of[0], of[1]-1
		l := read(line(0.05, along(20, level)...), along(20, level)...)
		for i := first; i <= last; i++ {
			l.Readings[i].DepthM = 1.6
		}
		var told []Breach
		for _, b := range Check(l, rule(), Deep) {
			switch b.Remark.(type) {
			case remark.DepthBlock, remark.DepthLevel:
				told = append(told, b)
			}
		}
		if len(told) != 1 || told[0].DepthBandM < 0.6 || told[0].FromM > 2*float64(first) || told[0].ToM < 2*float64(last) {
			t.Errorf("readings %d to %d are 0.6 m deeper: %+v", first, last, told)
		}
	}
}

// A step between long even levels is told, but not at the end of a stretch on which another
// line's signal is suspected: that is what made it. A step that would be told by itself is told
// there as well.
func TestStepOfDepthsBesideASuspectedStretch(t *testing.T) {
	for _, c := range []struct {
		depthM          float64
		suspected, want bool
	}{{1.23, false, true}, {1.23, true, false}, {1.6, true, true}} {
		l := read(line(0.05, along(20, level)...), along(20, level)...)
		for i := 10; i < 20; i++ {
			l.Readings[i].DepthM = c.depthM
		}
		if c.suspected {
			l.Findings = append(l.Findings, finding.BleedOver{Grade: trace.GradeSuspect, FromM: 19, ToM: 38})
		}
		told := slices.ContainsFunc(Check(l, rule(), Deep), func(b Breach) bool { _, is := b.Remark.(remark.DepthLevel); return is })
		if told != c.want {
			t.Errorf("%.2f m, suspected there %v: told %v", c.depthM, c.suspected, told)
		}
	}
}

// Depths that go over to another level by a factor that no line has, with two between that were
// dropped and lie beyond either, are told on both sides, whatever the signal shows: near another
// line the field of both is read there, and over either it is as over one line.
func TestDepthsThatGoOverForGood(t *testing.T) {
	for name, c := range map[string]struct {
		to      float64
		between [2]float64
		told    bool
	}{
		"to a third":                          {0.35, [2]float64{1.5, 1.9}, true},
		"to two thirds":                       {0.67, [2]float64{1.5, 1.9}, false},
		"to a third, down on a ramp":          {0.35, [2]float64{0.75, 0.55}, false},
		"to three times, and gently up again": {3, [2]float64{0.9, 0.8}, false},
	} {
		l := read(line(0.05, along(30, level)...), along(30, level)...)
		for i := range l.Readings {
			r := &l.Readings[i]
			switch {
			case i == 5 || i == 6:
				r.DepthM, r.DepthDropped = c.between[i-5], true
			case i > 6:
				r.DepthM = c.to
			}
			if c.to > 1 && i > 14 {
				r.DepthM = math.Max(1, c.to-0.2*float64(i-14))
			}
			r.Signal = 100 / r.DepthM
		}
		told := false
		for _, b := range Check(l, rule(), Deep) {
			if _, is := b.Remark.(remark.DepthLevel); is {
				told = true
				if b.FromM > 0 || b.ToM < 58 || b.DepthBandM < 1-c.to {
					t.Errorf("%s: %+v", name, b)
				}
			}
		}
		if told != c.told {
			t.Errorf("%s: told %t", name, told)
		}
	}
}

// Depths that were dropped one after the other are told, though they do not agree; two are not.
func TestDepthsDroppedInARow(t *testing.T) {
	for n, want := range map[int]int{2: 0, 3: 1} {
		l := read(line(0.05, along(20, level)...), along(20, level)...)
		for i := range n {
			r := &l.Readings[9+i]
			r.DepthM, r.DepthDropped = []float64{1.9, 5.1, 2.9}[i], true
		}
		got := 0
		for _, b := range Check(l, rule(), Deep) {
			if r, is := b.Remark.(remark.DepthsDroppedInARow); is {
				got++
				if r.N != n || b.DepthBandM < 4 {
					t.Errorf("%d dropped: %+v", n, b)
				}
			}
		}
		if got != want {
			t.Errorf("%d dropped in a row: %d times told, want %d", n, got, want)
		}
	}
}

// Two neighbours set aside inside the zone, to one side and each beyond its own error, are no
// slips of two positions.
func TestPairAsideInTheZone(t *testing.T) {
	for _, c := range []struct {
		y    [2]float64
		told bool
	}{{[2]float64{0.34, 0.21}, true}, {[2]float64{0.34, -0.21}, false}, {[2]float64{0.34, 0.05}, false}} {
		l := read(line(0.05, along(80, level)...), along(80, level)...)
		for i, y := range c.y {
			r := &l.Readings[40+i]
			r.Pos.Y, r.Status, r.Reason = y, trace.StatusSetAside, remark.Outlier{}
		}
		told := false
		for _, b := range Check(l, rule(), Uncovered) {
			_, is := b.Remark.(remark.Block)
			told = told || is
		}
		if told != c.told {
			t.Errorf("%v: told %v", c.y, told)
		}
	}
}

// A single reading inside the zone that its own error does not explain is a short way aside as
// well as a slip: the band holds it between its neighbours, and nothing is told.
func TestSingleAsideInTheZone(t *testing.T) {
	l := read(line(0.05, along(40, level)...), along(40, level)...)
	r := &l.Readings[20]
	r.Pos.Y, r.Status, r.Reason = 0.4, trace.StatusSetAside, remark.Outlier{}
	held := false
	for _, b := range Check(l, rule()) {
		if b.Kind == Between && b.BandM >= 0.4 && b.FromM <= 38 && b.ToM >= 42 && b.ToM-b.FromM < 5 {
			held = true
		}
		if b.Kind == Uncovered {
			t.Errorf("told: %+v", b)
		}
	}
	if !held {
		t.Error("the band does not hold it")
	}
}

package bleed_test

import (
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// ease runs from 0 to 1 over a length of 10 m.
func ease(x float64) float64 {
	x = max(0, min(1, x/10))
	return x * x * (3 - 2*x)
}

// meeting is a line along X that meets a neighbour between 40 m and 70 m, where
// the neighbour crosses it twice: the marks keep to the line, or follow the
// neighbour. Only positions and depth are read.
func meeting(follows bool, of func(x float64) float64) (bleed.Line, bleed.Path) {
	nan := math.NaN()
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	var line bleed.Line
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	b := bleed.Path{Name: "B"}
	station := 0.0
	for i := range 56 {
		x := 2 * float64(i)
		y := 0.02 * pattern[i%11]
		if follows && x >= 40 && x <= 70 {
			y += of(x)
		}
		p := geo.XY{X: x, Y: y}
		if i > 0 {
			station += p.Dist(line.Points[i-1])
		}
		line.Points = append(line.Points, p)
		line.DepthM, line.SigmaM = append(line.DepthM, 1), append(line.SigmaM, 0.03)
		line.Readings = append(line.Readings, trace.Reading{Pos: p, StationM: station, HAccM: 0.02, Fix: 4,
			DepthM: 1 + 0.02*pattern[(i+3)%11], CurrentMA: nan, Signal: nan, SignalLow: nan, SignalHigh: nan, NullOffsetM: nan})
		b.Points = append(b.Points, geo.XY{X: x, Y: of(x)})
		b.DepthM, b.SigmaM = append(b.DepthM, 1), append(b.SigmaM, 0.03)
	}
	return line, b
}

// across lies 2 m to the right of the line, then to its left, then to its right
// again.
func across(x float64) float64 {
	switch {
	case x < 40:
		return -2 * ease(40-x)
	case x < 55:
		return 2 * ease(x-40)
	case x < 70:
		return 2 * ease(70-x)
	}
	return -2 * ease(x-70)
}

func jumpsOf(rep bleed.Report) (out []bleed.Stretch) {
	for _, s := range rep.Stretches {
		if s.Jump {
			out = append(out, s)
		}
	}
	return out
}

// The neighbour's depth is the line's, so that neither depth nor current says
// anything: the places alone do.
func TestJumpByPositionAlone(t *testing.T) {
	line, b := meeting(true, across)
	found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b})))
	if len(found) != 1 || found[0].Grade == trace.GradeWatch {
		t.Fatalf("found %+v, want one jump at suspect or above", found)
	}
	s := found[0]
	if math.Abs(s.FromM-40) > 6 || math.Abs(s.ToM-72) > 6 || s.Side != "right" {
		t.Errorf("left at %.0f m, back at %.0f m, own course to the %s", s.FromM, s.ToM, s.Side)
	}
	if len(s.Evidence) < 3 || !strings.Contains(words.Remark(geo.Metric, s.Evidence[0]), "come back") {
		t.Errorf("it isn't said what happened and what to do: %q", s.Evidence)
	}
	// The line's own course, Y = 0, lies within what is said of it.
	for x := 42.0; x <= 68; x += 2 {
		in := false
		for _, o := range s.Own {
			for i, p := range o.Path {
				in = in || p.Dist(geo.XY{X: x}) < o.Half95M[i]+1.1 && math.Abs(p.Y) < o.Half95M[i]+0.05
			}
		}
		if !in {
			t.Errorf("own course not held at %g m", x)
		}
	}
}

// A line that keeps to its course where another crosses it has not jumped, nor
// has one that bends with its neighbour.
func TestNoJump(t *testing.T) {
	line, b := meeting(false, across)
	if found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))); len(found) > 0 {
		t.Errorf("a line that keeps to its course: %+v", found)
	}
	sweep := func(x float64) float64 { return 3 * ease(x-40) }
	line, b = meeting(true, sweep)
	for i := range b.Points {
		x := b.Points[i].X
		y := sweep(x)
		if x > 70 {
			line.Points[i].Y += y
			line.Readings[i].Pos.Y += y
		}
		b.Points[i].Y, b.SigmaM[i] = y+0.25, 0.3 // a record, a foot off
	}
	b.Reference = true
	if found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))); len(found) > 0 {
		t.Errorf("a line that bends with its neighbour: %+v", found)
	}
}

// A record of the line's own kind of utility may be an old drawing of the line
// itself: what lies on it is suspected less.
func TestJumpOntoARecordOfItsOwnKind(t *testing.T) {
	score := func(kind string) float64 {
		line, b := meeting(true, across)
		line.Utility, b.Utility, b.Reference = trace.Water, trace.Utility(kind), true
		found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b})))
		if len(found) != 1 {
			t.Fatalf("%s: %d jumps", kind, len(found))
		}
		return found[0].Score
	}
	if own, other := score("water"), score("gas"); own >= other {
		t.Errorf("score %.2f on a record of its own kind, %.2f on another's", own, other)
	}
}

// Where the neighbour's own trace ends, nobody knows where it runs on: that it
// came from elsewhere is enough.
func TestJumpOntoATraceThatEnds(t *testing.T) {
	line, b := meeting(true, across)
	b.Points, b.DepthM, b.SigmaM = b.Points[:36], b.DepthM[:36], b.SigmaM[:36] // to 70 m
	if found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))); len(found) != 1 || found[0].Grade == trace.GradeWatch {
		t.Errorf("found %+v, want one jump at suspect or above", found)
	}
}

// With positions so loose that the neighbour is within their error all along, a
// closer look still sees where the marks lie on it.
func TestPossibleJumpUnderLoosePositions(t *testing.T) {
	line, b := meeting(true, across)
	for i := range line.Readings {
		line.Readings[i].HAccM, line.Readings[i].Fix = 0.68, 2
	}
	if found := jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))); len(found) == 0 || len(found[0].Own) == 0 {
		t.Errorf("found %+v, want a possible jump with the line's own course", found)
	}
}

// Of what is only possible no displacement is told.
func TestPossibleJumpTellsNoDisplacement(t *testing.T) {
	line, b := meeting(true, across)
	for i := range line.Readings {
		line.Readings[i].HAccM, line.Readings[i].Fix = 0.68, 2
	}
	for _, s := range jumpsOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b}))) {
		if s.Grade == trace.GradeWatch && (!math.IsNaN(s.ShiftM) || s.Side != "") {
			t.Errorf("%.2f m to the %s", s.ShiftM, s.Side)
		}
	}
}

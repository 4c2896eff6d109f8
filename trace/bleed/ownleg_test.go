package bleed

import (
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// A stretch on signal of a neighbour that nobody drew beside the line's own other leg,
// 1 m away, is a watch that says so; one 8 m from any other part of the line stays.
func TestOwnOtherLegIsNoUnmappedNeighbour(t *testing.T) {
	for _, c := range []struct {
		apartM float64
		grade  trace.Grade
	}{{1, trace.GradeWatch}, {8, trace.GradeStrong}} {
		m := unmapped{columns: &columns{}}
		for x := 0.0; x <= 60; x += 2 {
			m.line.Points = append(m.line.Points, geo.XY{X: x})
			m.rd, m.depth = append(m.rd, reading{Reading: trace.Reading{StationM: x, NullOffsetM: math.NaN()}}), append(m.depth, 1)
		}
		m.line.Points = append(m.line.Points, geo.XY{X: 60, Y: c.apartM}, geo.XY{Y: c.apartM}) // a straight has no vertices within
		found := []Stretch{{FromM: 10, ToM: 40, Grade: trace.GradeStrong, Score: 0.9, Neighbor: Unknown, WidenLeftM: 0.4, WidenRightM: 0.2},
			{FromM: 10, ToM: 40, Grade: trace.GradeStrong, Score: 0.9, Neighbor: "B", ShiftM: math.NaN()}}
		newUnmapped(m.line, m.columns).otherLegs(found, nil)
		if found[0].Grade != c.grade || found[0].WidenLeftM != 0.4 {
			t.Errorf("legs %.0f m apart: %s, caution %.1f m", c.apartM, found[0].Grade, found[0].WidenLeftM)
		}
		if told := strings.Contains(strings.Join(words.Remarks(geo.Metric, found[0].Evidence), " "), "leg of the same line"); told != (c.grade == trace.GradeWatch) {
			t.Errorf("legs %.0f m apart: told %v", c.apartM, told)
		}
		if found[1].Grade != trace.GradeStrong {
			t.Errorf("legs %.0f m apart: a known neighbour is taken for the line's own leg", c.apartM)
		}
	}
}

// A main with four times the current of its branch, 1 m deep, pulls the null of the
// branch by h²/s · 4: by 0.8 m at 5 m. What it may do is no neighbour that nobody drew;
// a null of 3 m, or a main that carries no more than the branch, says nothing of it.
func TestMainIsNoUnmappedNeighbourOfItsBranch(t *testing.T) {
	for _, c := range []struct {
		nullM, mainMA float64
		main          bool
		grade         trace.Grade
	}{
		{0.8, 20, true, trace.GradeWatch},
		{0.8, 20, false, trace.GradeStrong},
		{3, 20, true, trace.GradeStrong},
		{0.8, 5, true, trace.GradeStrong},
	} {
		m := unmapped{columns: &columns{}}
		for y := 0.0; y <= 10; y++ {
			m.line.Points = append(m.line.Points, geo.XY{Y: y})
			m.rd, m.depth = append(m.rd, reading{Reading: trace.Reading{StationM: y, NullOffsetM: c.nullM, CurrentMA: 5}}), append(m.depth, 1)
		}
		if c.main {
			main := Way{Points: []geo.XY{{X: -50}, {X: 50}}}
			for s := 0.0; s <= 100; s += 5 {
				r := trace.NewReading()
				r.StationM, r.CurrentMA, r.Status = s, c.mainMA, trace.StatusUsed
				main.Readings = append(main.Readings, r)
			}
			m.line.Ways = []Way{main}
		}
		found := []Stretch{{FromM: 2, ToM: 10, Grade: trace.GradeStrong, Score: 0.9, Neighbor: Unknown}}
		newUnmapped(m.line, m.columns).otherLegs(found, nil)
		if found[0].Grade != c.grade {
			t.Errorf("%+v: %s", c, found[0].Grade)
		}
	}
}

// What was read all within two depths of a bend is a watch that says so; what goes on along
// the straight beyond it stays suspected, and so does what is longer than a bend reaches.
func TestWhatABendDoesIsNoNeighbours(t *testing.T) {
	for _, c := range []struct {
		fromM, toM float64
		turned     float64 // metres about station 20 where the line turns
		grade      trace.Grade
	}{{18, 22, 2, trace.GradeWatch}, {18, 30, 2, trace.GradeStrong}, {5, 35, 20, trace.GradeStrong}} {
		m := unmapped{columns: &columns{}}
		for x := 0.0; x <= 60; x++ {
			turn := 0.0
			if math.Abs(x-20) <= c.turned {
				turn = math.Pi / 2
			}
			m.rd, m.depth = append(m.rd, reading{Reading: trace.Reading{StationM: x, NullOffsetM: math.NaN()}}), append(m.depth, 1)
			m.bend.turn = append(m.bend.turn, turn)
		}
		m.line.Points = []geo.XY{{}, {X: 20}, {X: 20, Y: 40}}
		found := []Stretch{{FromM: c.fromM, ToM: c.toM, Grade: trace.GradeStrong, Score: 0.9, Neighbor: Unknown, WidenLeftM: 0.4, WidenRightM: 0.2}}
		newUnmapped(m.line, m.columns).otherLegs(found, nil)
		if found[0].Grade != c.grade || found[0].WidenLeftM != 0.4 {
			t.Errorf("%+v: %s, caution %.1f m", c, found[0].Grade, found[0].WidenLeftM)
		}
		if told := strings.Contains(strings.Join(words.Remarks(geo.Metric, found[0].Evidence), " "), "own bend"); told != (c.grade == trace.GradeWatch) {
			t.Errorf("%+v: told %v", c, told)
		}
	}
}

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
			m.rd, m.depth = append(m.rd, reading{StationM: x, NullOffsetM: math.NaN()}), append(m.depth, 1)
		}
		for x := 60.0; x >= 0; x -= 2 {
			m.line.Points = append(m.line.Points, geo.XY{X: x, Y: c.apartM})
		}
		found := []Stretch{{FromM: 10, ToM: 40, Grade: trace.GradeStrong, Score: 0.9, Neighbor: Unknown, WidenLeftM: 0.4, WidenRightM: 0.2},
			{FromM: 10, ToM: 40, Grade: trace.GradeStrong, Score: 0.9, Neighbor: "B", ShiftM: math.NaN()}}
		m.otherLegs(found)
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

package bleed

import (
	"math"
	"testing"

	"loamline.example/trace"
)

// A stretch where nothing but depth is on another level, between 40 and 80 m, is a watch
// whatever the models make of it: a line that dives keeps its current. With another current,
// or a null that lies apart as beside a shallow neighbour, it stays suspected.
func TestDepthThatKeepsItsCurrentIsTheLinesOwn(t *testing.T) {
	for what, c := range map[string]struct {
		deeper, current, nullM float64
		grade                  trace.Grade
	}{
		"deeper":                            {1.6, 1.02, 0, trace.GradeWatch},
		"shallower":                         {0.6, 0.97, 0, trace.GradeWatch},
		"deeper, and more current":          {1.6, 1.9, 0, trace.GradeStrong},
		"shallower, and less current":       {0.6, 0.5, 0, trace.GradeStrong},
		"shallower, and the null far apart": {0.6, 1, 0.3, trace.GradeStrong},
	} {
		line := fewReadings(2, make([]float64, 60)...)
		first, last := 20, 40
		for i := range line.Readings {
			r := &line.Readings[i]
			r.DepthM, r.CurrentMA = 1+0.01*math.Sin(float64(7*i)), 50*(1+0.01*math.Sin(float64(5*i)))
			r.NullOffsetM = 0.02 * math.Sin(float64(3*i))
			if i >= first && i <= last {
				r.DepthM, r.CurrentMA, r.NullOffsetM = r.DepthM*c.deeper, r.CurrentMA*c.current, r.NullOffsetM+c.nullM
			}
		}
		line.rd = inStationOrder(line.Readings)
		f := oneWay{jointShift: jointShift{hi: len(line.rd), from: first, to: last, fromM: 39, toM: 81, logOdds: 10,
			depth: amount{math.Log(c.deeper), 0.02}, across: amount{0, 0.1}}}
		if s := newColumns(line).jointShiftStretch(f); s.Grade != c.grade {
			t.Errorf("%s: %s", what, s.Grade)
		}
	}
}

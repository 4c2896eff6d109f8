package bleed_test

import (
	"math"
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// A third more or less of the current that comes and goes is what a dive does; where the marks
// slide to a course beside with it and back, they are over another line, however gently they
// went. So does half of it over a few readings alone.
func TestCurrentAndMarksOnAnotherLevel(t *testing.T) {
	for _, c := range []struct {
		name         string
		asideM, left float64
		from, to     float64
		want         bool
	}{
		{"a third less beside the course", 1.2, 0.7, 36, 66, true},
		{"a third more beside the course", -1.2, 1.4, 36, 66, true},
		{"a third less on the course", 0, 0.7, 36, 66, false},
		{"a slide alone", 1.2, 1, 36, 66, false},
		{"half of it over five readings", 0, 0.5, 39, 49, true},
	} {
		line, _ := coupled(0, 0, 0)
		for i := range line.Readings {
			r := &line.Readings[i]
			r.NullOffsetM = trace.Unknown
			if r.StationM >= c.from && r.StationM <= c.to {
				r.CurrentMA *= c.left
			}
			r.Pos.Y += c.asideM * math.Max(0, math.Min(1, math.Min(r.StationM-c.from+4, c.to+4-r.StationM)/8))
			line.Points[i] = r.Pos
		}
		told := slices.ContainsFunc(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})).Stretches, func(s bleed.Stretch) bool {
			return s.Grade != trace.GradeWatch && s.FromM <= c.from+2 && s.ToM >= c.to-2
		})
		if told != c.want {
			t.Errorf("%s: told %v", c.name, told)
		}
	}
}

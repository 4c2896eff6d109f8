package locate

import (
	"testing"

	"loamline.example/trace"
)

// TestBlankDepths: a run of readings without a depth leaves the depth of the line open;
// blanks here and there do not.
func TestBlankDepths(t *testing.T) {
	for name, c := range map[string]struct {
		blank func(i int) bool
		open  bool
	}{
		"six in a row":   {func(i int) bool { return i >= 12 && i < 18 }, true},
		"two in a row":   {func(i int) bool { return i == 12 || i == 13 }, false},
		"every other":    {func(i int) bool { return i%2 == 1 }, false},
		"at the end":     {func(i int) bool { return i >= 24 }, true},
		"one, and again": {func(i int) bool { return i%9 == 4 }, false},
	} {
		walk := readAt(30, func(int) float64 { return 1 })
		line := &trace.Centerline{Parts: []trace.Part{{}}}
		for i := range walk.Readings {
			r := &walk.Readings[i]
			r.Status, r.StationM = trace.StatusUsed, 2*float64(i)
			if c.blank(i) {
				r.DepthM = trace.Unknown
			}
			line.Parts[0].Vertices = append(line.Parts[0].Vertices, trace.Vertex{Pos: r.Pos, StationM: r.StationM, DepthM: 1, Depth95M: 0.2})
		}
		blankDepths(walk, line)
		open := 0
		for i, v := range line.Parts[0].Vertices {
			if !trace.Known(v.DepthM) {
				if open++; !c.blank(i) {
					t.Errorf("%s: no depth at a reading with one", name)
				}
			}
		}
		if open > 0 != c.open || open > 0 != (len(line.Notes) > 0) {
			t.Errorf("%s: open at %d places with %d notes, want open %v", name, open, len(line.Notes), c.open)
		}
	}
}

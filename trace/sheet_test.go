package trace

import "testing"

// A line is drawn under its name or not at all.
func TestDrawn(t *testing.T) {
	s := &Sheet{Lines: []Line{{Setup: LineSetup{Name: "A"}}, {Setup: LineSetup{Name: "B"}, Centerline: &Centerline{}}}}
	if s.Drawn("A") != nil || s.Drawn("C") != nil || s.Drawn("B") != &s.Lines[1] {
		t.Error("a line without a centerline, or none, is found, or one that has one is not")
	}
}

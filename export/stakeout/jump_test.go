package stakeout

import (
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/trace/finding"
)

// Where a jump may have drawn one line onto the other, no point says that they cross.
func TestNoCrossingByAJump(t *testing.T) {
	s := sample.Sheet()
	for i := range s.Lines {
		for k, f := range s.Lines[i].Findings {
			if c, ok := f.(finding.Crossing); ok && !c.OnRecord() {
				c.ByJump = true
				s.Lines[i].Findings[k] = c
			}
		}
	}
	drawn := 0
	for _, p := range Points(s, 0) {
		if strings.Contains(p.Title(), "crosses ") {
			t.Errorf("%s: %q", p.ID, p.Title())
		}
		if strings.Contains(p.Title(), "drawn across ") {
			drawn++
		}
	}
	if drawn != 2 {
		t.Errorf("%d points where the lines are drawn across each other, want one on each", drawn)
	}
}

package measure

import (
	"context"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest"
)

// Of ten simulated walks out and back along a branch, few have a gap, and few are
// suspected of bleed-over: the way back is no gap, and less current along a branch no
// other conductor. Before that was known there were nine and four.
func TestBranchesAreNeitherGapsNorBleedOver(t *testing.T) {
	gaps, suspected := 0, 0
	for seed := uint64(630000); seed < 630010; seed++ {
		j, err := SecondWorld.Make("branch", seed)
		if err != nil {
			t.Fatal(err)
		}
		m, err := runMap(context.Background(), j, tracetest.Plain())
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range m.sheet.Lines[0].Findings {
			switch x := f.(type) {
			case finding.Gap:
				gaps++
			case finding.BleedOver:
				if x.Grade != trace.GradeWatch {
					suspected++
				}
			}
		}
	}
	t.Logf("%d gaps, %d suspected stretches", gaps, suspected)
	if gaps > 5 || suspected > 1 {
		t.Errorf("%d gaps, %d suspected stretches", gaps, suspected)
	}
}

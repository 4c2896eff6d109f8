package layer

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/trace"
)

// Every kind of finding has a layer that writes it.
func TestEveryKindOfFindingHasALayer(t *testing.T) {
	s := sample.Of("")
	s.Lines = []trace.Line{{Setup: trace.LineSetup{Name: "A"}}}
	for _, f := range trace.AllFindings() {
		s.Lines[0].Findings = []trace.Finding{f}
		n := 0
		for _, l := range All() {
			for feature := range l.Each(s) {
				n++
				if l.Role != f.Role() || feature.Line != "A" || feature.NoPlace {
					t.Errorf("%T is written as %s, %+v", f, l.Role, feature)
				}
			}
		}
		if n != 1 {
			t.Errorf("%T is written %d times: see export/layer/finding.go", f, n)
		}
	}
}

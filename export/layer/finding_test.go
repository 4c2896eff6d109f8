package layer

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Every kind of finding has a layer that writes it.
func TestEveryKindOfFindingHasALayer(t *testing.T) {
	s := sample.Of("")
	s.Lines = []trace.Line{{Setup: trace.LineSetup{Name: "A"}}}
	for _, f := range finding.All() {
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

// A kind without a layer of its own gets one from the kind alone: where it is, in
// stations, and its sentences. Those that have their own stand for it here.
func TestPlainLayerOfAnyKind(t *testing.T) {
	sheet := sample.EveryKind()
	for _, one := range finding.All() {
		l, n := plainLayer(one), 0
		for f := range l.Each(sheet) {
			n++
			if len(f.Values) != len(l.Columns) || len(f.Path) == 0 {
				t.Fatalf("%s: %d values for %d columns, at %v", l.Role, len(f.Values), len(l.Columns), f.Path)
			}
			for i, c := range l.Columns {
				if f.Values[i].Type != c.Type {
					t.Errorf("%s.%s: value of type %d, column of type %d", l.Role, c.Name, f.Values[i].Type, c.Type)
				}
			}
			if words := f.Values[len(f.Values)-1]; len(words.Texts) == 0 {
				t.Errorf("%s is told in no words", l.Role)
			}
		}
		if point := len(one.Where()) == 1; n == 0 || (l.Shape == ShapePoint) != point {
			t.Errorf("%s: %d features, of shape %v", l.Role, n, l.Shape)
		}
	}
}

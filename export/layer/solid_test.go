package layer

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// No line in space runs where its depth is not to be trusted, nor where an elevation is
// missing; all else is there.
func TestSolidRunsLeaveOutWhatIsNotToBeTrusted(t *testing.T) {
	s := sample.Sheet()
	l := &s.Lines[0]
	p := l.Centerline.Parts[0]
	for i := range p.Vertices {
		p.Vertices[i].ElevM = 200
	}
	along := words.NewAlong(l)
	runs := SolidRuns(along, p)
	if len(runs) < 2 {
		t.Fatalf("%d runs beside a suspected stretch", len(runs))
	}
	drawn := map[float64]bool{}
	for _, run := range runs {
		for _, v := range run {
			drawn[v.StationM] = true
		}
	}
	for _, v := range p.Vertices {
		if drawn[v.StationM] == along.At(v).Distrusted() {
			t.Errorf("at %g m: drawn %v", v.StationM, drawn[v.StationM])
		}
	}
	p.Vertices[len(p.Vertices)-2].ElevM = trace.Unknown
	if got := SolidRuns(along, p); got != nil {
		t.Errorf("%d runs without an elevation", len(got))
	}
}

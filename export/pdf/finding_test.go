package pdf

import (
	"testing"

	"loamline/export/internal/sample"
	"loamline/geo"
	"loamline/trace"
)

// The plan of a strip looks other with a finding than without, whatever kind it
// is. An exposure is drawn as the reading that it is; what the comparison found
// is told in the notes.
func TestPlanDrawsEveryKindOfFinding(t *testing.T) {
	with := func(fs ...trace.Finding) *trace.Sheet {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
		s.Lines[0].Setup.Name, s.Lines[0].Findings = "A", fs
		s.Records = []trace.Record{{Name: "city-water", Path: []geo.XY{{X: 0, Y: 1}, {X: 10, Y: 1}}}}
		return s
	}
	plain := render(t, pdfFile(t, pdfBytes(t, with(), full(""))), 2, 72)
	for _, f := range trace.AllFindings() {
		switch c := f.(type) {
		case trace.ExposedCheck:
			continue
		case trace.FieldCheck:
			c.Outcome = trace.OutcomeFailed
			f = c
		}
		drawn := render(t, pdfFile(t, pdfBytes(t, with(f), full(""))), 2, 72)
		if d := difference(drawn, plain); d < 0.001 {
			t.Errorf("%T changes %.4f %% of the sheet: see planKinds in export/pdf/plan_suspects.go", f, 100*d)
		}
	}
}

package pdf

import (
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/study"
)

// The plan of a strip looks other with a finding than without, whatever kind it
// is. An exposure is drawn as the reading that it is; what the comparison found
// is told in the notes.
func TestPlanDrawsEveryKindOfFinding(t *testing.T) {
	study.Only(t)
	with := func(fs ...trace.Finding) *trace.Sheet {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
		s.Lines[0].Setup.Name, s.Lines[0].Findings = "A", fs
		s.Records = []trace.Record{{Name: "city-water", Path: []geo.XY{{X: 0, Y: 1}, {X: 10, Y: 1}}}}
		return s
	}
	plain := render(t, pdfFile(t, pdfBytes(t, with(), full(""))), 2, 72)
	for _, f := range finding.All() {
		switch c := f.(type) {
		case finding.ExposedCheck:
			continue
		case finding.FieldCheck:
			c.Outcome = trace.OutcomeFailed
			f = c
		}
		drawn := render(t, pdfFile(t, pdfBytes(t, with(f), full(""))), 2, 72)
		if d := difference(drawn, plain); d < 0.001 {
			t.Errorf("%T changes %.4f %% of the sheet: see planKinds in export/pdf/plan_suspects.go", f, 100*d)
		}
	}
}

// The background of a layer is drawn, and a meeting with a known line is marked
// with what is on record of it: its depth, and that it was not located.
func TestPlanDrawsBackgroundAndKnownCrossings(t *testing.T) {
	sheet := func() *trace.Sheet {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
		s.Lines[0].Setup.Name = "A"
		return s
	}
	plain := render(t, pdfFile(t, pdfBytes(t, sheet(), full(""))), 2, 72)
	kerb := sheet()
	kerb.Background = []trace.Background{{Name: "kerb", Source: "kerbs.shp", Path: []geo.XY{{X: 0, Y: 1}, {X: 30, Y: 1}}}}
	if d := difference(render(t, pdfFile(t, pdfBytes(t, kerb, full(""))), 2, 72), plain); d < 0.0005 {
		t.Errorf("a kerb changes %.4f %% of the sheet", 100*d)
	}
	known := sheet()
	known.Lines[0].Findings = []trace.Finding{finding.Crossing{Line: "A", Other: "duct 7", Source: "ducts.gpkg", At: geo.XY{X: 10}, StationM: 10, OtherDepthM: 0.62, DepthDifferenceM: -0.4}}
	text := strings.Join(strings.Fields(poppler(t, "pdftotext", pdfFile(t, pdfBytes(t, known, full(""))), "-")), " ")
	for _, want := range []string{"A crosses duct 7", "duct 7: 0.62 m on record, not located", "duct 7, 0.62 m on record, not located"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

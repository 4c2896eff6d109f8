package pdf

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// No figure stands on paper as if nothing were the matter: neither in the table
// below the profile nor where lines meet. W-1 is strongly suspected from 12 to
// 21 m and to be watched from there to 30 m.
func TestPaperDoubtsTheDepthsOfSuspectedStretches(t *testing.T) {
	s := sample.Sheet()
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := &profileView{sheetSet: set, line: &set.lines[0]}
	for station, want := range map[float64]string{6: "1.07 m ± 0.12", 16: "do not trust", 25: "1.17 m ± 0.12 ?"} {
		if got := p.cells(station)[1]; got != want {
			t.Errorf("at %.0f m the table says %q, want %q", station, got, want)
		}
	}
	vs := s.Lines[0].Centerline.Parts[0].Vertices
	for station, want := range map[int]string{3: "read 1.07 m ± 0.12", 8: "DO NOT TRUST (perhaps 1.12 m ± 0.12)", 12: "read 1.16 m ± 0.12 (doubtful)"} {
		if got := set.depthNear("W-1", vs[station].Pos); got != want {
			t.Errorf("at vertex %d the label says %q, want %q", station, got, want)
		}
	}
	if got := set.depthNear("nobody", geo.XY{}); got != words.DepthLabel(geo.Metric, trace.Unknown, trace.Unknown) {
		t.Errorf("of an unknown line: %q", got)
	}
}

// The band across that a table has is the one that page, tables and waypoints tell of the
// place: where a part of it is the datum's, the parts add up as they are shown.
func TestPaperTellsTheSameBandAcross(t *testing.T) {
	s := sample.Sheet()
	l := &s.Lines[0]
	l.Caution.DoubtM = 1.4085
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	drawn := &set.lines[0]
	for _, v := range l.Centerline.Parts[0].Vertices {
		told := words.At(l, v)
		want := told.HoldingDoubt().PositionLabel(geo.Metric)
		if told.Doubt != nil && trace.Known(told.Across95M()) {
			want += doubtMark // also beside "do not trust", where no figure looks sure
		}
		if got := drawn.figures(geo.Metric, v.StationM)[2]; acrossWords(got) != want && (got != noFigure || want != "not known") {
			t.Errorf("at %.1f m the table has %q, elsewhere %q", v.StationM, got, want)
		}
	}
}

// Where another line may only perhaps have displaced a place, no table has the narrow
// figure alone: it has how far off the line may lie then, as the page tells it.
func TestPaperHoldsThePossibleDisplacementAcross(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
	l := &s.Lines[0]
	l.Findings = []trace.Finding{finding.BleedOver{Line: l.Setup.Name, FromM: 8, ToM: 22, Grade: trace.GradeWatch, Score: 0.3, LikelyShiftM: 0.3, Shift95M: 0.45, LikelySide: trace.Left}}
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for station, want := range map[float64]string{4: "± 0.10 m", 15: "± 0.75 m ?"} {
		if got := acrossWords(set.lines[0].figures(geo.Metric, station)[2]); got != want {
			t.Errorf("at %g m the tables have %q, want %q", station, got, want)
		}
	}
}

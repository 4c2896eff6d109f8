package advice

import (
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// A gap that lies beside its line or past its end has no stretch of its own: its advice is
// told where it lies along the line, and is about it.
func TestAdviceOnAGapBesideItsLine(t *testing.T) {
	none := trace.Unknown
	past := finding.Gap{Line: "A", FromM: none, ToM: none, Along: &[2]float64{58, 60}}
	item := trace.Advice{Line: "A", FromM: 58, ToM: 60, Kind: trace.AdviseGap}
	if !IsAbout(item, past) || IsAbout(item, finding.Gap{Line: "A", FromM: none, ToM: none}) || IsAbout(item, finding.Gap{Line: "A", FromM: 20, ToM: 24}) {
		t.Error("the item is not about that gap alone")
	}
	for _, pastM := range []float64{4, -4} { // carried on past an end of the line
		past.PastM = pastM
		from, to := past.Place()
		item.FromM, item.ToM = from, to
		if !IsAbout(item, past) {
			t.Errorf("the item of %v to %v m is not about the gap that lies there", from, to)
		}
	}
}

func TestMostImportantFirst(t *testing.T) {
	bleed := func(from float64, g trace.Grade, jump bool) finding.BleedOver {
		return finding.BleedOver{Line: "A", FromM: from, ToM: from + 5, Grade: g, Jump: jump}
	}
	s := trace.Sheet{
		Lines: []trace.Line{{Findings: []trace.Finding{bleed(0, trace.GradeWatch, false), bleed(10, trace.GradeSuspect, false), bleed(20, trace.GradeStrong, false), bleed(30, trace.GradeWatch, true)}}},
		Advice: []trace.Advice{
			{Line: "A", FromM: 0, ToM: 5, Kind: trace.AdviseBleed, Remark: trace.Verbatim("watch")},
			{Kind: trace.AdviseCrossing, Remark: trace.Verbatim("crossing")},
			{Line: "A", Kind: trace.AdviseInput, Remark: trace.Verbatim("input"), FromM: trace.Unknown, ToM: trace.Unknown},
			{Kind: trace.AdviseFrame, Remark: trace.Verbatim("frame"), FromM: trace.Unknown, ToM: trace.Unknown},
			{Line: "A", FromM: 10, ToM: 15, Kind: trace.AdviseBleed, Remark: trace.Verbatim("suspect")},
			{Line: "A", FromM: 20, ToM: 25, Kind: trace.AdviseBleed, Remark: trace.Verbatim("strong")},
			{Line: "A", FromM: 30, ToM: 35, Kind: trace.AdviseBleed, Remark: trace.Verbatim("jump")},
			{Kind: trace.AdviseNoLine, Remark: trace.Verbatim("no line")},
			{Kind: trace.AdviseExposed, Remark: trace.Verbatim("exposed")},
		},
	}
	var got []string
	for _, a := range MostImportantFirst(&s) {
		got = append(got, string(a.Remark.(trace.Verbatim)))
	}
	want := []string{"exposed", "no line", "strong", "jump", "suspect", "frame", "input", "crossing", "watch"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if s.Advice[0].Remark != trace.Remark(trace.Verbatim("watch")) {
		t.Error("the sheet's own order was changed")
	}
}

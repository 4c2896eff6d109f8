package trace

import (
	"slices"
	"testing"
)

func TestMostImportantFirst(t *testing.T) {
	bleed := func(from float64, g Grade, jump bool) BleedOver {
		return BleedOver{Line: "A", FromM: from, ToM: from + 5, Grade: g, Jump: jump}
	}
	s := Sheet{
		Lines: []Line{{Findings: []Finding{bleed(0, GradeWatch, false), bleed(10, GradeSuspect, false), bleed(20, GradeStrong, false), bleed(30, GradeWatch, true)}}},
		Advice: []Advice{
			{Line: "A", FromM: 0, ToM: 5, Kind: AdviseBleed, Remark: Verbatim("watch")},
			{Kind: AdviseCrossing, Remark: Verbatim("crossing")},
			{Line: "A", Kind: AdviseInput, Remark: Verbatim("input"), FromM: Unknown, ToM: Unknown},
			{Kind: AdviseFrame, Remark: Verbatim("frame"), FromM: Unknown, ToM: Unknown},
			{Line: "A", FromM: 10, ToM: 15, Kind: AdviseBleed, Remark: Verbatim("suspect")},
			{Line: "A", FromM: 20, ToM: 25, Kind: AdviseBleed, Remark: Verbatim("strong")},
			{Line: "A", FromM: 30, ToM: 35, Kind: AdviseBleed, Remark: Verbatim("jump")},
			{Kind: AdviseNoLine, Remark: Verbatim("no line")},
			{Kind: AdviseExposed, Remark: Verbatim("exposed")},
		},
	}
	var got []string
	for _, a := range s.MostImportantFirst() {
		got = append(got, string(a.Remark.(Verbatim)))
	}
	want := []string{"exposed", "no line", "strong", "jump", "suspect", "frame", "input", "crossing", "watch"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if s.Advice[0].Remark != Remark(Verbatim("watch")) {
		t.Error("the sheet's own order was changed")
	}
}

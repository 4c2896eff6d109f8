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
			{Line: "A", FromM: 0, ToM: 5, Kind: AdviseBleed, Words: "watch"},
			{Kind: AdviseCrossing, Words: "crossing"},
			{Line: "A", Kind: AdviseInput, Words: "input", FromM: Unknown, ToM: Unknown},
			{Kind: AdviseFrame, Words: "frame", FromM: Unknown, ToM: Unknown},
			{Line: "A", FromM: 10, ToM: 15, Kind: AdviseBleed, Words: "suspect"},
			{Line: "A", FromM: 20, ToM: 25, Kind: AdviseBleed, Words: "strong"},
			{Line: "A", FromM: 30, ToM: 35, Kind: AdviseBleed, Words: "jump"},
			{Kind: AdviseNoLine, Words: "no line"},
			{Kind: AdviseExposed, Words: "exposed"},
		},
	}
	var got []string
	for _, a := range s.MostImportantFirst() {
		got = append(got, a.Words)
	}
	want := []string{"exposed", "no line", "strong", "jump", "suspect", "frame", "input", "crossing", "watch"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if s.Advice[0].Words != "watch" {
		t.Error("the sheet's own order was changed")
	}
}

package report

import (
	"slices"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
)

// A finding told in other units is the same finding; one more of a kind is new.
func TestFindingsCompared(t *testing.T) {
	of := func(titles ...string) *Result {
		l := LineResult{Name: "W-1", Drawn: true}
		for _, s := range titles {
			l.Findings = append(l.Findings, FindingResult{Title: s})
		}
		return &Result{Lines: []LineResult{l}}
	}
	metric, us := of("Not traced, 1.0 to 2.0 m"), of("Not traced, 3 to 7 ft", "Not traced, 20 to 23 ft")
	if got := without(findingTitles(us, false), findingTitles(metric, false)); !slices.Equal(got, []string{"W-1: Not traced"}) {
		t.Errorf("%q", got)
	}
	if got := without(findingTitles(metric, false), findingTitles(us, false)); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if got := without(findingTitles(us, true), findingTitles(metric, true)); len(got) != 2 {
		t.Errorf("%q", got)
	}
}

// What changed in a list goes by the name of the entry, key by key, and a position is
// one value.
func TestSettingChangesGoByName(t *testing.T) {
	a := jobfile.Settings{Units: "metric", Lines: []jobfile.LineSettings{{Name: "W-1", Utility: "water"}, {Name: "G-1", Utility: "gas"}},
		Features: []jobfile.FeatureSettings{{Name: "hydrant", Position: []any{-71.5, 44.1}}}}
	b := a.Clone()
	b.Lines[0], b.Lines[1] = b.Lines[1], b.Lines[0]
	b.Lines[1].Utility = "sewer"
	b.Features[0].Position[1] = 44.2
	got, err := settingChanges(a, b)
	want := []SettingChange{{"feature hydrant.position", "[-71.5 44.1]", "[-71.5 44.2]"}, {"line W-1.utility", "water", "sewer"}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v; want %v", got, err, want)
	}
}

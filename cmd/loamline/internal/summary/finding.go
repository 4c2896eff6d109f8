package summary

import (
	"strings"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// findingLines is how the terminal tells each kind of finding; a kind without a
// form of its own is told by its title.
func findingLines(u geo.Units) finding.PerKind[[]string] {
	titled := func(f trace.Finding, text string) []string {
		return []string{words.FindingTitle(u, f) + ": " + text}
	}
	return finding.PerKind[[]string]{
		BleedOver:    func(f finding.BleedOver) []string { return bleedLines(u, f) },
		Doubt:        func(f finding.Doubt) []string { return titled(f, words.Remark(u, f.Why)) },
		FieldCheck:   func(f finding.FieldCheck) []string { return titled(f, words.Remark(u, f.Remark)) },
		ExposedCheck: func(f finding.ExposedCheck) []string { return []string{words.Remark(u, f.Remark)} },
		Else:         func(f trace.Finding) []string { return []string{words.FindingTitle(u, f)} },
	}
}

// bleedLines tell all the evidence: it has the figures. Of a stretch to be watched, where
// no sign was found, it stands on the line of its title.
func bleedLines(u geo.Units, f finding.BleedOver) []string {
	title := words.FindingTitle(u, f) + ", no known line there:"
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		title = words.FindingTitle(u, f) + ", perhaps from " + words.InText(f.Neighbor) + ":"
	}
	said := words.Remarks(u, f.Evidence)
	if f.LikelySide != "" {
		said = append(said, "The true line probably lies "+u.WithBand(f.LikelyShiftM, f.Shift95M)+" to the "+string(f.LikelySide)+
			" of the paint, seen in the direction of travel.")
	}
	if f.Grade == trace.GradeWatch && !f.Jump {
		return []string{strings.Join(append([]string{title}, said...), " ")}
	}
	out := []string{title}
	for _, e := range said {
		out = append(out, "  "+e)
	}
	return out
}

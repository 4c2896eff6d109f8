package summary

import (
	"fmt"
	"slices"
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

// mostEvidence is how many sentences on a stretch the terminal has, and of one to be
// watched, where no sign was found, how many.
const (
	mostEvidence = 4
	mostWatched  = 1
)

func bleedLines(u geo.Units, f finding.BleedOver) []string {
	title := words.FindingTitle(u, f) + ", no known line there:"
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		title = words.FindingTitle(u, f) + ", perhaps from " + f.Neighbor + ":"
	}
	most, evidence := mostEvidence, words.Remarks(u, f.Evidence)
	if f.Grade == trace.GradeWatch && !f.Jump {
		most = mostWatched
	}
	shown := evidence[:min(most, len(evidence))]
	more := ""
	if n := len(evidence) - len(shown); n > 0 {
		more = fmt.Sprintf("(%s on it: evidence in the GeoJSON)", Plural(n, "more sentence"))
	}
	side := ""
	if f.LikelySide != "" {
		side = "The true line probably lies " + u.WithBand(f.LikelyShiftM, f.Shift95M) + " to the " + string(f.LikelySide) +
			" of the paint, seen in the direction of travel."
	}
	if most == mostWatched {
		return []string{strings.Join(onlySaid(append(append([]string{title}, shown...), side, more)), " ")}
	}
	out := []string{title}
	for _, e := range onlySaid(append(slices.Clone(shown), side, more)) {
		out = append(out, "  "+e)
	}
	return out
}

// onlySaid leaves out the empty ones.
func onlySaid(texts []string) []string {
	return slices.DeleteFunc(texts, func(t string) bool { return t == "" })
}

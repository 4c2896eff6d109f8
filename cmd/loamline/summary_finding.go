package main

import (
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// findingLines is how the terminal tells each kind of finding; a kind without a
// form of its own is told by its title.
func findingLines(u geo.Units) trace.PerKind[[]string] {
	titled := func(f trace.Finding, text string) []string {
		return []string{words.FindingTitle(u, f) + ": " + text}
	}
	return trace.PerKind[[]string]{
		BleedOver:    func(f trace.BleedOver) []string { return bleedLines(u, f) },
		Doubt:        func(f trace.Doubt) []string { return titled(f, words.Remark(u, f.Why)) },
		FieldCheck:   func(f trace.FieldCheck) []string { return titled(f, words.Remark(u, f.Remark)) },
		ExposedCheck: func(f trace.ExposedCheck) []string { return []string{words.Remark(u, f.Remark)} },
		Else:         func(f trace.Finding) []string { return []string{words.FindingTitle(u, f)} },
	}
}

func bleedLines(u geo.Units, f trace.BleedOver) []string {
	from := "no known line there"
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		from = "perhaps from " + f.Neighbor
	}
	out := []string{words.FindingTitle(u, f) + ", " + from + ":"}
	for _, e := range words.Remarks(u, f.Evidence) {
		out = append(out, "  "+e)
	}
	if f.LikelySide != "" {
		out = append(out, "  The true line probably lies "+u.WithBand(f.LikelyShiftM, f.Shift95M)+" to the "+string(f.LikelySide)+
			" of the mark, seen in the direction of travel.")
	}
	return out
}

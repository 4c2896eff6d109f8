package advice

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// ToRepeat are the checks made in the field that are inconclusive, in the order of the
// lines: they say nothing against the map and are still to be made, so they follow the
// list of what to check.
func ToRepeat(s *trace.Sheet) []finding.FieldCheck {
	var out []finding.FieldCheck
	for i := range s.Lines {
		for _, f := range s.Lines[i].Findings {
			if Undecided(f) {
				out = append(out, f.(finding.FieldCheck))
			}
		}
	}
	return out
}

// Undecided reports whether a finding is a check that could tell nothing: it is neither a sign
// of trouble nor one that there is none.
func Undecided(f trace.Finding) bool {
	c, ok := f.(finding.FieldCheck)
	return ok && c.Outcome == trace.OutcomeInconclusive
}

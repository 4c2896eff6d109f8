package words

import (
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// What is said of a suspected bleed-over.
var _ = worded("Suspected bleed-over", func(u geo.Units, f finding.BleedOver) told {
	return told{bleedTitle(u, f), bleedWords(u, f)}
})

// Grade tells how far bleed-over is suspected, and never that it is absent.
func Grade(g trace.Grade) string {
	switch g {
	case trace.GradeStrong:
		return "bleed-over strongly suspected"
	case trace.GradeSuspect:
		return "bleed-over suspected"
	}
	return "possible bleed-over"
}

// MayHaveJumped tells of a trace that may have left its line for another, in short.
const MayHaveJumped = "trace may have jumped to another line"

func bleedTitle(u geo.Units, f finding.BleedOver) string {
	s := Capital(Grade(f.Grade))
	if f.Jump {
		s = "The trace may have jumped to another line"
	}
	return s + ", " + Range(u, f.FromM, f.ToM)
}

func bleedWords(u geo.Units, f finding.BleedOver) []string {
	first, last := "The signal here seems to come in part from another line", "Do not rely on position or depth here: expose to verify."
	switch {
	case f.Jump:
		first = "From here the trace may follow another line altogether"
	case f.Grade == trace.GradeWatch:
		first, last = "The signal of another line may mix in here", "Treat position and depth as doubtful here: expose to verify."
	}
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		first += ", perhaps " + InText(f.Neighbor)
		if crosses(f) {
			first += ", which it crosses here"
		} else if trace.Known(f.SeparationM) {
			first += ", " + u.Short(f.SeparationM) + " away"
		}
	}
	w := append([]string{first + "."}, Remarks(u, f.Evidence)...)
	if trace.Known(f.LikelyShiftM) && f.LikelySide != "" {
		w = append(w, "The true line probably lies about "+Shift(u, f.LikelyShiftM, f.Shift95M)+" to the "+
			string(f.LikelySide)+" of the paint, looking in the direction of travel; the drawn line was not moved.")
	} else if f.Grade != trace.GradeWatch || f.Jump { // the evidence of a watch says how far it could be
		w = append(w, "How far the paint mark is off cannot be told from these readings.")
	}
	return append(w, last)
}

// crosses reports that the other line lies on one side and then on the other, so that no
// one distance is that between the two.
func crosses(f finding.BleedOver) bool {
	return slices.ContainsFunc(f.Evidence, func(e trace.Remark) bool {
		r, ok := e.(remark.CloseRun)
		return ok && r.Crosses
	})
}

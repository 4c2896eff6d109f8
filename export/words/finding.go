package words

import (
	"cmp"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

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

// told is what is said of a finding: a title in one short line and sentences.
type told struct {
	title     string
	sentences []string
}

// kinds says what is said of each kind, in the units of people: there is no
// Else, for a finding without words of its own could not be acted on.
func kinds(u geo.Units) trace.PerKind[told] {
	return trace.PerKind[told]{
		BleedOver: func(f trace.BleedOver) told { return told{bleedTitle(u, f), bleedWords(u, f)} },
		Gap:       func(f trace.Gap) told { return told{gapTitle(u, f), gapWords(u, f)} },
		Doubt:     func(f trace.Doubt) told { return told{doubtTitle(u, f), doubtWords(u, f)} },
		Crossing:  func(f trace.Crossing) told { return told{crossingTitle(u, f), crossingWords(u, f)} },
		FieldCheck: func(f trace.FieldCheck) told {
			return told{checkTitle(f.Kind, f.Outcome) + ", at " + u.Long(f.StationM), appendWords(nil, Remark(u, f.Remark))}
		},
		ExposedCheck: func(f trace.ExposedCheck) told {
			return told{"Exposed at " + u.Long(f.StationM), exposedWords(u, f)}
		},
		RecordDifference: func(f trace.RecordDifference) told {
			return told{"Record '" + f.Record + "' lies elsewhere, " + Range(u, f.FromM, f.ToM), recordWords(u, f)}
		},
	}
}

// FindingTitle is a finding in one short line for a label or a list.
func FindingTitle(u geo.Units, f trace.Finding) string { return notKnown(kinds(u).Of(f).title, f) }

// Finding tells a finding in sentences: what was found, with the figures,
// and what it means for whoever digs.
func Finding(u geo.Units, f trace.Finding) []string {
	out := kinds(u).Of(f).sentences
	for i := range out {
		out[i] = notKnown(out[i], f)
	}
	return out
}

func bleedTitle(u geo.Units, f trace.BleedOver) string {
	s := Capital(Grade(f.Grade))
	if f.Jump {
		s = "The trace may have jumped to another line"
	}
	return s + ", " + Range(u, f.FromM, f.ToM)
}

func gapTitle(u geo.Units, f trace.Gap) string {
	if !trace.Known(f.FromM) {
		return "Not traced: readings were taken beside the line"
	}
	return "Not traced, " + Range(u, f.FromM, f.ToM)
}

func gapWords(u geo.Units, f trace.Gap) []string {
	w := []string{"The line was not traced here; the dashed line only joins the ends; it is not the line's route."}
	return append(appendWords(w, Remark(u, f.Why)), "The line may run anywhere between: trace again or expose.")
}

func doubtTitle(u geo.Units, f trace.Doubt) string {
	if !trace.Known(f.FromM) {
		return "In doubt: places beside the line"
	}
	return "In doubt, " + Range(u, f.FromM, f.ToM)
}

func doubtWords(u geo.Units, f trace.Doubt) []string {
	return append(appendWords(nil, Remark(u, f.Why)), "Do not rely on the line drawn here: find it again or expose it.")
}

func crossingTitle(u geo.Units, f trace.Crossing) string {
	if f.OnRecord() {
		if f.SeparationM > 0 {
			return "Closest to '" + f.Other + "', on record, at " + u.Long(f.StationM)
		}
		return "Crosses '" + f.Other + "', on record, at " + u.Long(f.StationM)
	}
	if f.SeparationM > 0 {
		return "Closest to " + f.Other + ", at " + u.Long(f.StationM)
	}
	return "Crosses " + f.Other + ", at " + u.Long(f.StationM)
}

var checkNames = map[trace.CheckKind]string{trace.CheckLift: "Lift check", trace.CheckAirCoupling: "Air coupling check"}

func checkTitle(kind trace.CheckKind, o trace.Outcome) string {
	name := cmp.Or(checkNames[kind], "Check")
	switch o {
	case trace.OutcomePassed:
		return name + " showed no sign of trouble"
	case trace.OutcomeInconclusive:
		return name + " is inconclusive"
	}
	return name + " failed"
}

func bleedWords(u geo.Units, f trace.BleedOver) []string {
	first, last := "The signal here seems to come in part from another line", "Do not rely on position or depth here: expose to verify."
	switch {
	case f.Jump:
		first = "From here the trace may follow another line altogether"
	case f.Grade == trace.GradeWatch:
		first, last = "The signal of another line may mix in here", "Treat position and depth as doubtful here: expose to verify."
	}
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		first += ", perhaps " + f.Neighbor
		if trace.Known(f.SeparationM) {
			first += ", " + u.Short(f.SeparationM) + " away"
		}
	}
	w := append([]string{first + "."}, Remarks(u, f.Evidence)...)
	if trace.Known(f.LikelyShiftM) && f.LikelySide != "" {
		w = append(w, "The true line probably lies about "+Shift(u, f.LikelyShiftM, f.Shift95M)+" to the "+
			string(f.LikelySide)+" of the mark, looking in the direction of travel; the mark itself was not moved.")
	} else if f.Grade != trace.GradeWatch || f.Jump { // the evidence of a watch says how far it could be
		w = append(w, "How far the mark is off cannot be told from these readings.")
	}
	return append(w, last)
}

// knownCrossingWords tell of a meeting with a line that is on record only.
func knownCrossingWords(u geo.Units, f trace.Crossing) []string {
	s := "'" + f.Other + "' crosses " + f.Line + " here"
	if f.SeparationM > 0 {
		s = "'" + f.Other + "' comes closest to " + f.Line + " here, " + u.Short(f.SeparationM) + " apart"
	}
	w := []string{s + ", as " + f.Source + " has it: it was not located on this job."}
	if f.DoubtM > 0 {
		w = append(w, "The record may lie "+u.Short(f.DoubtM)+" off, because "+f.DoubtWhy+".")
	}
	if trace.Known(f.OtherDepthM) {
		w = append(w, "Its depth on record is "+u.Short(f.OtherDepthM)+", to the centre; cover may have changed since.")
	} else {
		w = append(w, "No depth of it is on record.")
	}
	return append(w, "Locate it too, and expose both before digging across.")
}

func crossingWords(u geo.Units, f trace.Crossing) []string {
	if f.OnRecord() {
		return knownCrossingWords(u, f)
	}
	s := "The traced lines " + f.Line + " and " + f.Other + " cross here"
	if f.SeparationM > 0 {
		s = "The traced lines " + f.Line + " and " + f.Other + " come closest here, " + u.Short(f.SeparationM) + " apart"
	}
	w := []string{s + "."}
	switch {
	case !trace.Known(f.DepthDifferenceM):
		w = append(w, "Which of them is deeper is not known.")
	case f.DepthDifferenceM < 0:
		w = append(w, f.Other+" was read "+u.Short(-f.DepthDifferenceM)+" shallower than "+f.Line+", centre to centre.")
	default:
		w = append(w, f.Other+" was read "+u.Short(f.DepthDifferenceM)+" deeper than "+f.Line+", centre to centre.")
	}
	return append(w, "Expose both before digging across.")
}

func exposedWords(u geo.Units, f trace.ExposedCheck) []string {
	w := appendWords(nil, Remark(u, f.Remark))
	if len(w) > 0 {
		return w
	}
	s := "The line was exposed and measured here, " + u.Short(math.Abs(f.OffsetM)) + " " + sideOf(f.OffsetM) +
		" of the line as traced without it"
	if trace.Known(f.DepthDifferenceM) {
		word := "deeper"
		if f.DepthDifferenceM < 0 {
			word = "shallower"
		}
		s += "; the trace had read it " + u.Short(math.Abs(f.DepthDifferenceM)) + " " + word + " than measured"
	}
	return []string{s + "."}
}

func recordWords(u geo.Units, f trace.RecordDifference) []string {
	return []string{
		"The record '" + f.Record + "' lies " + u.Short(math.Abs(f.MeanOffsetM)) + " " + sideOf(f.MeanOffsetM) +
			" of the trace on average, " + u.Short(math.Abs(f.LargestOffsetM)) + " at most; the accuracy of both explains " +
			u.Short(f.AllowedM) + ".",
		"Record or trace is wrong here, or they are two different lines: treat both places as occupied and expose.",
	}
}

// sideOf names the side of an offset, positive to the right of travel.
func sideOf(offsetM float64) string {
	if offsetM < 0 {
		return string(trace.Left)
	}
	return string(trace.Right)
}

func appendWords(w []string, s string) []string {
	if s == "" {
		return w
	}
	return append(w, Sentence(s))
}

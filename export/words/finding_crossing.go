package words

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is said of a crossing.
var _ = worded("Crossings", func(u geo.Units, f finding.Crossing) told {
	return told{crossingTitle(u, f), crossingWords(u, f)}
})

func crossingTitle(u geo.Units, f finding.Crossing) string {
	if f.OnRecord() {
		if f.SeparationM > 0 {
			return "Closest to '" + f.Other + "', on record, at " + u.Long(f.StationM)
		}
		return "Crosses '" + f.Other + "', on record, at " + u.Long(f.StationM)
	}
	if f.SeparationM > 0 {
		return "Closest to " + f.Other + ", at " + u.Long(f.StationM)
	}
	if f.ByJump {
		return "Drawn across " + f.Other + ", at " + u.Long(f.StationM)
	}
	return "Crosses " + f.Other + ", at " + u.Long(f.StationM)
}

func crossingWords(u geo.Units, f finding.Crossing) []string {
	if f.OnRecord() {
		return knownCrossingWords(u, f)
	}
	s := "The traced lines " + f.Line + " and " + f.Other + " cross here"
	if f.ByJump {
		s = "The lines " + f.Line + " and " + f.Other + " cross here as drawn"
	}
	if f.SeparationM > 0 {
		s = "The traced lines " + f.Line + " and " + f.Other + " come closest here, " + u.Short(f.SeparationM) + " apart"
	}
	w := []string{s + "."}
	if f.ByJump {
		w = append(w, "One of the two may lie on the other here by a jump of the trace: whether and where the lines themselves cross is not known.")
	}
	switch apart := math.Abs(f.DepthDifferenceM); {
	case !trace.Known(apart - f.DepthsOffM):
		w = append(w, "Which of them is deeper is not known.")
	case apart <= f.DepthsOffM:
		w = append(w, "Which of them is deeper is not known: the depths read differ by no more than they may be off.")
	case f.DepthDifferenceM < 0:
		w = append(w, f.Other+" was read "+u.WithBand(apart, f.DepthsOffM)+" shallower than "+f.Line+", centre to centre.")
	default:
		w = append(w, f.Other+" was read "+u.WithBand(apart, f.DepthsOffM)+" deeper than "+f.Line+", centre to centre.")
	}
	return append(w, "Expose both before digging across.")
}

// knownCrossingWords tell of a meeting with a line that is on record only.
func knownCrossingWords(u geo.Units, f finding.Crossing) []string {
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

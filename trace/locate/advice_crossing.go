package locate

import (
	"fmt"

	"loamline/geo"
	"loamline/trace"
)

func adviseCrossing(f trace.Crossing, name string, u geo.Units) string {
	switch {
	case f.OnRecord():
		return adviseKnownCrossing(f, name, u)
	case f.SeparationM == 0:
		return fmt.Sprintf("%s crosses %s at %s: expose both by hand.", name, f.Other, u.Long(f.StationM))
	}
	return fmt.Sprintf("%s comes within %s of %s at %s: two lines in one zone, expose both.", name, u.Short(f.SeparationM), f.Other, u.Long(f.StationM))
}

// adviseKnownCrossing says where a line on record meets the trace, and how far
// the record can be believed.
func adviseKnownCrossing(f trace.Crossing, name string, u geo.Units) string {
	return knownCrossing(f, name, u) + ": locate it, and expose both by hand."
}

func knownCrossing(f trace.Crossing, name string, u geo.Units) string {
	words := fmt.Sprintf("%s comes within %s of '%s' at %s, a known line (%s) that was not located here", name, u.Short(f.SeparationM), f.Other, u.Long(f.StationM), f.Source)
	if f.SeparationM == 0 {
		words = fmt.Sprintf("%s crosses '%s' at %s, a known line (%s) that was not located here", name, f.Other, u.Long(f.StationM), f.Source)
	}
	if f.DoubtM > 0 {
		words += fmt.Sprintf("; the record may lie %[2]s off, because %[1]s", f.DoubtWhy, u.Short(f.DoubtM))
	}
	return words
}

// watchedCrossings pairs the crossings of a line with known lines with what is to
// be watched there for the same known line: that is one place to look at, and one
// item. Both go by their numbers among the findings; each stretch is told once. A
// stretch that is more than watched is told by itself.
func watchedCrossings(l trace.Line) (watched map[int]trace.BleedOver, told map[int]bool) {
	watched, told = map[int]trace.BleedOver{}, map[int]bool{}
	for n, f := range l.Findings {
		b, ok := f.(trace.BleedOver)
		if !ok || b.Grade != trace.GradeWatch || b.Jump {
			continue
		}
		for k, f := range l.Findings {
			c, ok := f.(trace.Crossing)
			if _, taken := watched[k]; ok && !taken && c.OnRecord() && c.Other == b.Neighbor && c.StationM >= b.FromM-nearM && c.StationM <= b.ToM+nearM {
				watched[k], told[n] = b, true
				break
			}
		}
	}
	return watched, told
}

// adviseWatched is the one item for both.
func adviseWatched(f trace.Crossing, b trace.BleedOver, l trace.Line, s *trace.Sheet) trace.Advice {
	u := s.Job.Units
	return trace.Advice{Line: f.Line, AtM: f.StationM, FromM: min(b.FromM, f.StationM), ToM: max(b.ToM, f.StationM), Kind: trace.AdviseCrossing,
		Words: fmt.Sprintf("%s; %s from it, %s to %s: locate it, and expose both by hand before digging%s.",
			knownCrossing(f, l.Setup.Name, u), gradeWords[b.Grade], u.Long(b.FromM), u.Long(b.ToM), spaced(bleedItem{lead: b, all: []trace.BleedOver{b}}.within(l, u)))}
}

func spaced(s string) string {
	if s == "" {
		return ""
	}
	return " " + s
}

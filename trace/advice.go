package trace

import (
	"fmt"
	"strings"

	"loamline/geo"
)

// advise lists what to check before digging on this job: the places where the
// map itself says that it must not be trusted, line by line. Places where an
// exposure contradicts what was traced come first: nothing else is as sure.
func advise(s *Sheet) []Advice {
	var out []Advice
	for _, l := range s.Lines {
		for _, t := range l.told {
			if t.kind == AdviseExposed {
				out = append(out, adviseTold(l.Setup.Name, t, s.Job.Units))
			}
		}
	}
	for _, l := range s.Lines {
		if l.Centerline == nil {
			out = append(out, Advice{Line: l.Setup.Name, FromM: Unknown, ToM: Unknown, Kind: AdviseNoLine,
				Words: fmt.Sprintf("%s: no line could be drawn (%s). Locate it again before digging.", l.Setup.Name, whyNoLine(l))})
			continue
		}
		for _, t := range l.told {
			if t.kind != AdviseExposed {
				out = append(out, adviseTold(l.Setup.Name, t, s.Job.Units))
			}
		}
		for _, f := range l.Findings {
			if a, ok := adviseFinding(f, l, s); ok {
				out = append(out, a)
			}
		}
	}
	for _, l := range s.Lines {
		if l.Caution.DoubtM > 0 {
			return append(out, Advice{FromM: Unknown, ToM: Unknown, Kind: AdviseFrame,
				Words: adviseDatum(l.Caution.DoubtDatum, s.Job.Units.Short(l.Caution.DoubtM))})
		}
	}
	return out
}

// adviseTold is one thing that a line says of itself.
func adviseTold(name string, t told, u geo.Units) Advice {
	where := name
	switch {
	case t.toM > t.fromM:
		where += fmt.Sprintf(", %s to %s", u.Long(t.fromM), u.Long(t.toM))
	case Known(t.fromM):
		where += ", " + u.Long(t.fromM)
	}
	return Advice{name, t.fromM, t.toM, t.kind, where + ": " + t.words}
}

// adviseFinding is what one finding asks to be checked; ok is false where it
// asks nothing.
func adviseFinding(f Finding, l Line, s *Sheet) (a Advice, ok bool) {
	u, name := s.Job.Units, l.Setup.Name
	switch f := f.(type) {
	case BleedOver:
		return Advice{name, f.FromM, f.ToM, AdviseBleed, adviseBleed(f, l, s)}, true
	case Gap:
		return Advice{name, f.FromM, f.ToM, AdviseGap,
			fmt.Sprintf("%s, %s to %s: not traced. Find the line there before digging.", name, u.Long(f.FromM), u.Long(f.ToM))}, true
	case Crossing:
		words := fmt.Sprintf("%s comes within %s of %s at %s: two lines in one zone, expose both.", name, u.Short(f.SeparationM), f.Other, u.Long(f.StationM))
		if f.SeparationM == 0 {
			words = fmt.Sprintf("%s crosses %s at %s: expose both by hand.", name, f.Other, u.Long(f.StationM))
		}
		return Advice{name, f.StationM, f.StationM, AdviseCrossing, words}, true
	case FieldCheck:
		return Advice{name, f.StationM, f.StationM, AdviseCheck, fmt.Sprintf("%s, %s: %s", name, u.Long(f.StationM), f.Words)}, !f.Passed
	case RecordDifference:
		return Advice{name, f.FromM, f.ToM, AdviseRecord, fmt.Sprintf("%s, %s to %s: the record '%s' lies up to %s from the trace. Find out which is right.",
			name, u.Long(f.FromM), u.Long(f.ToM), f.Record, u.Short(max(f.LargestOffsetM, -f.LargestOffsetM)))}, true
	case Doubt:
		return Advice{name, f.FromM, f.ToM, AdviseDoubt, adviseDoubt(f, u)}, true
	}
	return Advice{}, false
}

// adviseDoubt names the stretch, or the place beside the line, and what to do.
func adviseDoubt(f Doubt, u geo.Units) string {
	where := f.Line
	if Known(f.FromM) {
		where += fmt.Sprintf(", %s to %s", u.Long(f.FromM), u.Long(f.ToM))
	}
	return where + ": " + f.Why + " Find the line there before digging."
}

func adviseDatum(local, off string) string {
	if local == "" {
		return "The datum of the positions is not stated: the whole map may lie " + off + " off or more. Ask in which frame the corrections came, and measure from the marks, not from the map."
	}
	return fmt.Sprintf("The datum of the positions is not stated: if the corrections came in %s, the whole map lies about %s off. Ask, and measure from the marks, not from the map.", local, off)
}

func adviseBleed(b BleedOver, l Line, s *Sheet) string {
	u := s.Job.Units
	from, other := b.Neighbor, b.Neighbor
	if from == "" || from == "unknown" {
		from, other = "no known line there", "another line"
	}
	if b.Jump {
		return fmt.Sprintf("%s, %s to %s: the trace seems to follow %s instead of its own line. Find %s there again before digging.", b.Line, u.Long(b.FromM), u.Long(b.ToM), other, b.Line)
	}
	half, _ := halfWidth(s.Job.Tolerance, l.Setup)
	return fmt.Sprintf("%s, %s to %s: bleed-over %s (%s). Expose before digging within %s of the mark.", b.Line, u.Long(b.FromM), u.Long(b.ToM),
		map[Grade]string{GradeWatch: "possible, watch", GradeSuspect: "suspected", GradeStrong: "strongly suspected"}[b.Grade], from,
		u.Short(half+max(b.WidenLeftM, b.WidenRightM)+worstBand(l, b.FromM, b.ToM)))
}

// worstBand is the widest horizontal band on a stretch, 0 where none is known.
func worstBand(l Line, fromM, toM float64) float64 {
	worst := 0.0
	for _, p := range l.Centerline.Parts {
		for k := 1; k < len(p.Vertices); k++ {
			a, b := p.Vertices[k-1], p.Vertices[k]
			if b.StationM >= fromM && a.StationM <= toM {
				worst = max(worst, known0(a.Horizontal95M), known0(b.Horizontal95M))
			}
		}
	}
	return worst
}

// whyNoLine words why nothing could be drawn from a line's readings: what they
// were set aside for, or that too few are left.
func whyNoLine(l Line) string {
	usable := 0
	reasons := map[string]int{}
	var order []string
	for i := range l.Readings {
		r := &l.Readings[i]
		why := r.Why()
		switch r.Status {
		case StatusSetAside:
		case StatusCheck:
			why = "a raised reading, which is a check and no point of the line"
		default:
			usable++
			continue
		}
		if reasons[why] == 0 {
			order = append(order, why)
		}
		reasons[why]++
	}
	if usable > 0 {
		return fmt.Sprintf("%d usable of %d readings; two places are needed", usable, len(l.Readings))
	}
	var parts []string
	for _, why := range order {
		parts = append(parts, fmt.Sprintf("%d × %s", reasons[why], why))
	}
	return strings.Join(parts, ", ")
}

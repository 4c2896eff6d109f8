package trace

import (
	"fmt"
	"strings"

	"loamline/geo"
)

// advise lists what to check before digging on this job: the places where the
// map itself says that it must not be trusted, line by line.
func advise(s *Sheet) []string {
	var out []string
	u := s.Job.Units
	for _, l := range s.Lines {
		name := l.Setup.Name
		if l.Centerline == nil {
			out = append(out, fmt.Sprintf("%s: no line could be drawn (%s). Locate it again before digging.", name, whyNoLine(l)))
			continue
		}
		for _, t := range l.told {
			out = append(out, adviseTold(name, t, u))
		}
		for _, f := range l.Findings {
			switch f := f.(type) {
			case BleedOver:
				out = append(out, adviseBleed(f, l, s))
			case Gap:
				out = append(out, fmt.Sprintf("%s, %s to %s: not traced. Find the line there before digging.", name, u.Long(f.FromM), u.Long(f.ToM)))
			case Crossing:
				if f.SeparationM == 0 {
					out = append(out, fmt.Sprintf("%s crosses %s at %s: expose both by hand.", name, f.Other, u.Long(f.StationM)))
				} else {
					out = append(out, fmt.Sprintf("%s comes within %s of %s at %s: two lines in one zone, expose both.", name, u.Short(f.SeparationM), f.Other, u.Long(f.StationM)))
				}
			case FieldCheck:
				if !f.Passed {
					out = append(out, fmt.Sprintf("%s, %s: %s", name, u.Long(f.StationM), f.Words))
				}
			case RecordDifference:
				out = append(out, fmt.Sprintf("%s, %s to %s: the record '%s' lies up to %s from the trace. Find out which is right.", name, u.Long(f.FromM), u.Long(f.ToM), f.Record, u.Short(max(f.LargestOffsetM, -f.LargestOffsetM))))
			}
		}
	}
	for _, l := range s.Lines {
		if l.Caution.DoubtM > 0 {
			return append(out, adviseDatum(l.Caution.DoubtDatum, u.Short(l.Caution.DoubtM)))
		}
	}
	return out
}

// adviseTold words one thing that a line says of itself.
func adviseTold(name string, t told, u geo.Units) string {
	switch {
	case !Known(t.fromM):
		return name + ": " + t.words
	case t.toM > t.fromM:
		return fmt.Sprintf("%s, %s to %s: %s", name, u.Long(t.fromM), u.Long(t.toM), t.words)
	}
	return fmt.Sprintf("%s, %s: %s", name, u.Long(t.fromM), t.words)
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

package words

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// What holds where nobody knows where the line is: no width bounds it.
const (
	untilFound       = "not traced. No machine anywhere there until the line is found."
	doubtUntilFound  = "in doubt. No machine anywhere there until the line is found."
	eitherUntilFound = "not traced or in doubt. No machine anywhere there until the line is found."
)

// NotTraced tells where on a drawn line nobody uses a machine at all: between two
// stretches, where a doubt leaves open how far off it may lie, before its start, past its
// end, and where readings were taken and no line is drawn.
func NotTraced(u geo.Units, l *trace.Line) []string {
	if l.Centerline == nil {
		return nil
	}
	var out []string
	stretches := ZoneStretches(l)
	for _, z := range stretches {
		switch where := l.Setup.Name + ", " + Range(u, z.FromM, z.ToM) + ": "; {
		case z.NotTraced && z.InDoubt:
			out = append(out, where+eitherUntilFound)
		case z.NotTraced:
			out = append(out, where+untilFound)
		case z.InDoubt:
			out = append(out, where+doubtUntilFound)
		}
	}
	for _, f := range l.Findings {
		g, ok := f.(finding.Gap)
		said := ok && g.Along != nil && g.PastM == 0 && slices.ContainsFunc(stretches, func(z ZoneStretch) bool { return z.NoWidth() && z.FromM <= g.Along[0] && g.Along[1] <= z.ToM })
		if ok && !trace.Known(g.FromM) && !said {
			out = append(out, l.Setup.Name+", "+whereNotTraced(u, g)+": "+untilFound)
		}
	}
	return out
}

func whereNotTraced(u geo.Units, g finding.Gap) string {
	switch r, air := g.Why.(remark.AirBeyond); {
	case air && r.StationM <= 0:
		return "over " + u.Long(r.OverM) + " before its start"
	case air:
		return "over " + u.Long(r.OverM) + " past its end"
	case g.PastM != 0:
		return pastEnd(u, g) + ", where readings were taken and no line is drawn"
	case g.Along != nil:
		return "near " + Range(u, g.Along[0], g.Along[1]) + ", where readings were taken and no line is drawn"
	}
	return "where readings were taken and no line is drawn"
}

// atEndM is how far before the end of a line its way past it may leave it, and leave it at
// its end in words. Judgement.
const atEndM = 0.5

// pastEnd is how far past the end of a line, or before its start, the places of a gap lie,
// and from where along the line, unless that is its end.
func pastEnd(u geo.Units, g finding.Gap) string {
	past, end := u.Long(math.Abs(g.PastM)), " past its end"
	if g.PastM < 0 {
		end = " before its start"
	}
	switch from, to := g.Along[0], g.Along[1]; {
	case to-from < atEndM:
		return "up to " + past + end
	case g.PastM < 0:
		return "from " + past + end + " to " + u.Long(to)
	default:
		return "from " + u.Long(from) + " to " + past + end // a bare "146.9 m to 4.0 m" would read backwards
	}
}

// NotTracedBeyond reports whether readings past the end of a line, and before its start,
// showed another field than the line's.
func NotTracedBeyond(l *trace.Line) (past, before bool) {
	for _, f := range l.Findings {
		g, _ := f.(finding.Gap)
		if r, ok := g.Why.(remark.AirBeyond); ok && r.StationM <= 0 {
			before = true
		} else if ok {
			past = true
		}
	}
	return past, before
}

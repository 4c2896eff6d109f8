package locate

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/framedoubt"
	"loamline.example/trace/remark"
	"loamline.example/trace/stretches"
)

// Bands of published rules, in metres. PAS 128:2014 and PAS 128:2022, table of
// survey types and quality levels: QL-B1 ±150 mm or ±15 % of the detected depth, the
// greater, across, and ±15 % of it in depth; QL-B2 ±250 mm or ±40 %, and ±40 %; QL-B3
// ±500 mm, without a reliable depth (the specification is not public: public pages of
// several UK survey firms have the figures, across and in depth, alike, and that B1 takes
// several techniques and B2 and B3 one; 'the greater' is from memory).
// NF S70-003 has the classes of the French order of 15 February 2012 (NOR
// DEVP1116359A), article 1, 3°: A up to 40 cm for a rigid line and 50 cm for a
// flexible one, B beyond that up to 1.5 m, C beyond that or not known; as amended, no more
// than 1 m is B for a service connection of a line that is sensitive for safety (technical
// guide to the rules, part 1, 5.6.2, as quoted in public; the greatest error, in position
// and in depth alike).
const (
	pasB1M, pasB1Rel = 0.150, 0.15
	pasB2M, pasB2Rel = 0.250, 0.40
	pasB3M           = 0.500
	frenchARigidM    = 0.40
	frenchAFlexibleM = 0.50
	frenchBServiceM  = 1.00
	frenchBM         = 1.50
)

// statements puts the bands of a line into the words of public rules, as far as
// the figures support them, part by part, and name the stretches that they hold for. They say which band such figures
// would meet, never that a level is reached: that is for a professional to
// judge, and rests on more than figures. Where the frame leaves the whole map in
// doubt, for it is not stated or coarsely known, or nothing bounds the positions' error,
// that is said in the same sentence and no rule's band is named. Of depths that something
// contradicts as a whole no accuracy is stated.
func statements(l *trace.Line, known lineErrors, frame framedoubt.Doubt) []trace.Remark {
	var out []trace.Remark
	claimed := false
	said := saidAgainst(l.Findings)
	for _, p := range statedParts(l, said) {
		w := worstOf(p, said)
		if !trace.Known(w.horizontalM) || len(w.over) == 0 {
			if w.flagged {
				out = append(out, remark.InDoubt{FromM: p.FromM(), ToM: p.ToM()})
			}
			continue
		}
		if known.depthsDoubted {
			w.depthM, w.depthRel, w.noDepth = trace.Unknown, trace.Unknown, true
		}
		b := remark.Bands{Over: w.over, Horizontal95M: w.horizontalM, Depth95M: w.depthM, DoubtfulLeftOut: w.flagged, DepthsContradicted: known.depthsDoubted}
		switch {
		case frame.Feet:
			b.OnTrust = true
		case frame.LeavesOpen():
			b.Frame = remark.FrameDoubt{OffM: frame.M, Datum: frame.Datum, Stated: frame.Stated}
		case known.onTrust:
			b.OnTrust = true
		case known.unbounded:
			b.Unbounded = true
		default:
			w.horizontalM += frame.M
			b.PAS, b.French, claimed = pasBand(w), frenchClass(w), true
		}
		out = append(out, b)
	}
	if claimed {
		out = append(out, remark.BandsOnly{})
	}
	return out
}

// onTrust reports whether the accuracy of a line is that of something which its readings
// cannot show, and which is asked for: that two clocks agreed, or that it was exposed where a
// receiver was read.
func onTrust(s *trace.Sheet, l *trace.Line) bool {
	for i := range l.Readings {
		if r := &l.Readings[i]; r.ByClock && r.Status == trace.StatusUsed {
			return true
		}
	}
	for _, p := range s.Problems {
		if e, ok := p.Check.(remark.ExposedAndHeard); ok && e.Line == l.Setup.Name {
			return true
		}
	}
	return false
}

// mostStated is how many stretches of a part are told one by one; more are told in one
// statement, by the worst place of them all (judgement: nobody reads a longer list).
const mostStated = 3

// statedParts are the parts of a line of which an accuracy is stated: each whole, or where
// something is said against a stretch of it, what lies between such stretches. A figure is
// quoted without what stands behind it, so the stretch that it holds for stands before it.
func statedParts(l *trace.Line, said stretches.Joined) []trace.Part {
	var out []trace.Part
	for _, p := range l.Centerline.Parts {
		clear := clearOf(p, said)
		if len(clear) == 0 || len(clear) > mostStated {
			clear = []trace.Part{p}
		}
		out = append(out, clear...)
	}
	return out
}

// clearOf are the stretches of a part against which nothing is said: two vertices at least.
func clearOf(p trace.Part, said stretches.Joined) (out []trace.Part) {
	from := 0
	for i := 0; i <= len(p.Vertices); i++ {
		if i < len(p.Vertices) && !said.Hold(p.Vertices[i].StationM) {
			continue
		}
		if i-from > 1 {
			clear := p
			clear.Vertices = p.Vertices[from:i]
			out = append(out, clear)
		}
		from = i + 1
	}
	return out
}

// worst is the widest bands of a part outside stretches that are in doubt: no claim
// is made for what may be another line's, or only to be watched.
type worst struct {
	horizontalM, depthM float64
	depthRel            float64 // depth band over depth
	shallowestM         float64
	noDepth             bool // at one place or more, so that no band in depth holds all along
	flagged             bool
	over                []remark.Stretch // what is left of the part
}

func worstOf(p trace.Part, said stretches.Joined) worst {
	w := worst{horizontalM: trace.Unknown, depthM: trace.Unknown, depthRel: trace.Unknown, shallowestM: trace.Unknown}
	goesOn := false // the vertex before is counted
	for _, v := range p.Vertices {
		if said.Hold(v.StationM) {
			w.flagged, goesOn = true, false
			continue
		}
		if goesOn {
			w.over[len(w.over)-1].ToM = v.StationM
		} else {
			w.over = append(w.over, remark.Stretch{FromM: v.StationM, ToM: v.StationM})
		}
		goesOn = true
		w.horizontalM = greater(w.horizontalM, v.Horizontal95M)
		w.noDepth = w.noDepth || !trace.Known(v.DepthM) || !trace.Known(v.Depth95M)
		w.depthM = greater(w.depthM, v.Depth95M)
		w.depthRel = greater(w.depthRel, v.Depth95M/v.DepthM)
		w.shallowestM = -greater(-w.shallowestM, -v.DepthM)
	}
	if w.flagged { // a single place beside what is in doubt is no stretch to quote
		w.over = slices.DeleteFunc(w.over, func(s remark.Stretch) bool { return !(s.ToM > s.FromM) })
	}
	return w
}

// againstBands tells which findings say that no band is to be stated where they are.
var againstBands = finding.PerKind[bool]{
	BleedOver: func(finding.BleedOver) bool { return true },
	Doubt:     func(finding.Doubt) bool { return true },
	Gap:       func(finding.Gap) bool { return true },
	Else:      func(trace.Finding) bool { return false },
}

// saidAgainst are the stretches of a line against which anything is said: bleed-over of
// any grade, a jump, or readings that contradict the line, with what widens beside them; and what was not traced, with its
// edges, for which no output gives a band.
func saidAgainst(findings []trace.Finding) stretches.Joined {
	var all []remark.Stretch
	for _, f := range findings {
		if from, to := f.Span(); againstBands.Of(f) {
			switch f.Role() {
			case finding.RoleGap:
				from, to = from-trace.GapEdgeM, to+trace.GapEdgeM
			case finding.RoleBleedOver: // beside it the bands that are told are still wider
				from, to = from-trace.ZoneShoulderM, to+trace.ZoneShoulderM
			default:
				from, to = from-trace.StretchEndM, to+trace.StretchEndM
			}
			all = append(all, remark.Stretch{FromM: from, ToM: to})
			if g, ok := f.(finding.Gap); ok && g.Along != nil { // beside the line: where the way to it leaves it, and comes back
				for _, at := range g.Along {
					all = append(all, remark.Stretch{FromM: at - trace.GapEdgeM, ToM: at + trace.GapEdgeM})
				}
			}
		}
	}
	return stretches.Union(all)
}

// greater is the larger of two numbers of which either may be unknown.
func greater(a, b float64) float64 {
	switch {
	case !trace.Known(a):
		return b
	case !trace.Known(b):
		return a
	}
	return math.Max(a, b)
}

// pasBand never claims a band that is one of position and depth, as those of
// QL-B1 and QL-B2 are, from positions alone.
func pasBand(w worst) remark.PAS128 {
	within := func(m, rel float64) bool {
		return !w.noDepth && w.horizontalM <= math.Max(m, rel*w.shallowestM) && w.depthRel <= rel
	}
	switch {
	case within(pasB1M, pasB1Rel):
		return remark.PASB1
	case within(pasB2M, pasB2Rel):
		return remark.PASB2
	case w.horizontalM <= pasB3M && w.noDepth:
		return remark.PASB3NoDepth
	case w.horizontalM <= pasB3M:
		return remark.PASB3
	}
	return remark.PASNone
}

func frenchClass(w worst) remark.NFS70003 {
	switch {
	case w.horizontalM <= frenchARigidM:
		return remark.FrenchA
	case w.horizontalM <= frenchAFlexibleM:
		return remark.FrenchAFlexible
	case w.horizontalM <= frenchBServiceM:
		return remark.FrenchB
	case w.horizontalM <= frenchBM:
		return remark.FrenchBMain
	}
	return remark.FrenchC
}

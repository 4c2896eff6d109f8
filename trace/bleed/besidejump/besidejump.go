// Package besidejump puts into the bands of a line what another line does to its readings on
// either side of a stretch on which the trace may have gone over to that one: it is heard there
// as well, and depth and mark are falsified by it. By how much, the detector weighs.
package besidejump

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/finding"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// How far apart two lines in a street keep, one sigma, in parts of how far apart they are; and
// how far aside readings that are set aside together must lie to be on another line. Judgement.
const (
	asideSigma  = 0.15
	leastAsideM = 0.5
	leastAside  = 3
)

// mostCrossed is how many stretches of one line are asked about, the likeliest: each takes as
// long as the fit of a short line, and a line with more of them is in doubt all along.
// Judgement.
const mostCrossed = 50

// Widen has the bands beside the jumps of a line hold what the other line does there, and
// notes it; the detector's view of the line is asked for where there are any. Lines that were
// exposed are left: what was measured there has it.
func Widen(l *trace.Line, view func() bleed.Line) {
	if slices.ContainsFunc(l.Readings, func(r trace.Reading) bool { return r.Exposed }) {
		return
	}
	var all []bleed.Crossed
	for _, f := range l.Findings {
		if b, ok := f.(finding.BleedOver); ok {
			if x, ok := crossed(l, b); ok {
				all = append(all, x)
			}
		}
	}
	if len(all) == 0 {
		return
	}
	if len(all) > mostCrossed {
		slices.SortStableFunc(all, func(a, b bleed.Crossed) int { return cmp.Compare(b.Likely, a.Likely) })
		all = all[:mostCrossed]
	}
	end := l.Centerline.Polyline().Length()
	for i, beside := range bleed.HeardBeside(view(), all) {
		for _, b := range beside {
			b.FromM, b.ToM = math.Max(0, b.FromM), math.Min(end, b.ToM)
			if widen(l.Centerline, b) {
				l.Centerline.Notes = append(l.Centerline.Notes, remark.HeardBesideJump{FromM: b.FromM, ToM: b.ToM, JumpFromM: all[i].FromM, JumpToM: all[i].ToM, LnLeast: b.LnLeast, LnMost: b.LnMost})
			}
		}
	}
}

// crossed is a stretch on which the trace may have gone over to another line a known way off:
// as the marks step aside there, or as readings lie that were set aside.
func crossed(l *trace.Line, b finding.BleedOver) (bleed.Crossed, bool) {
	x := bleed.Crossed{FromM: b.FromM, ToM: b.ToM, AsideM: b.SeparationM, SigmaM: asideSigma * b.SeparationM, Likely: either, Sided: b.LikelySide != ""}
	if b.Grade != trace.GradeWatch {
		x.Likely = math.Max(x.Likely, bleed.SuspectCoupled)
	}
	if !b.Jump {
		if b.Grade == trace.GradeWatch {
			return x, false
		}
		var aside []float64
		for i := range l.Readings {
			if r := &l.Readings[i]; r.Status == trace.StatusSetAside && r.StationM >= b.FromM && r.StationM <= b.ToM && math.Abs(r.OffsetM) > leastAsideM {
				aside = append(aside, -r.OffsetM)
			}
		}
		if len(aside) < leastAside {
			return x, false
		}
		x.AsideM, x.Sided = ranked.Median(aside), true
		x.SigmaM = asideSigma * math.Abs(x.AsideM)
		return x, true
	}
	if b.LikelySide == trace.Left {
		x.AsideM = -x.AsideM
	}
	return x, trace.Known(x.AsideM) && math.Abs(x.AsideM) > 0
}

// either is how likely a step aside is taken to be a change to another line before what was
// read is asked: the band holds what either makes of it, as it does of the places on the
// stretch itself. Judgement.
const either = 0.5

// widen reports whether any vertex lies beside. Two sources of error, of which neither knows
// of the other, add as squares.
func widen(c *trace.Centerline, b bleed.Beside) (any bool) {
	for _, p := range c.Parts {
		for k := range p.Vertices {
			v := &p.Vertices[k]
			if v.StationM < b.FromM || v.StationM > b.ToM {
				continue
			}
			any = true
			if v.DepthM > 0 {
				off := v.DepthM * math.Max(-math.Expm1(-b.LnMost), math.Expm1(-b.LnLeast))
				v.Depth95M = math.Hypot(v.Depth95M, math.Max(0, off))
			}
			v.Horizontal95M = math.Hypot(v.Horizontal95M, b.ShiftM)
		}
	}
	return any
}

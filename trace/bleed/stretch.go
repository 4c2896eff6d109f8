package bleed

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
)

// stretches grades and words what was found.
func (c *columns) stretches(found []finding, near []neighbour) []Stretch {
	var out []Stretch
	var others []sided
	for _, f := range found {
		s := Stretch{
			FromM: c.rd[f.from].StationM, ToM: c.rd[f.to].StationM,
			Grade: c.grade(f), Score: f.score(), Neighbor: f.name, SeparationM: math.Abs(f.asideM),
			ShiftM: math.NaN(), Shift95M: math.NaN(), LnDepth95: f.lnDepth95(),
		}
		c.displace(&s, f)
		c.widenToCourse(&s, f)
		c.widenForOther(&s, f)
		widenToOwnRecord(&s, f, near)
		c.widenForUnseen(&s, f, near)
		s.Evidence = c.evidence(f, s)
		out = append(out, s)
		if o, ok := c.otherSide(f, s); ok {
			others = append(others, sided{o, len(out) - 1})
		}
	}
	for _, o := range others {
		if !overlapsSuspected(out, o.Stretch) {
			out = append(out, o.Stretch)
			out[o.fitted].orTheOther()
		}
	}
	return out
}

// overwhelming is the log likelihood from which on one kind of evidence is as good as two
// of 2 each. Judgement: odds of three thousand to one.
const overwhelming = 8

// grade follows the evidence for coupling; beyond that, strong needs two kinds of evidence or one that is overwhelming.
func (c *columns) grade(f finding) trace.Grade {
	switch {
	case f.coupled < SuspectCoupled || f.mayCarryNone():
		return trace.GradeWatch
	case f.coupled >= strongCoupled && (f.ds >= 2 && f.n >= 2 || max(f.ds, f.n) >= overwhelming):
		return trace.GradeStrong
	}
	return trace.GradeSuspect
}

// clearShare of the line's own current is the least that a neighbour which nobody drew may
// carry: what its 90 % band leaves less of is put down to what the line's own model misses.
// Judgement.
const clearShare = 0.05

// mayCarryNone reports whether a neighbour that nobody drew may as well carry nothing.
func (f finding) mayCarryNone() bool {
	return f.name == Unknown && f.c.e.at == nil && math.Abs(f.p[pShare])-sigmas90*math.Sqrt(f.cov[pShare][pShare]) < clearShare
}

// displacement returns where the true line lies from the mark at reading k,
// positive to the right, with its 95 % half-width and the part of that which
// could turn its side.
func (f finding) displacement(k int) (trueM, half95M, side95M float64, ok bool) {
	x, fit95M, ok := f.fittedShift(k)
	if !ok {
		return 0, 0, 0, false
	}
	model := modelErrorPart*modelErrorPart*x*x + minShiftSD*minShiftSD
	return x, math.Hypot(fit95M, 1.96*math.Sqrt(model)), math.Hypot(fit95M, 1.96*minSideSD), true
}

// fittedShift is the same with the fit's own error alone.
func (f finding) fittedShift(k int) (trueM, half95M float64, ok bool) {
	i := k - f.lo
	if i < 0 || i >= len(f.effects) {
		return 0, 0, false
	}
	x := -shiftBias * f.effects[i].shiftM
	if f.mirrored {
		x = -x
	}
	g := f.effects[i].gradient(shiftOf)
	var variance float64
	for a := range g {
		for b := range g {
			variance += fitSDFactor * fitSDFactor * g[a] * f.cov[a][b] * g[b]
		}
	}
	return x, 1.96 * math.Sqrt(variance), true
}

// lnDepth95 bounds by how much the coupling falsifies the ln of a depth on the
// stretch: as what was found of it reads small and errs for a displacement, and
// no less than a coupling that hardly shows does.
func (f finding) lnDepth95() float64 {
	worst := 0.0
	for _, x := range f.effects {
		worst = max(worst, math.Abs(x.lnDepth))
	}
	return math.Hypot(shiftBias*worst*(1+1.96*modelErrorPart), 1.96*minLnDepthSD)
}

// minLnDepthSD is the least error of a depth beside another conductor, one sigma:
// a mismatch of null and peak of 2.5 cm, which hardly shows, already goes with 6 %
// (two lines 1 m deep and 1 m apart, by superposition of their fields). Judgement.
const minLnDepthSD = 0.06

// What a fit's own covariance leaves out of a displacement: it reads a little
// small, its error is larger than told, and the two-conductor model errs by a
// part of it and by a floor in metres. Judgement, set
// against simulated traces by no command that is kept.
const (
	shiftBias      = 1.1
	fitSDFactor    = 1.5
	modelErrorPart = 0.45
	minShiftSD     = 0.03
	minSideSD      = 0.015
)

// What is told of a displacement as likely, in one figure with a side: the side is told
// where the fit's own error leaves it open by sideClear times less, and the figure's 95 %
// band is likelyError times what that error makes it, for where the fit errs it is oftenest
// by what it takes for the cause. Judgement, from what both worlds' jobs were told before
// (seeds 890000 to 890019 of the second, 890000 to 890007 of the first; loamline accuracy
// has it of others, under likely displacement): in the second world the side was right on 62
// of 85 stretches, and on 15 of 27 nearer to the limit than sideClear, which is the toss of a
// coin; the band held 68 % of the readings, and with both 90 %; in the first 94 and 97 %.
const (
	sideClear   = 1.3
	likelyError = 1.6
)

// displace sets the likely displacement, if its side is clear, and by how much
// the caution zone must widen.
func (c *columns) displace(s *Stretch, f finding) {
	var sum, sum2, half, side, n float64
	for k := f.from; k <= f.to; k++ {
		t, h, h0, ok := f.displacement(k)
		if !ok {
			continue
		}
		s.WidenRightM = max(s.WidenRightM, t+h)
		s.WidenLeftM = max(s.WidenLeftM, h-t)
		sum, sum2, half, side, n = sum+t, sum2+t*t, half+h, side+h0, n+1
	}
	if !f.sideKnown() {
		s.WidenLeftM = max(s.WidenLeftM, s.WidenRightM)
		s.WidenRightM = s.WidenLeftM
		return
	}
	if n == 0 || math.Abs(sum) <= sideClear*side {
		return
	}
	mean := sum / n
	s.ShiftM, s.Side = math.Abs(mean), sideOf(mean)
	s.Shift95M = likelyError * math.Hypot(half/n, 1.96*math.Sqrt(max(0, sum2/n-mean*mean)))
}

func sideOf(m float64) trace.Side {
	if m < 0 {
		return trace.Left
	}
	return trace.Right
}

// inOrder puts stretches in station order. What coupling explains worse than a
// jump on the same readings is left out, and close runs fill what is left.
func inOrder(jumped, coupled []Stretch, near []neighbour, col *columns) []Stretch {
	out := slices.Clone(jumped)
	for _, s := range coupled {
		if !slices.ContainsFunc(jumped, func(j Stretch) bool { return j.Grade != trace.GradeWatch && overlap(j, s) > 0.5*(s.ToM-s.FromM) }) {
			out = append(out, s)
		}
	}
	for _, e := range near {
		out = append(out, closeRuns(col, e, out)...)
	}
	slices.SortStableFunc(out, func(a, b Stretch) int { return cmp.Compare(a.FromM, b.FromM) })
	return out
}

// toNextReadings carries suspected stretches on to the readings about them, jumps and
// those on signal of a neighbour that nobody drew: in between the line drawn goes from
// what is suspected to what is not, and no place of a neighbour tells where.
func (c *columns) toNextReadings(found []Stretch) {
	for i := range found {
		s := &found[i]
		if s.Grade == trace.GradeWatch || s.Neighbor != Unknown && !s.Jump {
			continue
		}
		before, after, farthest := math.Inf(-1), math.Inf(1), float64(farthestNextM)
		if s.Jump {
			farthest = farthestStepM
		}
		for _, r := range c.rd {
			switch {
			case r.StationM < s.FromM:
				before = r.StationM
			case r.StationM > s.ToM:
				after = math.Min(after, r.StationM)
			}
		}
		if s.FromM-before < farthest {
			s.FromM = before
		}
		if after-s.ToM < farthest {
			s.ToM = after
		}
		leave(found, *s)
	}
}

// leave ends what is to be watched beside the same neighbour where a suspected stretch
// begins, and begins it where that ends.
func leave(found []Stretch, suspected Stretch) {
	for i := range found {
		switch w := &found[i]; {
		case w.Grade != trace.GradeWatch || w.Neighbor != suspected.Neighbor:
		case w.FromM < suspected.FromM && w.ToM < suspected.ToM:
			w.ToM = math.Min(w.ToM, suspected.FromM)
		case w.FromM > suspected.FromM && w.ToM > suspected.ToM:
			w.FromM = math.Max(w.FromM, suspected.ToM)
		}
	}
}

// Farther than farthestNextM too much lies in between; a step to another line and back
// lies between two readings however far they are apart. Judgement.
const (
	farthestNextM = 10
	farthestStepM = 30
)

func overlap(a, b Stretch) float64 { return max(0, min(a.ToM, b.ToM)-max(a.FromM, b.FromM)) }

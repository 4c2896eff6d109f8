package bleed

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"loamline.example/trace/receiver"
)

// Crossed is a stretch on which the marks lie beside the line's own course, as they do where
// the trace went over to another line.
type Crossed struct {
	FromM, ToM float64
	AsideM     float64 // the line's own course from the marks, positive to the right where the side is known
	SigmaM     float64 // of that
	Sided      bool    // the side is known
	Likely     float64 // probability that the trace went over, before depth, signal and null beside are asked
}

// Beside is a stretch before or after a crossed one: the line that the trace went over to
// carries signal, or the receiver would have found nothing there, and it does so beside the
// line's own stretch too, where depth and mark are falsified by it as they are on the crossed
// stretch by the line.
type Beside struct {
	FromM, ToM float64
	// The ln of a depth shown there over the true one lies between LnLeast and LnMost, and the
	// mark no farther from the line than ShiftM, all at 95 %.
	LnLeast, LnMost, ShiftM float64
}

// besideReachM is how far from a jump the other line is taken to run on beside: as far as two
// lines in one street mostly do. Judgement.
const besideReachM = 40.0

// HeardBeside lists what lies beside the crossed stretches of a line and is falsified there by
// more than a depth errs.
func HeardBeside(line Line, all []Crossed) [][]Beside {
	line.rd = inStationOrder(line.Readings)
	c := newColumns(line)
	out := make([][]Beside, len(all))
	for i, x := range all {
		for _, side := range [2][2]float64{{x.FromM - besideReachM, x.FromM}, {x.ToM, x.ToM + besideReachM}} {
			if b, ok := c.besideJump(all, x, side[0], side[1]); ok {
				out[i] = append(out[i], b)
			}
		}
	}
	return out
}

// shownLevel is what a stretch of readings shows: the medians of its log depths and signals and of
// its nulls, not a number where there are fewer than leastShownOf of any.
type shownLevel struct{ lnD, lnS, null float64 }

const leastShownOf = 3 // judgement: of fewer one bad one is the median

// levelOf is the level of the readings that are asked for.
func (c *columns) levelOf(of func(k int) bool) shownLevel {
	var d, s, n []float64
	for k := range c.rd {
		if !of(k) {
			continue
		}
		if c.varD[k] < nothing {
			d = append(d, c.lnD[k])
		}
		if c.varS[k] < nothing {
			s = append(s, c.lnS[k])
		}
		if c.varN[k] < nothing {
			n = append(n, c.null[k])
		}
	}
	middle := func(v []float64) float64 {
		if len(v) < leastShownOf {
			return math.NaN()
		}
		return median(v)
	}
	return shownLevel{middle(d), middle(s), middle(n)}
}

// besideLevelM is over what length from a jump the level beside it is taken: farther off the
// line itself is another. Judgement.
const besideLevelM = 25.0

// besideJump is what lies between two stations beside a crossed stretch; false where the
// readings there and on it do not tell what either shows, or the other line does next to
// nothing.
func (c *columns) besideJump(all []Crossed, x Crossed, fromM, toM float64) (Beside, bool) {
	in := func(k int, x Crossed) bool { return c.rd[k].StationM >= x.FromM && c.rd[k].StationM <= x.ToM }
	aside := 0
	for k, r := range c.rd {
		if in(k, x) && r.SetAside {
			aside++
		}
	}
	on := c.levelOf(func(k int) bool { return in(k, x) && (aside < leastShownOf || c.rd[k].SetAside) })
	if math.IsNaN(on.lnD) { // as of readings whose depths were dropped
		on = c.levelOf(func(k int) bool { return in(k, x) })
	}
	off := c.levelOf(func(k int) bool {
		st := c.rd[k].StationM
		return st > math.Max(fromM, x.FromM-besideLevelM) && st < math.Min(toM, x.ToM+besideLevelM) &&
			!c.rd[k].SetAside && !slices.ContainsFunc(all, func(o Crossed) bool { return in(k, o) })
	})
	if math.IsNaN(on.lnD) || math.IsNaN(off.lnD) {
		return Beside{}, false
	}
	from, to := c.readingsIn(x.FromM, x.ToM)
	turned := c.phaseOdds(from, to)
	pairs := c.pairsOf(off, on, x, turned > 0)
	if len(pairs) == 0 {
		return Beside{}, false
	}
	pairs = append(pairs, weighedPair{weight: (1 - x.Likely) * alone(off, on) * math.Exp(-math.Max(0, turned))})
	b := Beside{FromM: fromM, ToM: toM}
	const outside = 0.05 // derived: what a band of 95 % leaves
	b.LnLeast = quantileOf(pairs, outside/2, func(p weighedPair) float64 { return p.lnShown })
	b.LnMost = quantileOf(pairs, 1-outside/2, func(p weighedPair) float64 { return p.lnShown })
	b.ShiftM = quantileOf(pairs, 1-outside, func(p weighedPair) float64 { return p.shiftM })
	return b, b.LnMost > leastBesideLn || b.LnLeast < -leastBesideLn
}

// pairsOf are the pairs of lines that may be over and beside a crossed stretch, each with its
// weight: the log of the other's current over the line's own is normal about 0 with
// jumpCurrentSD, either way round alike, or as it was seen to flow there.
func (c *columns) pairsOf(off, on shownLevel, x Crossed, turned bool) []weighedPair {
	asides := []float64{-x.AsideM} // the line is to the right of the marks: they are left of it
	if !x.Sided {
		asides = append(asides, x.AsideM)
	}
	var out []weighedPair
	var tried float64
	for _, aside := range asides {
		for _, z := range [3]float64{-1.2, 0, 1.2} { // three places with about the variance of a normal one: judgement, on the numerical method
			for _, sign := range [2]float64{-1, 1} {
				against := 1.0
				if turned && sign > 0 {
					against = math.Exp(-reversedNats)
				}
				var near *twoLines
				for ln := leastLnShare; ln <= mostLnShare; ln += lnShareStep {
					before := normal(ln, jumpCurrentSD)
					tried += before
					p, ok := c.pairOf(off, on, aside+z*x.SigmaM, sign*math.Exp(ln), near)
					if !ok {
						continue
					}
					near = &p.of
					p.weight *= x.Likely * before * against
					out = append(out, p)
				}
			}
		}
	}
	for i := range out {
		out[i].weight /= tried
	}
	return out
}

// alone is how likely one line, laid aside by fittings, makes two levels: its depth seldom
// steps (depthStepPart), its current stays, and its nulls lie at the marks.
func alone(off, on shownLevel) float64 {
	by := on.lnD - off.lnD
	likely := (1-depthStepPart)*normal(by, depthDrift) + depthStepPart*normal(by, depthStepSD)
	if s := on.lnS - off.lnS; !math.IsNaN(s) {
		likely *= normal(s+by, pairSignalSD)
	}
	for _, null := range [2]float64{off.null, on.null} {
		if !math.IsNaN(null) {
			likely *= normal(null, pairNullSD)
		}
	}
	return likely
}

// leastBesideLn of a depth is within what one errs by. Judgement.
const leastBesideLn = 0.05

// The other line's current over the line's own, its log: tried from leastLnShare to mostLnShare
// by lnShareStep. Judgement, beyond jumpCurrentSD either way by three and two of its sigmas: a
// bound of the arithmetic.
const (
	leastLnShare, mostLnShare, lnShareStep = -2.4, 1.6, 0.1
)

// weighedPair is two lines that show what was read over either.
type weighedPair struct {
	lnShown float64 // over the first one, of the depth shown over the true one
	shiftM  float64 // of the mark from the first one
	weight  float64 // how likely it makes what else was read, at first; then with what was expected
	of      twoLines
}

// twoLines are their depths and how far the second lies from the first, positive to the right.
type twoLines struct{ depthM, otherM, apartM float64 }

// What two levels that are compared may differ by beside what the fields of both lines do to
// them, one sigma: the nulls in metres, signal in its log; and the log of one depth over the
// other. Judgement.
const (
	pairNullSD, pairSignalSD, pairDepthsSD = 0.06, 0.2, 0.5
	pairSteps, pairStep, pairDifference    = 12, 0.3, 1e-4 // judgement, on the numerical method
	pairTolerance                          = 0.003         // of log depths, and of metres: a bound of the arithmetic
)

// pairOf seeks two lines whose marks lie asideM apart and that show the depths read over
// either, the other with the share of the line's current: from two that are near, or from
// what was read and then from shallower or deeper ones.
func (c *columns) pairOf(over, other shownLevel, asideM, share float64, near *twoLines) (weighedPair, bool) {
	starts := []twoLines{}
	if near != nil {
		starts = append(starts, *near)
	}
	parts := [3]float64{1, 0.75, 0.5} // judgement, on the numerical method, as those below: currents that flow alike read deeper than the lines lie
	if share < 0 {
		parts = [3]float64{1, 1.35, 1.8} // judgement, on the numerical method
	}
	for _, part := range parts {
		starts = append(starts, twoLines{part * math.Exp(over.lnD), part * math.Exp(other.lnD), asideM})
	}
	for _, of := range starts {
		if p, ok := c.pairFrom(over, other, asideM, share, of); ok {
			return p, true
		}
	}
	return weighedPair{}, false
}

// pairFrom is pairOf from two lines on, by Newton's method with differences for derivatives.
func (c *columns) pairFrom(over, other shownLevel, asideM, share float64, of twoLines) (weighedPair, bool) {
	for range pairSteps {
		off, a, b, ok := c.missedBy(over, other, asideM, share, of)
		if !ok {
			return weighedPair{}, false
		}
		if math.Max(math.Abs(off[0]), math.Max(math.Abs(off[1]), math.Abs(off[2]))) < pairTolerance {
			p := weighedPair{math.Log(a.DepthM / of.depthM), math.Abs(a.PeakM), normal(math.Log(of.otherM/of.depthM), pairDepthsSD), of}
			if by := other.lnS - over.lnS; !math.IsNaN(by) {
				p.weight *= normal(by-math.Log(b.LowT/a.LowT), pairSignalSD)
			}
			if !math.IsNaN(over.null) {
				p.weight *= normal(over.null-a.NullOffsetM, pairNullSD)
			}
			if !math.IsNaN(other.null) {
				p.weight *= normal(other.null-b.NullOffsetM, pairNullSD)
			}
			return p, !math.IsNaN(p.weight)
		}
		var by [3][3]float64
		for k := range by {
			var step [3]float64
			step[k] = pairDifference
			next, _, _, ok := c.missedBy(over, other, asideM, share, of.moved(step))
			if !ok {
				return weighedPair{}, false
			}
			for i := range by {
				by[i][k] = (next[i] - off[i]) / pairDifference
			}
		}
		var step mat.VecDense
		if err := step.SolveVec(mat.NewDense(len(off), len(off), slices.Concat(by[0][:], by[1][:], by[2][:])), mat.NewVecDense(len(off), off[:])); err != nil {
			return weighedPair{}, false
		}
		of = of.moved([3]float64{-step.AtVec(0), -step.AtVec(1), -step.AtVec(2)})
	}
	return weighedPair{}, false
}

// moved are two lines with the logs of their depths, and how far they lie apart, changed, by
// no more than pairStep each.
func (t twoLines) moved(by [3]float64) twoLines {
	for i := range by {
		by[i] = math.Max(-pairStep, math.Min(pairStep, by[i]))
	}
	return twoLines{t.depthM * math.Exp(by[0]), t.otherM * math.Exp(by[1]), t.apartM + by[2]}
}

// missedBy is by how much two lines miss what was read, in the logs of both depths and in how
// far the marks lie apart, and what they show.
func (c *columns) missedBy(over, other shownLevel, asideM, share float64, of twoLines) (off [3]float64, a, b receiver.Shown, ok bool) {
	s := receiver.Section{Lines: []receiver.Conductor{{DepthM: of.depthM, CurrentA: 1}, {XM: of.apartM, DepthM: of.otherM, CurrentA: complex(share, 0)}}}
	a, b = s.Survey(0, c.gapM), s.Survey(of.apartM, c.gapM)
	apart := b.PeakM - a.PeakM
	off = [3]float64{math.Log(a.DepthM) - over.lnD, math.Log(b.DepthM) - other.lnD, apart - asideM}
	ok = apart*asideM > 0 && math.Abs(apart) > pairTolerance
	for _, x := range off {
		ok = ok && !math.IsNaN(x) && !math.IsInf(x, 0)
	}
	return off, a, b, ok
}

// quantileOf is the value up to which a part of the weight lies.
func quantileOf(all []weighedPair, part float64, of func(weighedPair) float64) float64 {
	slices.SortStableFunc(all, func(a, b weighedPair) int { return cmp.Compare(of(a), of(b)) })
	var sum float64
	for _, p := range all {
		sum += p.weight
	}
	left := part * sum
	for _, p := range all {
		if left -= p.weight; left <= 0 {
			return of(p)
		}
	}
	return of(all[len(all)-1])
}

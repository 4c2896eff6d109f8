// Package depthlevel tells whether depths along a walk step to another level from one reading
// to the next, and back as suddenly or not at all, and whether signal and current show that
// the line itself lies so.
//
// A line laid over or under something by fittings reads so, and so do slips of a unit, of
// another line's depth and of another datum. That more than 20 % or 0.3 m from one reading to
// the next asks for a look is common practice, no source. Which of them it is, and what a map
// says of it, is not asked here.
package depthlevel

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
)

// What makes a step. Judgement, but for the sigmas.
const (
	// levelDepths are a level, and no more of them than reach on either side are compared.
	levelDepths, reach = 3, 4
	// Levels are leastM and leastLn apart, which is more than neighbouring depths of a level
	// line differ by, and by stepSigmas of what one depth scatters from the next; they are
	// even to evenShare of that.
	leastM, leastLn, stepSigmas, evenShare = 0.2, 0.18, 4.0, 0.5
	// Of the whole way from one level's far end to the other's onceShare is gone at once: one
	// reading may have been made on the way.
	onceShare = 0.5
	// What steps and does not come back is told from loneLn on: a line that goes deeper and
	// stays so is commoner than one that does for some strides.
	loneLn = 0.26
	// Less is told where longDepths on either side are even to longShare of the step, and from
	// leastLongM on, which is much of how deep a shallow line lies: a line that goes over to
	// another depth by itself is not that even before and after.
	longDepths, longShare, leastLongM = 7, 0.5, 0.12
	// scalesLn, a half more, is the most by which one receiver shows depths of the same line
	// deeper than another.
	scalesLn = 0.43
	// From largeLn on, a factor of 2.5, no fitting that is not at the line's own end takes a
	// line to another depth for good: what dives under something comes up again.
	largeLn = 0.92
	// A step is taken within one stride of up to strideM: over a longer one a line goes down
	// and comes up by itself. Up to farStrideM it does not by largeLn for good.
	strideM, farStrideM = 4.0, 12.0
	// Depths that are beyond both levels last for no more than mostStrides strides.
	mostStrides = 2.5
	// What lasts longer than longestM is another depth of the line, whether it comes back or
	// not, and of the step there backShare may be missing of the step back.
	longestM, backShare = 40.0, 0.4
	// rounded is what logarithms do to a difference of two figures: a bound of the arithmetic.
	rounded = 1e-9
	// seenShare of what a change of the line's depth does to the signal, or of what one of
	// the display alone does to the current, tells which it was.
	seenShare = 0.5
)

// Reading is what a receiver showed at a place along the line: a depth, and a signal and a
// current where they were read (else not a number or zero).
type Reading struct {
	StationM, DepthM, Signal, CurrentMA float64
	Before                              []Left // depths between the reading before and this one that fit neither
}

// Left is a depth that was left out.
type Left struct{ StationM, DepthM float64 }

// Step is where the depths go over to another level.
type Step struct {
	After int     // the first reading on the other level
	Back  int     // the first one that is back; 0 where none is
	ByLn  float64 // positive where the other level is deeper
	OffM  float64 // by how much
	// Lies tells that signal or current show that what is read lies so, and Small that what does
	// not come back steps by less than a line seldom does: neither is anything by itself, but
	// where the course turns at the same place.
	Lies, Small bool
	// Slight tells that it is a step by no more than the long even levels on either side, or
	// in spite of a current that stays: the end of a stretch on another line's signal makes as
	// much of one.
	Slight bool
	// Large tells that what does not come back steps by more than a line does.
	Large bool
}

// Find lists the steps of depths in station order, which were shown on a step of figureM, 0
// where none shows: depths of one level may stand at two figures next to each other.
func Find(rs []Reading, figureM float64) []Step {
	least := leastStep{math.Max(leastLn, stepSigmas*scatter(rs)), figureM, strideM}
	var out []Step
	for k := levelDepths; k+levelDepths <= len(rs); k++ {
		there := stepAt(rs, k, least)
		far := there == 0 && len(rs[k].Before) == 0 && rs[k].StationM-rs[k-1].StationM > strideM
		if far {
			there = stepAt(rs, k, leastStep{math.Max(largeLn, least.ln), figureM, farStrideM})
		}
		if there == 0 || far && !parts(rs, k) {
			continue
		}
		s := Step{After: k, Back: backAgain(rs, k, there, least)}
		s.Small, s.Large = s.Back == 0 && math.Abs(there) < loneLn, s.Back == 0 && math.Abs(there) >= largeLn && parts(rs, k)
		on, about := rs[k:min(len(rs), k+reach)], rs[max(0, k-reach):k]
		if s.Back > 0 {
			on, about = rs[k:s.Back], slices.Concat(about, rs[s.Back:min(len(rs), s.Back+reach)])
			k = s.Back
		}
		s.ByLn, s.OffM, s.Lies = apart(on, about)
		if s.Back == 0 && levelOn(rs, k, there) && (s.Small || s.OffM < leastM) {
			s.Small, s.Slight = false, true
		}
		noSignal := math.IsNaN(of(on, signal) - of(about, signal))
		if far && s.Lies && !noSignal {
			continue // there is way enough to go there
		}
		// A current stays as well where another scale or receiver shows the depths from there
		// on: alone it does not tell of a step that two receivers differ by.
		if s.Lies && s.Back == 0 && noSignal && math.Abs(s.ByLn) <= scalesLn && s.OffM >= leastM*(1-rounded) {
			s.Lies, s.Slight = false, true
		}
		out = append(out, s)
	}
	return out
}

// levelOn reports whether the depths before the k-th and from it on are even for longer than a
// line is that goes deeper by itself.
func levelOn(rs []Reading, k int, by float64) bool {
	if k < longDepths || k+longDepths > len(rs) {
		return false
	}
	span := func(rs []Reading) float64 {
		lo, hi := math.Inf(1), 0.0
		for _, r := range rs {
			lo, hi = math.Min(lo, r.DepthM), math.Max(hi, r.DepthM)
		}
		return math.Log(hi / lo)
	}
	return math.Max(span(rs[k-longDepths:k]), span(rs[k:k+longDepths])) <= longShare*math.Abs(by)
}

// leastStep is what depths step by at least, in logs, the step that they are shown on, and the
// longest stride within which they do.
type leastStep struct{ ln, figureM, strideM float64 }

// scatter is what one depth scatters from the next, one sigma in logs.
func scatter(rs []Reading) float64 {
	var by []float64
	for k := 1; k < len(rs); k++ {
		by = append(by, math.Abs(math.Log(rs[k].DepthM/rs[k-1].DepthM)))
	}
	if len(by) == 0 {
		return 0
	}
	return ranked.NormalSigma * ranked.Median(by) / math.Sqrt2 // a difference of two has the error of both: derived
}

// stepAt is by how much the depths before the k-th and those from it on are apart, in logs;
// 0 where they are not two even levels one stride apart.
func stepAt(rs []Reading, k int, least leastStep) float64 {
	level := func(rs []Reading) (ln, span, shallowest, deepest float64) {
		var of []float64
		for _, r := range rs {
			of = append(of, math.Log(r.DepthM))
		}
		shallowest, deepest = slices.Min(of), slices.Max(of)
		nextFigure := math.Log1p(least.figureM * math.Exp(-shallowest))
		return ranked.Median(of), math.Max(0, deepest-shallowest-nextFigure), shallowest, deepest
	}
	before, spanB, shallowB, deepB := level(rs[k-levelDepths : k])
	after, spanA, shallowA, deepA := level(rs[k : k+levelDepths])
	by := after - before
	whole := math.Max(deepA-shallowB, deepB-shallowA)
	if atOnce := math.Abs(math.Log(rs[k].DepthM / rs[k-1].DepthM)); atOnce < onceShare*whole {
		return 0 // on a ramp, which goes on before and after
	}
	leastOffM := leastM
	if levelOn(rs, k, by) {
		leastOffM = leastLongM
	}
	if math.Abs(by) < least.ln || math.Abs(math.Exp(after)-math.Exp(before)) < leastOffM*(1-rounded) || math.Max(spanB, spanA) > evenShare*math.Abs(by) {
		return 0
	}
	if !oneStride(rs[k-1], rs[k], math.Exp(math.Min(before, after)), math.Exp(math.Max(before, after)), least.strideM) {
		return 0
	}
	return by
}

// oneStride reports whether depths go over to another level within one stride. Where two lines
// are heard, or the line stands upright, a depth may be shown that is beyond both levels: such a
// one parts the way in strides of its own, as one on a ramp from one to the other does not.
func oneStride(a, b Reading, shallowM, deepM, strideM float64) bool {
	at := a.StationM
	for _, l := range b.Before {
		if l.DepthM > shallowM && l.DepthM < deepM {
			continue
		}
		if l.StationM-at > strideM {
			return false
		}
		at = l.StationM
	}
	return b.StationM-at <= strideM && (len(b.Before) == 0 || b.StationM-a.StationM <= mostStrides*strideM)
}

// parts reports whether all depths before the k-th are on one side of the middle, in logs, between
// the levels there, and all from it on on the other.
func parts(rs []Reading, k int) bool {
	middle := math.Sqrt(rs[k-1].DepthM * rs[k].DepthM)
	deeper := rs[k].DepthM > middle
	for i, r := range rs {
		if (r.DepthM > middle) != (deeper == (i >= k)) {
			return false
		}
	}
	return true
}

// backAgain is where depths that stepped away at the k-th step back; 0 where they do not.
func backAgain(rs []Reading, k int, there float64, least leastStep) int {
	for m := k + levelDepths; m+levelDepths <= len(rs) && rs[m].StationM-rs[k].StationM <= longestM; m++ {
		if back := stepAt(rs, m, least); back*there < 0 && math.Abs(back+there) <= backShare*math.Abs(there) {
			return m
		}
	}
	return 0
}

// apart is by how much the depths of some readings are other than those about them, in logs
// and in metres, and whether signal or current show that the line itself lies so: over a
// line at another depth the signal changes by as much to the other side (Ampère's law), and
// the current, which a receiver makes of both, does not.
func apart(on, about []Reading) (byLn, offM float64, lies bool) {
	depth := func(r Reading) float64 { return r.DepthM }
	byLn = of(on, depth) - of(about, depth)
	offM = math.Abs(math.Exp(of(on, depth)) - math.Exp(of(about, depth)))
	if by := of(on, signal) - of(about, signal); !math.IsNaN(by) {
		return byLn, offM, -by/byLn > seenShare
	}
	current := func(r Reading) float64 { return r.CurrentMA }
	by := of(on, current) - of(about, current)
	return byLn, offM, !math.IsNaN(by) && math.Abs(by/byLn) < seenShare
}

func signal(r Reading) float64 { return r.Signal }

// of is the median of the logs of what some readings show; unknown of fewer than two.
func of(rs []Reading, what func(Reading) float64) float64 {
	var ln []float64
	for _, r := range rs {
		if x := what(r); x > 0 {
			ln = append(ln, math.Log(x))
		}
	}
	if len(ln) < 2 {
		return math.NaN()
	}
	return ranked.Median(ln)
}

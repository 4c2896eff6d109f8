package bleed

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Check is a check made in the field and how it came out.
type Check struct {
	Kind     trace.CheckKind
	Index    int // of the caller's reading
	StationM float64
	Pos      geo.XY
	Outcome  trace.Outcome
	Remark   trace.Remark
	// FromM and ToM are the stretch in which a transmitter's own field may be in what was
	// read, of a check that saw one; it may go on beyond the line.
	FromM, ToM float64
}

// liftSpread is by how many sigmas of the two depths growth may miss the lift
// before that counts as failed. A miss beyond the band that noise explains, and a lift so
// short that noise would excuse no growth at all, tell nothing either way. Judgement.
const liftSpread = 2

// LiftChecks pairs the raised readings of a line with the nearest ground reading, in time
// where both have one and else in place, and judges them: depth must grow by
// the lift within 15 % (beyond what the noise of the two depths explains), and
// the signal must fall. Raised readings without a ground reading within 1 m and three
// times the positions' error, or without a depth, give no check. DepthRel is the relative noise of depth,
// one sigma.
func LiftChecks(line Line, depthRel float64) []Check {
	if !slices.ContainsFunc(line.Readings, func(r trace.Reading) bool { return r.Status == trace.StatusCheck }) {
		return nil
	}
	rds := inStationOrder(line.Readings)
	full, stepM := fullScale(rds), shownStep(line.Readings)
	ground := slices.DeleteFunc(withoutClipped(rds), func(g reading) bool { return g.SetAside })
	var out []Check
	for i := range line.Readings {
		if line.Readings[i].Status != trace.StatusCheck {
			continue
		}
		r := readingOf(&line.Readings[i], i)
		if r.SignalLow >= full {
			r.SignalLow, r.SignalHigh = math.NaN(), math.NaN() // it may be more
		}
		if !(r.RaiseM > 0) || !(r.DepthM > 0) {
			continue
		}
		if g, ok := groundOf(r, ground); ok {
			out = append(out, judgeLift(g, r, depthRel, stepM))
		}
	}
	return out
}

// groundOf finds the reading that a raised one belongs to.
func groundOf(r reading, ground []reading) (reading, bool) {
	best, found := reading{}, false
	rank := func(g reading) float64 {
		if d := math.Abs(g.timeS() - r.timeS()); !math.IsNaN(d) {
			return d
		}
		return g.Pos.Dist(r.Pos)
	}
	for _, g := range ground {
		if !(g.DepthM > 0) || !(g.Pos.Dist(r.Pos) <= pairReachM(g, r)) {
			continue
		}
		if !found || rank(g) < rank(best) {
			best, found = g, true
		}
	}
	return best, found
}

// pairReachM is how far apart the two readings of a lift may be recorded.
func pairReachM(g, r reading) float64 {
	return 1 + 3*math.Max(positionSigma(g), positionSigma(r))
}

// shownStep is the step of the depths that the display shows, of raised readings too.
func shownStep(rds []trace.Reading) float64 {
	var shown []float64
	for i := range rds {
		if rds[i].DepthM > 0 {
			shown = append(shown, rds[i].DepthM)
		}
	}
	return receiver.DepthStep(shown)
}

func judgeLift(g, r reading, depthRel, stepM float64) Check {
	growth := r.DepthM - g.DepthM
	noise := math.Hypot(depthRel*math.Hypot(g.DepthM, r.DepthM), stepM/math.Sqrt(6)) // derived, of two figures, each rounded
	off := math.Abs(growth - r.RaiseM)
	c := Check{Kind: trace.CheckLift, Index: int(r.index), StationM: r.StationM, Pos: r.Pos}
	grows := off <= receiver.LiftBand*r.RaiseM+liftSpread*noise
	tooSmall := receiver.LiftBand*r.RaiseM+liftSpread*noise >= r.RaiseM
	before, after := signalOf(g), signalOf(r)
	known := before > 0 && after > 0
	falls := !known || after < before
	switch {
	case !grows || !falls:
		c.Outcome = trace.OutcomeFailed
	case off > receiver.LiftBand*r.RaiseM || tooSmall:
		c.Outcome = trace.OutcomeInconclusive
	default:
		c.Outcome = trace.OutcomePassed
	}
	shown := remark.Lift{RaiseM: r.RaiseM, GrowthM: growth, SignalRatio: trace.Unknown, AloneRatio: trace.Unknown, Shows: remark.LiftNothing}
	if known {
		shown.SignalRatio, shown.AloneRatio = after/before, 1/receiver.RatioOverLine(g.DepthM, r.RaiseM)
	}
	switch {
	case !falls:
		shown.Shows = remark.LiftSignalStays
	case !grows && growth > r.RaiseM:
		shown.Shows = remark.LiftTooDeep
	case !grows:
		shown.Shows = remark.LiftTooShallow
	case off > receiver.LiftBand*r.RaiseM:
		shown.Shows = remark.LiftInScatter
	case tooSmall:
		shown.Shows = remark.LiftTooSmall
	}
	c.Remark = shown
	return c
}

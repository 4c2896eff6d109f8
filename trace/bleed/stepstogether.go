package bleed

import (
	"math"
	"slices"
)

// A branch takes current away and leaves the depth, fittings take a line deeper and leave its
// current: what goes over to another level in both from one reading to the next, each by less
// than anybody looks at alone, is as often another line. Judgement.
const (
	// leastTogether is by what part depth and current change at least, in logs.
	leastTogether = 0.1
	// togetherSigmas is how many times its error, and its track's scatter from one to the
	// next, each changes.
	togetherSigmas = 4
	// currentPart is what part of the depth's change the current's is at least: over a line
	// that steps down or up, the current shown follows the depth by up to a third of it, for
	// the field is that of a bent one. Measured on four deep dips of a third world.
	currentPart = 0.5
	// suddenPart of either step lies between the two readings next to it: a ramp has a slope
	// that the levels on either side of it make a step of.
	suddenPart = 0.5
)

// depthTrack is the ln of the depth as it was read.
func (c *columns) depthTrack() track {
	return c.track(leastTogether, func(k int) (v, bend, figure float64, ok bool) {
		return c.lnD[k] + c.bend.lnD[k], c.bend.lnD[k], c.round.depthStep(k), c.varD[k] < nothing
	})
}

// withDepth are the steps of the current, of those too small to be told alone as well, at which
// the depth goes over to another level.
func (m unmapped) withDepth() []edge {
	t := m.currentTrack()
	t.leastStep, t.sigmas = leastTogether, togetherSigmas
	return slices.DeleteFunc(t.edges(m.branches), func(e edge) bool { return !m.depthSteps(t, e) })
}

// depthSteps reports whether the depth goes over to another level where a track does, at once:
// over some strides a line does that by itself. A current alone comes without any depth.
func (m unmapped) depthSteps(t track, e edge) bool {
	if m.lnI != nil || !t.sudden(e) {
		return false
	}
	depth := m.depthTrack()
	depth.sigmas = togetherSigmas
	d, sure := depth.stepAt(t.on[e.before-1], t.on[e.after])
	return sure && depth.sudden(d) && math.Abs(e.by) >= currentPart*math.Abs(d.by)
}

// sudden reports whether most of a step is taken from one value to the next, or the one after.
func (t track) sudden(e edge) bool {
	return e.atOnce() && (t.v[e.after]-t.v[e.before-1])*math.Copysign(1, e.by) >= suddenPart*math.Abs(e.by)
}

// apartFrom are those of some steps that are not about any of others.
func apartFrom(some, others []edge) []edge {
	return slices.DeleteFunc(slices.Clone(some), func(o edge) bool {
		return slices.ContainsFunc(others, func(e edge) bool { return o.before < e.after+sideLevel && e.before < o.after+sideLevel })
	})
}

// stepAt is the step of a column where another steps, between two readings, if it is sure.
func (t track) stepAt(before, after int) (e edge, sure bool) {
	a, b := slices.Index(t.on, before)+1, slices.Index(t.on, after)
	if a == 0 || b < a || math.IsNaN(t.sigma) {
		return e, false
	}
	by, sure := t.stepOver(a, b)
	return edge{before: a, after: b, by: by}, sure
}

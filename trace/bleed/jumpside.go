package bleed

import "math"

// otherOfItsKind is how often a trace that begins along a record of its own kind of utility
// and steps aside from it has begun on that record's line, which is not its own, and come to
// its own. Judgement: one record in ten or so is of a second line of the kind, and a walk
// begins at the hookup.
const otherOfItsKind = 0.1

// walkBegins is over how many readings it is seen on what a walk begins, of which one may
// stand aside. Judgement.
const walkBegins = 3

// orTheRestJumped returns the odds that a run that may have jumped has, and not the rest of
// the walk: a step of marks, depth and current between two runs tells that they are of two
// lines, and nothing of which is the one to be traced. A record of the line's own kind on
// which the walk began does.
func (m meeting) orTheRestJumped(odds float64, from, to int) float64 {
	if !m.mayBeOwn || !m.col.beginsWalk(from, to) && !m.walkBeganOn() || m.restIsOfItsKind(from, to) {
		return odds
	}
	return logit(otherOfItsKind / (1 + math.Exp(-odds)))
}

// walkBeganOn reports whether the first marks of the walk lie on the neighbour.
func (m meeting) walkBeganOn() bool {
	first, step, on := 0, m.col.onward(), 0
	if step < 0 {
		first = len(m.on) - 1
	}
	for i := range min(walkBegins, len(m.on)) {
		if m.on[first+i*step].lies() {
			on++
		}
	}
	return on >= walkBegins-1
}

// restIsOfItsKind reports whether what lies outside readings [from, to] runs along another
// record of the line's own kind, so that neither is known by its kind.
func (m meeting) restIsOfItsKind(from, to int) bool {
	for _, e := range m.near {
		if !e.mayBeOwn || e.path == m.neighbour.path {
			continue
		}
		on, rest := 0, 0
		for k, at := range e.at {
			if k >= from && k <= to {
				continue
			}
			rest++
			if math.Abs(at.asideM) < onSigmas*max(leastOnM, at.sigmaM) {
				on++
			}
		}
		if 2*on >= rest {
			return true
		}
	}
	return false
}

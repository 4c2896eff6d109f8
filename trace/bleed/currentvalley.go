package bleed

import "math"

// valleyScore is that of a rise out of a valley: a conductor beside that carried a part of the
// current up to a bond there does as much, and then the trace is on its line past it. Judgement.
const valleyScore = 0.2

// valley reports whether the current was surely higher somewhere on the walk up to a step
// than it came to be nearer to the step, which rises from there: it falls along the walk,
// then, whatever it does next to the step, for from a place that is not the transmitter's the
// current of one line cannot rise to both sides. A walk begins at the hookup more often than
// it comes to it, so that a step down whose lower side rises again farther on is taken for
// the branch that it mostly is.
func (t track) valley(e edge) bool {
	high, fell := math.Inf(-1), 0.0
	for k := 0; k+mostSide <= e.before; k++ { // levels of mostSide values
		level := middle(t.v[k : k+mostSide])
		high = math.Max(high, level)
		fell = math.Max(fell, high-level)
	}
	return e.by > 0 && fell >= math.Max(currentLevel, riseSigmas*t.sigma)
}

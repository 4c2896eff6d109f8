package fit

import (
	"math"

	"loamline.example/trace/ranked"
)

// Student's degrees of freedom of a spacing, and the least spread of its
// logarithm. Judgement; the former is that of chords (studentNu).
const (
	spacingNu          = 3.0
	leastSpacingSpread = 0.2
)

// spacingDeviance is -2 ln of how likely the steps along the line are: a locator marks
// at fairly even distances (common practice, no source), so that a line that goes
// aside and comes back between two readings is less likely than a position that
// leapt. Their spread is that of the walk's own steps, with heavy tails.
func (t *traced) spacingDeviance() float64 {
	w := t.w
	spread := w.evenly().stride
	cost, last := 0.0, -1
	for i := range w.obs {
		o := &w.obs[i]
		if o.fate != Used || o.exposed {
			continue
		}
		if last >= 0 {
			usual := float64(i-last) * w.stepM
			if way := math.Abs(o.stationM - w.obs[last].stationM); way > usual {
				v := sq(spread) + 2*sq(o.sigmaM/usual)
				cost += (spacingNu + 1) * math.Log1p(sq(math.Log(way/usual))/v/spacingNu)
			}
		}
		last = i
	}
	return cost
}

// spacingSpread is one sigma of ln of the steps from reading to reading, by the
// median, which leaps can't move.
func (w *walk) spacingSpread() float64 {
	ln := make([]float64, 0, len(w.obs))
	for i := 1; i < len(w.obs); i++ {
		if d := w.obs[i].p.Dist(w.obs[i-1].p); d > 1e-6 {
			ln = append(ln, math.Abs(math.Log(d/w.stepM)))
		}
	}
	if len(ln) == 0 {
		return leastSpacingSpread
	}
	return math.Max(leastSpacingSpread, ranked.NormalSigma*median(ln))
}

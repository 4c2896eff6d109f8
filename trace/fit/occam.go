package fit

import "math"

// What a run may be before any reading is seen: corners come every cornerEveryM
// or so, a run may leave one at any angle, and an arc may bend to either side
// (judged; no source).
const (
	cornerEveryM = 50.0
	freeTurn     = 2.2 // rad
	bendRange    = 0.3 // 1/m
)

// occam is -2 ln of a run's Occam factor: by how much what it might have been
// shrinks to what its readings leave of it (MacKay 1992, Neural Comput. 4:415).
// With the misfit it is -2 ln of the run's marginal likelihood. It is dearer
// where positions are good, for a curve that could have been anywhere and passes
// every reading by centimetres was made to: Schwarz's price, which is the same
// for any noise, lets such a curve take in positions that leap by metres.
//
// It is held for the noise with which the run was cut; against noise by a factor
// f smaller it grows by 2·edf·ln f.

// lineOccam is that of a straight line with the moments m.
func (m *moments) lineOccam() float64 {
	sxx, sxy, syy := m.scatter()
	along := (sxx+syy)/2 + math.Hypot((sxx-syy)/2, sxy)
	return math.Log(math.Max(m.w*along, leastInformation)) + lineRange()
}

// leastInformation keeps the logarithm in bounds for runs without length. A bound of the
// arithmetic.
const leastInformation = 1e-6

// smoothOccam is that of a smooth run: -2 ln of its restricted likelihood,
// without the misfit, in which nodes hM apart stand for offset and heading.
func smoothOccam(minusTwoLn, rss, hM float64) float64 {
	return minusTwoLn - rss + 2*math.Log(hM) + lineRange()
}

// lineRange is 2 ln of the range of offset and heading, less what the two
// normal densities leave out of the likelihoods.
func lineRange() float64 {
	return 2*math.Log(cornerEveryM*freeTurn) - 2*math.Log(2*math.Pi)
}

// -2 ln of the odds of a bend against a straight run: most of a line is laid
// straight (common practice, no source).
const (
	arcCost    = 3.0
	smoothCost = 4.0
)

// kindCost is that of the run's kind.
func (r *run) kindCost() float64 {
	switch {
	case r.straight:
		return 0
	case r.arc:
		return arcCost
	}
	return smoothCost
}

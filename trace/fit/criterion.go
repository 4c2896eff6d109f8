package fit

import "math"

// unreadPrice is what a leg costs, in parameters, that turns a corner and no
// reading supports: it is a piece of its own. Judgement: more than the lineParams of a piece
// that readings support.
const unreadPrice = 5.0

// criterion is -2 ln of how likely the shape is, the likeliest noise model
// given: of the readings left out, of each run's Occam factor, of the steps along
// the line, and of the offsets; bends that set out as a tangent gain. Legs that
// nothing supports, changes of side and bends between runs cost parameters by Schwarz's
// price (1978, Ann. Stat. 6:461). The noise is not taken to be smaller than stated
// unless neighbours scatter less: a curve through every reading is no evidence of
// perfect positions.
func (t *traced) criterion() float64 {
	score, used := t.outliers(verdict{})
	price := segmentPrice(used)
	score += price * (unreadPrice*float64(t.sh.unread) + sideChangePrice*float64(t.sh.sideChanges()))
	if len(t.sh.bends) > 0 {
		score += price
	}
	edf := 0.0
	for i := range t.sh.runs {
		r := &t.sh.runs[i]
		score += r.occam + r.kindCost()
		edf += r.edf
	}
	score += t.spacingDeviance() - tangentGain*float64(t.sh.tangents())
	res := t.w.residuals(t.sh, maxNoiseReadings)
	if len(res) == 0 {
		return score
	}
	meanScatter := t.w.meanScatter()
	best, least := math.Inf(1), math.Min(1, meanScatter)
	cut := t.scale * clamp(meanScatter, leastScatter, mostScatter)
	rest := float64(used) / float64(len(res))
	t.w.eachNoise(res, design{}, coarseNoise, func(m noiseModel, minusTwoLn float64) {
		if m.factor >= least {
			best = math.Min(best, minusTwoLn*rest+2*edf*math.Log(cut/m.factor))
		}
	})
	return score + best
}

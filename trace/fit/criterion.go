package fit

import "math"

// strayCost is -2 ln of the density of a blunder across the line: one reading
// in ten, anywhere within 10 m to either side. Blunders come in bursts, so that
// the next one is likelier, and likelier still where it leaps by as much as the
// one before: a false fix holds for a while.
const (
	strayCost     = 8.8
	nextStrayCost = 5.0
	sameLeapCost  = 1.8
	leastLeapM    = 0.2
	plainLeap     = 4.0 // sigmas
)

// unreadPrice is what a leg costs, in parameters, that turns a corner and no
// reading supports: it is a piece of its own.
const unreadPrice = 5.0

// criterion is -2 ln of the likelihood of the offsets under the likeliest noise
// model, plus Schwarz's price of the shape (1978, Ann. Stat. 6:461). The noise
// is not taken to be smaller than stated unless neighbours scatter less: a curve
// through every reading is no evidence of perfect positions.
func (t *traced) criterion() float64 {
	score, used := t.strays()
	price := segmentPrice(used)
	for i := range t.sh.runs {
		score += price * t.sh.runs[i].params()
	}
	score += price * (unreadPrice*float64(t.sh.unread) + swingPrice*float64(t.sh.swings()))
	if len(t.sh.bends) > 0 {
		score += price
	}
	res := t.w.residuals(t.sh, maxNoiseReadings)
	if len(res) == 0 {
		return score
	}
	best, least := math.Inf(1), math.Min(1, t.w.wobble())
	t.w.eachNoise(res, design{}, coarseNoise, func(m noiseModel, minusTwoLn float64) {
		if m.factor >= least {
			best = math.Min(best, minusTwoLn)
		}
	})
	return score + best*float64(used)/float64(len(res))
}

// strays is the cost of the readings left out, and the number of the others.
func (t *traced) strays() (cost float64, used int) {
	burst := false
	for i := range t.w.obs {
		o := &t.w.obs[i]
		switch {
		case o.fate == Used:
			used, burst = used+1, false
		case burst:
			cost += t.nextStray(o, &t.w.obs[i-1])
		default:
			small := sq(leastLeapM) / math.Max(sq(o.offsetM), sq(0.1*leastLeapM))
			cost, burst = cost+strayCost+2*math.Log1p(small), true
		}
	}
	return cost, used
}

// nextStray is the cost of a reading left out after another. Where both leap by
// the same, and by more than the positions drift, only the noise is new.
func (t *traced) nextStray(o, before *observation) float64 {
	v := 2 * (sq(o.sigmaM) + sq(t.w.floorM))
	if sq(before.offsetM) < sq(plainLeap)*v/2 {
		return nextStrayCost
	}
	leap := o.offsetM - before.offsetM
	return math.Min(nextStrayCost, sameLeapCost+math.Log(v)+leap*leap/v)
}

package fit

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// How leaps come, for the cost of a reading left out. A leap lies anywhere within
// leapRangeM, which is short because leaps of a few metres are the more usual
// ones; one that follows another leap and differs from it, anywhere within
// nextRangeM. A false fix holds for a while, so that the next reading often leaps
// by the same as the one before (judged on made-up walks; no source).
const (
	leapRangeM   = 4.5
	nextRangeM   = 20.0
	sameLeapCost = 1.8
	mostSameLeap = 7.0 // cost from which on two leaps are two
	leastLeapM   = 0.2
	plainLeap    = 4.0 // sigmas
	// What lies farther off is no leap of the receiver's but another place, and
	// says nothing of how often its positions leap.
	mostLeapM = 30.0
	farCost   = 10.0
)

// Prior of the share of readings that leap, a beta distribution: most walks have
// none, some have many, so that the first costs most. Judgement.
const (
	leapsBefore = 0.5
	fixesBefore = 5.0
)

// outliers is -2 ln of how likely the readings left out are as leaps, and the
// number of the others, as they would be with a group of them left out. How often
// positions leap is not known and integrated out, which makes the number of leaps
// beta-binomial.
func (t *traced) outliers(without verdict) (cost float64, used int) {
	leaps, aside, run := 0, 0, outlierPatch{}
	inUse := func(i int) bool { return t.w.obs[i].fate == Used && (i < without.from || i >= without.to) }
	for i := range t.w.obs {
		o := &t.w.obs[i]
		if inUse(i) {
			used, aside = used+1, 0
			continue
		}
		if i < run.to {
			aside++
			cost += t.w.sameAside(o, run)
			continue
		}
		if math.Abs(o.offsetM) > mostLeapM {
			cost += farCost
			continue
		}
		if aside++; aside == 1 {
			run, _ = t.w.leaptRun(i, inUse)
			// Bounded, for a reading may lie on the line that leapt along it: judgement.
			small := sq(leastLeapM) / math.Max(sq(o.offsetM), sq(0.1*leastLeapM))
			leaps++
			cost += rangeCost(leapRangeM) + 2*math.Log1p(small)
			continue
		}
		if c := t.sameLeap(o, &t.w.obs[i-1]); c < mostSameLeap {
			cost += c
			continue
		}
		leaps++
		cost += rangeCost(nextRangeM)
	}
	before, after := mathext.Lbeta(leapsBefore, fixesBefore), mathext.Lbeta(leapsBefore+float64(leaps), fixesBefore+float64(used))
	return cost + 2*(before-after), used
}

// rangeCost is -2 ln of an even density over a range, on the scale of normal
// densities without their 2π.
func rangeCost(rangeM float64) float64 { return 2*math.Log(rangeM) - math.Log(2*math.Pi) }

// sameLeap is the cost of a reading that leaps as the one before did, by more
// than positions drift: the noise is new, and what a false fix is off by drifts.
func (t *traced) sameLeap(o, before *observation) float64 {
	v := 2 * (sq(o.sigmaM) + sq(t.w.floorM))
	if sq(before.offsetM) < sq(plainLeap)*v/2 {
		return math.Inf(1)
	}
	v += sq(asideDrift * before.offsetM)
	return sameLeapCost + math.Log(v) + sq(o.offsetM-before.offsetM)/v
}

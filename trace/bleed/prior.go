package bleed

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// Odds before any sign: how often a neighbour within reach carries signal, by
// hookup and frequency. Ranking as in CCGA Best Practices 3.0, 3-11 (direct
// connection couples least, induction most; high frequencies couple more); the
// figures are judgement.
const (
	neighbourPrior = 0.45
	unknownPrior   = 0.05
	mostPrior      = 0.6
	directFactor   = 0.6
	airFactor      = 1.5 // by induction, or from a current that nobody sent
	lowFactor      = 0.6
	highFactor     = 1.5
	// displacedKnown is how many times likelier signal on a conductor in no drawn place is
	// where a line is drawn near: records err, and marks that signal has drawn aside put
	// the line, and what was traced beside it, elsewhere.
	displacedKnown = 3
)

func (c *columns) prior(e neighbour, lo, hi int) float64 {
	p := neighbourPrior
	if e.at == nil {
		p = unknownPrior
	}
	r := c.rd[(lo+hi)/2]
	return min(mostPrior, p*hookupFactor(r.Hookup)*freqFactor(r.FreqHz))
}

// priorAmong is prior, with a mind to what else is drawn near.
func (c *columns) priorAmong(e neighbour, all []neighbour, lo, hi int) float64 {
	p := c.prior(e, lo, hi)
	if e.at == nil && slices.ContainsFunc(all, func(o neighbour) bool { return o.at != nil && o.near(c, lo, hi) }) {
		p = min(mostPrior, displacedKnown*p)
	}
	return p
}

func hookupFactor(hookup trace.Hookup) float64 {
	switch hookup {
	case trace.HookupDirect:
		return directFactor
	case trace.HookupInduction, trace.HookupPassive:
		return airFactor
	}
	return 1
}

func freqFactor(freqHz float64) float64 {
	switch {
	case freqHz <= receiver.LowFreqHz:
		return lowFactor
	case freqHz >= receiver.HighFreqHz:
		return highFactor
	}
	return 1
}

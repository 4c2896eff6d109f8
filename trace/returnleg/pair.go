package returnleg

import (
	"math"
	"sync"

	"loamline.example/trace/receiver"
)

// Over two long level legs, legsM apart and depthM down, with a current of 1 in the own leg and
// of times back along the other, the horizontal field a height z above the legs and x metres
// outward of the own leg is, in common units,
//
//	z/(x² + z²) − times·z/((x + legsM)² + z²)
//
// by Ampère's law. Its peak stands outward of the leg.

// Over what the pairs are asked, in steps that are fine enough not to show (judgement: time).
// The currents of two legs differ by a factor of mostTimes at most: a leak, the earth about an
// induction, a service between.
const (
	mostTimes    = 2.5
	timesTries   = 4 // to each side of none
	legsSteps    = 64
	leastLegsIn  = 0.1 // depths
	mostLegsIn   = 8.0
	peakStep     = 0.02 // depths
	farthestPeak = 3.0
	noPeak       = -1.0
)

// mark is what was marked over a leg.
type mark int

const (
	peak mark = iota // of the field across
	null             // of the field downward
	marks
)

// outward is how far what is marked stands outward of a leg, in depths, by the logarithm of
// legs in depths; noPeak where the stronger field beside leaves none.
var outward = sync.OnceValue(func() *[marks][2*timesTries + 1][legsSteps + 1]float64 {
	var table [marks][2*timesTries + 1][legsSteps + 1]float64
	for k := range 2*timesTries + 1 {
		for i := range legsSteps + 1 {
			legs := leastLegsIn * math.Pow(mostLegsIn/leastLegsIn, float64(i)/legsSteps)
			table[peak][k][i], table[null][k][i] = peakOut(legs, times(k)), nullOut(legs, times(k))
		}
	}
	return &table
})

// times is the k-th ratio of currents.
func times(k int) float64 { return math.Pow(mostTimes, float64(k-timesTries)/timesTries) }

func across(x, z, legs, times float64) float64 {
	return z/(x*x+z*z) - times*z/((x+legs)*(x+legs)+z*z)
}

func peakOut(legs, times float64) float64 {
	best, last := 0.0, across(0, 1, legs, times)
	for x := peakStep; x < farthestPeak; x += peakStep {
		f := across(x, 1, legs, times)
		if f < last {
			break
		}
		best, last = x, f
	}
	if last <= 0 || best+2*peakStep >= farthestPeak {
		return noPeak
	}
	return best
}

// nullOut is where the field downward of the one leg cancels that of the other.
func nullOut(legs, times float64) float64 {
	for x := peakStep; x < farthestPeak; x += peakStep {
		if x/(x*x+1) >= times*(x+legs)/((x+legs)*(x+legs)+1) {
			return x - peakStep/2
		}
	}
	return noPeak
}

// outM is how far what is marked stands outward of a leg, in metres.
func outM(m mark, k int, legsM, depthM float64) float64 {
	u := legsSteps * math.Log(legsM/depthM/leastLegsIn) / math.Log(mostLegsIn/leastLegsIn)
	switch {
	case u < 0:
		return math.NaN()
	case u >= legsSteps:
		return 0
	}
	row := &outward()[m][k]
	i := int(u)
	if row[i] == noPeak || row[i+1] == noPeak {
		return math.NaN()
	}
	return depthM * (row[i] + (u-float64(i))*(row[i+1]-row[i]))
}

// legsM is how far apart the legs lie at a depth whose peaks stand peaksM apart, and how far
// outward the peak of the own one stands; false where none do.
func legsM(m mark, k int, peaksM, depthM float64) (legs, out float64, ok bool) {
	lo, hi := leastLegsM, peaksM
	for range legsRounds {
		legs = (lo + hi) / 2
		own, other := outM(m, k, legs, depthM), outM(m, 2*timesTries-k, legs, depthM)
		if out = own; math.IsNaN(own+other) || legs+own+other < peaksM {
			lo = legs
		} else {
			hi = legs
		}
	}
	sum := legs + out + outM(m, 2*timesTries-k, legs, depthM)
	return legs, out, math.Abs(sum-peaksM) < samePeaks*peaksM
}

// legsRounds and samePeaks are of the arithmetic, and leastLegsM judgement: nearer to each other
// no legs lie in a trench.
const (
	legsRounds = 10
	samePeaks  = 0.05
	leastLegsM = 0.3
)

// shownM is the depth that two antennas show over the peak of the own leg.
func shownM(k int, legs, out, depthM, gapM float64) float64 {
	low, high := across(out, depthM, legs, times(k)), across(out, depthM+gapM, legs, times(k))
	if low <= 0 || high <= 0 {
		return math.NaN()
	}
	return receiver.TwoAntennaDepthM(low, high, gapM)
}

// seen is what the readings show of two legs: how far apart their peaks stand, and which
// depths were shown over them.
type seen struct{ peaksM, ownM, otherM, gapM float64 }

// held is what the legs may be: how far inward of its peak the own one lies, and how deep.
type held struct {
	in, depth [2]float64
	any       bool
}

// depthTries is time; what is shown may be off by shownLn in its logarithm, and by shownOffM, for gap, noise and
// legs of different depths: judgement.
const (
	depthTries = 40
	shownLn    = 0.25
	shownOffM  = 0.02 // and in metres, as receivers round
)

// hold takes in every pair of legs that shows that.
func (h *held) hold(s seen) {
	from := s.ownM * math.Exp(-shownLn)
	most := math.Max(math.Sqrt(3)*s.peaksM/2, from) * mostDeeper
	for i := range depthTries {
		depth := from * math.Pow(most/from, float64(i)/(depthTries-1))
		for k := range 2*timesTries + 1 {
			for m := range marks {
				h.try(s, m, k, depth)
			}
		}
	}
}

// try takes in a pair that shows that; what other rules than that of two antennas give lies
// between that and the depth.
func (h *held) try(s seen, m mark, k int, depth float64) {
	legs, out, ok := legsM(m, k, s.peaksM, depth)
	if !ok {
		return
	}
	own := shownM(k, legs, out, depth, s.gapM)
	other := shownM(2*timesTries-k, legs, s.peaksM-legs-out, depth, s.gapM)
	if own > s.ownM*math.Exp(shownLn)+shownOffM || other > s.otherM*math.Exp(shownLn)+shownOffM || depth < math.Max(s.ownM, s.otherM)*math.Exp(-shownLn) {
		return
	}
	if !h.any {
		*h = held{[2]float64{out, out}, [2]float64{depth, depth}, true}
	}
	h.in = [2]float64{math.Min(h.in[0], out), math.Max(h.in[1], out)}
	h.depth = [2]float64{math.Min(h.depth[0], depth), math.Max(h.depth[1], depth)}
}

// mostDeeper is by how much deeper a pair with unlike currents lies than the deepest whose
// currents are alike and whose peaks stand so near (√3/2 of them, derived). Judgement.
const mostDeeper = 1.2

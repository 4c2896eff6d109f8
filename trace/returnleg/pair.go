package returnleg

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"loamline.example/trace/receiver"
)

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

// pairOf is two long level legs so far apart and so deep, with a current of 1 in the own one,
// over which x is 0 and from which it grows outward, and of times back along the other.
func pairOf(legs, depth, times float64) receiver.Section {
	return receiver.Section{Lines: []receiver.Conductor{{DepthM: depth, CurrentA: 1}, {XM: -legs, DepthM: depth, CurrentA: complex(-times, 0)}}}
}

func peakOut(legs, times float64) float64 {
	both := pairOf(legs, 1, times)
	best, last := 0.0, real(both.Bh(0, 0))
	for x := peakStep; x < farthestPeak; x += peakStep {
		f := real(both.Bh(x, 0))
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
	both := pairOf(legs, 1, times)
	for x := peakStep; x < farthestPeak; x += peakStep {
		if real(both.Bv(x, 0)) >= 0 {
			return x - peakStep/2
		}
	}
	return noPeak
}

// outIn is how far what is marked stands outward of a leg, in depths as legs are.
func outIn(m mark, k int, legs float64) float64 {
	u := legsSteps * math.Log(legs/leastLegsIn) / math.Log(mostLegsIn/leastLegsIn)
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
	return row[i] + (u-float64(i))*(row[i+1]-row[i])
}

// apart is two legs whose marks stand so far apart: how far they lie apart themselves, and how
// far outward the own mark stands, in depths; NaN where there are none.
type apart struct{ legs, out float64 }

// inward has them by the logarithm of how far apart the marks stand, in depths.
var inward = sync.OnceValue(func() *[marks][2*timesTries + 1][marksSteps + 1]apart {
	var table [marks][2*timesTries + 1][marksSteps + 1]apart
	for m := range marks {
		for k := range 2*timesTries + 1 {
			for i := range marksSteps + 1 {
				table[m][k][i] = legsIn(m, k, leastMarksIn*math.Pow(mostMarksIn/leastMarksIn, float64(i)/marksSteps))
			}
		}
	}
	return &table
})

func legsIn(m mark, k int, peaks float64) (a apart) {
	lo, hi, sum := leastLegsIn, peaks, 0.0
	for range legsRounds {
		a.legs = (lo + hi) / 2
		own, other := outIn(m, k, a.legs), outIn(m, 2*timesTries-k, a.legs)
		a.out, sum = own, a.legs+own+other
		if math.IsNaN(sum) || sum < peaks {
			lo = a.legs
		} else {
			hi = a.legs
		}
	}
	if !(math.Abs(sum-peaks) < samePeaks*peaks) {
		return apart{math.NaN(), math.NaN()}
	}
	return a
}

// legsM is how far apart the legs lie at a depth whose marks stand peaksM apart, and how far
// outward the own one stands; false where none do.
func legsM(m mark, k int, peaksM, depthM float64) (legs, out float64, ok bool) {
	u := marksSteps * math.Log(peaksM/depthM/leastMarksIn) / math.Log(mostMarksIn/leastMarksIn)
	if !(u >= 0 && u < marksSteps) {
		return 0, 0, false
	}
	i := int(u)
	a, b := inward()[m][k][i], inward()[m][k][i+1]
	f := u - float64(i)
	legs, out = depthM*(a.legs+f*(b.legs-a.legs)), depthM*(a.out+f*(b.out-a.out))
	return legs, out, legs >= leastLegsM
}

// legsRounds, samePeaks and the steps between the most and least that marks stand apart, in
// depths, are of the arithmetic, and leastLegsM judgement: nearer to each other no legs lie in
// a trench.
const (
	legsRounds   = 30
	samePeaks    = 0.01
	marksSteps   = 200
	leastMarksIn = 0.3
	mostMarksIn  = 12.0
	leastLegsM   = 0.3
)

// shownM is the depth that two antennas show over the peak of the own leg.
func shownM(k int, legs, out, depthM, gapM float64) float64 {
	both := pairOf(legs, depthM, times(k))
	low, high := real(both.Bh(out, 0)), real(both.Bh(out, gapM))
	if low <= 0 || high <= 0 {
		return math.NaN()
	}
	return receiver.TwoAntennaDepthM(low, high, gapM)
}

// seen is what the readings show of two legs: how far apart their peaks stand, and which
// depths were shown over them.
type seen struct{ peaksM, ownM, otherM, gapM float64 }

// pair is two legs that may show what was seen: how far inward of its mark the own one lies,
// how deep, and how likely.
type pair struct{ in, depth, weight float64 }

// How likely pairs are before anything is seen. Legs lie as often at one distance as at another
// and with about as much current; depths are those of usual lines, usualDepthLn about them; most
// mark peaks, as in the fit's prior; and most receivers show by two antennas, good to shownLn
// and shownOffM, while others give anything between that and the depth, which two legs share to
// sameDepthLn: judgement, but for depthTries (time).
const (
	depthTries   = 30
	usualDepthLn = 0.5
	timesLn      = 0.4
	nullPrior    = 0.1
	otherRules   = 0.3
	shownLn      = 0.12
	shownOffM    = 0.02
	sameDepthLn  = 0.1
	byStrayShow  = 6.0 // of the depth, at most, what any rule shows too little
)

// pairs are those that show that, by their likelihood to within a factor.
func (s seen) pairs(out []pair) []pair {
	from := s.ownM * math.Exp(-2*shownLn)
	most := math.Max(math.Sqrt(3)*s.peaksM/2, from) * mostDeeper
	for i := range depthTries {
		depth := from * math.Pow(most/from, float64(i)/(depthTries-1))
		prior := math.Log(most/from) * normal(math.Log(depth/receiver.UsualDepthM)/usualDepthLn)
		for k := range 2*timesTries + 1 {
			for m := range marks {
				w := prior * normal(math.Log(times(k))/timesLn)
				if m == null {
					w *= nullPrior
				}
				if p, ok := s.pair(m, k, depth); ok {
					p.weight *= w
					out = append(out, p)
				}
			}
		}
	}
	return out
}

func normal(z float64) float64 { return math.Exp(-z * z / 2) }

// slopeM is by how much farther apart marks are asked for, to see how many pairs of legs have
// theirs so far apart. Judgement: a fiftieth of a metre, over which nothing bends.
const slopeM = 0.02

// pair is the one of a depth and a ratio of currents, with the likelihood of what is shown.
func (s seen) pair(m mark, k int, depth float64) (pair, bool) {
	legs, out, ok := legsM(m, k, s.peaksM, depth)
	if !ok {
		return pair{}, false
	}
	own := shownM(k, legs, out, depth, s.gapM)
	other := shownM(2*timesTries-k, legs, s.peaksM-legs-out, depth, s.gapM)
	ratioOwn, strayOwn := shows(s.ownM, own, depth)
	ratioOther, strayOther := shows(s.otherM, other, depth)
	like := (1-otherRules)*ratioOwn*ratioOther + otherRules*strayOwn*strayOther
	if like == 0 {
		return pair{}, false
	}
	farther, _, ok := legsM(m, k, s.peaksM+slopeM, depth)
	return pair{out, depth, like * math.Max(0, farther-legs) / slopeM}, ok
}

// shows is the density of the ln of a depth shown where two antennas would show byTwo, by them
// and by other rules.
func shows(shown, byTwo, depth float64) (ratio, stray float64) {
	if byTwo > 0 && !math.IsInf(byTwo, 1) {
		sd := math.Hypot(shownLn, shownOffM/shown)
		ratio = normal(math.Log(shown/byTwo)/sd) / (sd * math.Sqrt(2*math.Pi))
	}
	least, most := math.Max(byTwo, depth/byStrayShow), depth*math.Exp(sameDepthLn)
	if math.IsNaN(least) {
		least = depth / byStrayShow
	}
	least *= math.Exp(-sameDepthLn)
	if shown > least && shown < most {
		stray = 1 / math.Log(most/least)
	}
	return ratio, stray
}

// holds95 is within how much of a value 95 % of the pairs lie.
func holds95(ps []pair, off func(pair) float64) float64 {
	slices.SortFunc(ps, func(a, b pair) int { return cmp.Compare(math.Abs(off(a)), math.Abs(off(b))) })
	total := 0.0
	for _, p := range ps {
		total += p.weight
	}
	sum := 0.0
	for _, p := range ps {
		if sum += p.weight; sum >= 0.95*total { // derived: a 95 % band
			return math.Abs(off(p))
		}
	}
	return 0
}

// mostDeeper is by how much deeper a pair with unlike currents lies than the deepest whose
// currents are alike and whose peaks stand so near (√3/2 of them, derived). Judgement.
const mostDeeper = 1.2

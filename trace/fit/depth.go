package fit

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// sounding is the depth of a reading on the line.
type sounding struct {
	lnDepth, wt float64
	shownM      float64 // as read
	signal      float64 // 0 or NaN without
	lone        float64 // by how much ln of it stands out, with no others about to tell whether it is odd
	at          *placed
}

func (q sounding) station() float64 { return q.at.stationM }

// Depth in the fit. Judgement, but for depthRelPrior and what is said of spikes below: what
// is larger of the logarithms keeps more nonsense in the profile, what is smaller loses
// places that are shallow for a few metres.
const (
	depthRelPrior   = receiver.DepthNoiseRel
	spikeWindow     = 3    // readings to each side
	biasShare       = 0.25 // one sigma of how far the own course is reckoned to pull a mark, of that: corners are rounded
	agreeing        = 0.12 // ln of the depth, between a step's readings
	standsOut       = 0.2  // ln of the depth, of both of two readings
	diving          = 0.35 // ln of the depth, between two readings in a dive
	fieldDoubt      = 0.15 // the same of a correction of depth for the line's own field
	depthReachSteps = 4.0  // a depth serves this many steps beyond its reading
)

// A depth is a spike only where it stands out by leastSpike in ln, about a tenth of it, and by
// ranked.FarMADs times leastSpikeNoise, for rounded depths scatter by nothing; and where there
// are fewestForSpikes, for of fewer none is the odd one. Judgement; that and
// spikeWindow are those of a prototype study of the method.
const (
	leastSpike      = 0.1
	leastSpikeNoise = 0.03
	fewestForSpikes = 5
	nextFigure      = 1.05 // steps: one, as logarithms and centimetres keep it
)

// A depth is the odd one among those about it alone: one that stands out from depths far
// off along the line may be that of a line which lies so. leastAbout others must lie within
// spikeReachM, over which the depth of a line keeps half of what it differs from its level
// (derived from usualReachM by the process of wandering). A lone one that stands out by
// less than mostLone is neither believed nor left out: the band holds it and the level.
// Judgement.
const (
	spikeReachM = 1.7 * usualReachM
	leastAbout  = 2
	mostLone    = math.Ln2 // of the depth: what is half or twice the others' is nonsense oftener
)

// depths fits the depth along the line and writes it into the vertices. It tells
// the relative noise, how far a depth lies outside those read near it, and whether
// it moved vertices to where the line lies that the peak stood beside.
func (t *traced) depths(readings []reading, opt Options, vs []trace.Vertex, ways []way) (rel, outsideM float64, moved bool) {
	s := t.soundings(readings)
	rejectSpikes(s, opt.DepthStepM)
	s = slices.DeleteFunc(s, func(q sounding) bool { return q.at.fate != Used })
	if len(s) == 0 {
		return math.NaN(), 0, false
	}
	own := newOwnField(vs, ways)
	own.setCurrents(t.currents(readings))
	doubt := t.weighSoundings(s, opt, own)
	c, ends := t.depthCurve(s)
	reach := math.Max(depthReachSteps*t.w.stepM, 10)
	quantile := studentQuantile(priorDegrees + math.Max(0, float64(len(s))-2))
	for i := range vs {
		if nearestSounding(s, vs[i].StationM) > reach {
			continue
		}
		v, variance := c.at(vs[i].StationM)
		d := math.Exp(v)
		more := interpolationVariance(nearestSounding(s, vs[i].StationM)) + sq(receiver.DepthFloorRel) + sq(between(len(s), func(k int) float64 { return s[k].station() }, doubt, vs[i].StationM))
		half := func(variance float64) float64 {
			return d * math.Expm1(math.Min(3, quantile*math.Sqrt(variance+more)))
		}
		vs[i].DepthM = d
		along, least := alongHalf(s, &c, vs[i].StationM, d)
		vs[i].Depth95M = math.Max(half(variance), math.Hypot(half(least), along))
		if risen, uncertain := risen(ends, vs[i].StationM); risen > 0 {
			kept := math.Exp(-risen)
			vs[i].Depth95M = math.Max(vs[i].Depth95M, d*(1-kept)+kept*d*quantile*math.Sqrt(math.Max(0, variance-uncertain)))
		}
		if m := outside(s, vs[i].StationM, reach, d); m > outsideRel*d {
			outsideM = math.Max(outsideM, m)
			vs[i].Depth95M = math.Max(vs[i].Depth95M, m)
		}
	}
	return math.Sqrt(c.noise), outsideM, t.removeBias(vs, own)
}

// Depths farther apart than resolvedWithinM to either side fit a line that hardly wanders as
// well as one that goes down and up between them: how much it wanders there is what lines
// do, and not what these depths show. The most of the prior is taken, two spreads up.
const (
	resolvedWithinM = usualReachM / 4 // judgement: less than half the reach apart
	mostSpreads     = 2.0             // derived: a normal prior has 2 % beyond it
)

// interpolationVariance is the variance of ln of the depth that depths no nearer than this leave open
// beyond what they show: what is left of a process of smoothness 3/2 at that distance
// from where it is known (Rasmussen and Williams 2006, as of wandering).
func interpolationVariance(nearestM float64) float64 {
	x := math.Max(0, nearestM-resolvedWithinM) / usualReachM
	kept := (1 + x) * math.Exp(-x)
	return sq(usualWander*math.Exp(mostSpreads*usualWanderSpread)) * (1 - kept*kept)
}

// outsideRel is how far outside what was read a depth may be drawn without a word.
// Judgement: twice the random error of a depth (receiver.DepthNoiseRel).
const outsideRel = 2 * receiver.DepthNoiseRel

// outside is how far a depth lies outside those that were read within reach of a
// station. What the line's own course does to a depth is worked out from currents
// that nobody may have read: the band then holds what was read.
func outside(s []sounding, stationM, reachM, depthM float64) float64 {
	lo, hi := math.Inf(1), 0.0
	for i := sort.Search(len(s), func(i int) bool { return s[i].station() >= stationM-reachM }); i < len(s) && s[i].station() <= stationM+reachM; i++ {
		lo, hi = math.Min(lo, s[i].shownM), math.Max(hi, s[i].shownM)
	}
	return math.Max(0, math.Max(lo-depthM, depthM-hi))
}

// soundings are the usable depths by station.
func (t *traced) soundings(readings []reading) []sounding {
	s := make([]sounding, 0, len(t.w.places))
	for i := range t.w.places {
		o := &t.w.places[i]
		d := readings[o.index].DepthM
		if o.fate != Used || !(d > receiver.ShallowestM) || d > receiver.DeepestM {
			continue
		}
		s = append(s, sounding{lnDepth: math.Log(d), shownM: d, signal: readings[o.index].Signal, at: o})
	}
	sort.SliceStable(s, func(a, b int) bool { return s[a].station() < s[b].station() })
	return s
}

// rejectSpikes marks depths that stand out from the running median of seven by
// more than ranked.FarMADs, and that neither a neighbour nor the signal seconds; at an end see
// [atBrink]. One figure of a coarse step beside another is none.
func rejectSpikes(s []sounding, stepM float64) {
	res, within := make([]float64, len(s)), make([]bool, len(s))
	for i := range s {
		usual := localMedian(s, i)
		res[i] = s[i].lnDepth - usual
		within[i] = math.Abs(s[i].shownM-math.Exp(usual)) < nextFigure*stepM
	}
	usual := math.Max(mad(res), leastSpikeNoise)
	for i := range s {
		odd := !within[i] && math.Abs(res[i]) > ranked.FarMADs*usual && math.Abs(res[i]) > leastSpike
		if !odd || len(s) < fewestForSpikes || s[i].at.exposed || seconded(s, res, i) {
			continue
		}
		what, off := atBrink(s, i)
		if what == supported {
			continue
		}
		held := what == untested && off > -reportedShallow || !amongOthers(s, i)
		if off = math.Max(math.Abs(off), math.Abs(res[i])); held && off < mostLone {
			s[i].lone = off
			continue
		}
		s[i].at.fate = DepthSpike
	}
}

// amongOthers reports whether enough other depths lie near one to tell that it is odd.
func amongOthers(s []sounding, i int) bool {
	n := 0
	for k := max(0, i-leastAbout); k <= min(len(s)-1, i+leastAbout); k++ {
		if k != i && math.Abs(s[k].station()-s[i].station()) < spikeReachM {
			n++
		}
	}
	return n >= leastAbout
}

// seconded tells whether a depth that stands out does so together with the one
// before or after: they agree, and the line steps there, near an end of the
// readings or for a short way. Depths that are nonsense seldom come in pairs, and
// a line that is shallow for a few metres is the one that gets dug up: for shallow
// ones it is enough that both stand out, such as on the way up and down, and deep
// ones may differ as those in a dive do.
func seconded(s []sounding, res []float64, i int) bool {
	for _, k := range [...]int{i - 1, i + 1} {
		if k < 0 || k >= len(s) || res[k]*res[i] <= 0 {
			continue
		}
		apart, both := math.Abs(s[k].lnDepth-s[i].lnDepth), math.Min(math.Abs(res[i]), math.Abs(res[k]))
		if apart < agreeing || both > standsOut && (res[i] < 0 || apart < diving) {
			return true
		}
	}
	return false
}

func localMedian(s []sounding, i int) float64 {
	return middleOf(s[max(0, i-spikeWindow):min(len(s), i+spikeWindow+1)], depthOf)
}

// weighSoundings corrects each depth for the field of the fitted line's own
// course and gives it its weight: relative noise grows as (d+s)/s with the
// antenna gap s, a coarse step adds its own, and what had to be corrected, or lies within five depths of the
// hookup, is doubtful. It returns the doubts of the corrections.
func (t *traced) weighSoundings(s []sounding, opt Options, own *ownField) []float64 {
	doubts, lost := make([]float64, len(s)), make([]float64, len(s))
	for i := range s {
		if !s[i].at.exposed {
			lost[i], _ = own.lost(s[i].station(), s[i].shownM, 0)
		}
	}
	unseen := fieldUnseen(s, lost)
	for i := range s {
		d := math.Exp(s[i].lnDepth)
		if s[i].at.exposed {
			s[i].wt = sq(depthRelPrior / (receiver.ExposedDepthM / d))
			continue
		}
		doubts[i] = math.Max(doubt(lost[i]), s[i].lone/1.96)
		if correction := math.Log1p(-lost[i]); unseen[i] {
			doubts[i] = math.Max(doubts[i], math.Abs(correction)/1.96)
		} else {
			s[i].lnDepth -= correction
		}
		noise := sq(receiver.DepthSigmaRel(d)) + sq(opt.DepthStepM/d)/12 // derived: an even spread within the step
		doubt := sq(doubts[i])
		if opt.Hookup != nil {
			at := t.sh.line.At(s[i].station()).Add(t.w.origin)
			doubt += sq(receiver.EndLoss(at.Dist(*opt.Hookup) / d))
		}
		s[i].wt = sq(depthRelPrior) / (noise + doubt)
	}
	return doubts
}

// depthCurve fits ln of the depth, with steps where they pay, and tells the ends that it allowed for.
func (t *traced) depthCurve(s []sounding) (curve, []lineEnd) {
	first, last := s[0].station()-2*t.w.stepM, s[len(s)-1].station()+2*t.w.stepM
	h := math.Max(clamp(t.w.stepM/2, 0.5, 2), (last-first)/knots(len(s)))
	ends := t.ends(s, h)
	d := soundingData(s)
	steps := t.steps(s, h)
	for _, st := range steps {
		d.regressors = append(d.regressors, st.regressor)
	}
	c := fitCurve(d, first, last, h)
	for j, st := range steps {
		st.blur(&c, c.size[1+j])
	}
	for k := range c.variance {
		for _, e := range ends {
			_, v := e.shallow(c.first + float64(k)*c.hM)
			c.variance[k] += v
		}
	}
	return c, ends
}

// soundingData is the depths as the curve takes them.
func soundingData(s []sounding) curveData {
	point := func(i int) (station, y, wt float64) { return s[i].station(), s[i].lnDepth, s[i].wt }
	return curveData{n: len(s), point: point, priorVariance: sq(depthRelPrior)}
}

func nearestSounding(s []sounding, at float64) float64 {
	i := sort.Search(len(s), func(i int) bool { return s[i].station() >= at })
	best := math.Inf(1)
	if i < len(s) {
		best = s[i].station() - at
	}
	if i > 0 {
		best = math.Min(best, at-s[i-1].station())
	}
	return best
}

// studentQuantile is the 97.5 % point of Student's t with nu degrees of freedom.
func studentQuantile(nu float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(0.975) // derived: 95 % on both sides
}

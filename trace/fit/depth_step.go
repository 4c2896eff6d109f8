package fit

import (
	"math"
	"slices"
	"sort"
)

// depthStep is a change of level: sharp, as at a fitting, or over a ramp. Where
// it lies and how long it is stays uncertain; the effect is the mean over that.
type depthStep struct {
	regressor
	tries      []stepTry
	fromM, toM float64 // where something changes
}

// stepTry is one place and length of a step, with its probability. It stands for
// all places within slackM.
type stepTry struct{ at, widthM, slackM, depthM, p float64 }

// Steps of the depth. Judgement: with a lower price or suspicion noise is drawn as steps,
// with a higher one a step as a ramp; the numbers tried are time.
const (
	stepSide   = 4    // depths on each side from which a step is suspected
	stepBeside = 3    // places on each side of the one suspected that are tried
	stepAround = 16   // depths on each side that a suspicion is judged by
	stepSD     = 0.35 // of ln of the depth, over a step
	stepPrice  = 6    // -2 ln of the odds that a suspicion is none
	stepHope   = 4    // other lengths are tried where none is better by more than this
	leastStep  = 0.06
	suspicion  = 3.5 // standard errors
	mostSteps  = 24
	stepWork   = 100000 // steps times depths that are held at once, beyond the depths themselves
	unlikely   = 0.01   // a try of less, of all or of the best, is left out
	sharpM     = 0.1    // over which a step without a length is drawn
)

// Lengths of steps that are tried, and the reaches and spreads of what wanders beside them,
// in metres and of ln of the depth: some of the grids of a whole curve, for time. Judgement.
var (
	stepWidths  = [...]float64{0, 6, 12, 24}
	stepReaches = [...]float64{8, 30}
	stepWanders = [...]float64{0.01, 0.025, 0.08}
	// stepPlaces are where between two depths a sharp step is tried: the middles of three
	// equal parts, which stand for the whole way by the midpoint rule.
	stepPlaces = [...]float64{1. / 6, 0.5, 5. / 6}
)

// steps finds where the level changes.
func (t *traced) steps(s []sounding, h float64) []depthStep {
	out := t.dips(s, h)
	for _, c := range levelChanges(s) {
		if len(out) < mostSteps && (len(out)+1)*len(s) < stepWork+len(s) {
			if st, ok := tryStep(s, c, h, out); ok {
				out = append(out, st)
			}
		}
	}
	return out
}

// levelChange is a place, between the depths i-1 and i, where the level may change.
type levelChange struct {
	i      int
	widthM float64
	size   float64 // in standard errors
}

// levelChanges compares the means of a few depths before and after each place, at
// every width, and returns the strongest of each neighbourhood along the line.
func levelChanges(s []sounding) []levelChange {
	var all []levelChange
	for _, width := range stepWidths {
		lo, hi := 0, 0
		for i := 1; i < len(s); i++ {
			at := (s[i-1].station() + s[i].station()) / 2
			for lo < len(s) && s[lo].station() <= at-width/2 {
				lo++
			}
			for hi < len(s) && s[hi].station() < at+width/2 {
				hi++
			}
			a, va := meanOf(s[max(0, lo-stepSide):lo])
			b, vb := meanOf(s[hi:min(len(s), hi+stepSide)])
			if z := math.Abs(b-a) / math.Sqrt(va+vb); math.Abs(b-a) > leastStep && z > suspicion {
				all = append(all, levelChange{i, width, z})
			}
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].size > all[b].size })
	var out []levelChange
	for _, c := range all {
		near := false
		for _, o := range out {
			reach := math.Max(c.widthM, o.widthM)/2 + 2
			near = near || math.Abs(s[c.i].station()-s[o.i].station()) < reach || max(c.i-o.i, o.i-c.i) < stepSide
		}
		if !near && len(out) < 4*mostSteps {
			out = append(out, c)
		}
	}
	return out
}

// meanOf is the weighted mean of depths and its variance at the prior noise.
func meanOf(s []sounding) (mean, variance float64) {
	sum := 0.0
	for _, q := range s {
		mean, sum = mean+q.wt*q.lnDepth, sum+q.wt
	}
	if len(s) < 2 || sum == 0 {
		return 0, math.Inf(1)
	}
	return mean / sum, sq(depthRelPrior) / sum
}

// stepTrial is the depths around a suspicion, with the steps found before.
type stepTrial struct {
	d              curveData
	first, last, h float64
}

func newStepTrial(s []sounding, c levelChange, h float64, before []depthStep) *stepTrial {
	lo, hi := c.i, c.i
	for lo > 0 && (c.i-lo < stepAround || s[c.i].station()-s[lo].station() < c.widthM) {
		lo--
	}
	for hi < len(s) && (hi-c.i < stepAround || s[hi].station()-s[c.i].station() < c.widthM) {
		hi++
	}
	x := &stepTrial{d: soundingData(s[lo:hi]), first: s[lo].station() - h, last: s[hi-1].station() + h, h: h}
	for _, st := range before {
		if st.toM > x.first && st.fromM < x.last {
			x.d.regressors = append(x.d.regressors, st.regressor)
		}
	}
	return x
}

// score is that of the depths with more steps.
func (x *stepTrial) score(more ...regressor) float64 {
	d := x.d
	d.regressors = slices.Concat(d.regressors, more)
	return curveScore(d, x.first, x.last, x.h)
}

// regressor is a step that is tried, alone.
func (e stepTry) regressor() regressor {
	return regressor{shown: e.shown, drawn: e.drawn, sd: stepSD}
}

// tryStep weighs places and lengths of a step against none, by the depths
// around it. Where none of the length suspected comes near to paying, other
// lengths are not tried.
func tryStep(s []sounding, c levelChange, h float64, before []depthStep) (depthStep, bool) {
	x := newStepTrial(s, c, h, before)
	without := x.score()
	depth := math.Exp(s[c.i].lnDepth)
	at := func(i int, width, u float64) stepTry {
		gap := s[i].station() - s[i-1].station()
		return stepTry{at: s[i-1].station() + u*gap, widthM: width, slackM: gap / 3, depthM: depth}
	}
	from, to := max(1, c.i-stepBeside), min(len(s), c.i+stepBeside+1)
	worthIt := false
	for i := from; i < to && !worthIt; i++ {
		worthIt = x.score(at(i, c.widthM, 0.5).regressor()) < without+stepHope
	}
	if !worthIt {
		return depthStep{}, false
	}
	var tries []stepTry
	var scores []float64
	best := math.Inf(1)
	for i := from; i < to; i++ {
		for _, width := range stepWidths {
			for _, u := range stepPlaces {
				if width > 0 && u != 0.5 {
					continue
				}
				e := at(i, width, u)
				l := x.score(e.regressor())
				tries, scores = append(tries, e), append(scores, l)
				best = math.Min(best, l)
			}
		}
	}
	total := 0.0
	for i, l := range scores {
		tries[i].p = math.Exp(-0.5 * (l - best))
		total += tries[i].p
	}
	if best-2*math.Log(total/float64(len(tries)))+stepPrice > without {
		return depthStep{}, false
	}
	return newDepthStep(likely(tries)), true
}

func newDepthStep(tries []stepTry) depthStep {
	st := depthStep{tries: tries, fromM: math.Inf(1), toM: math.Inf(-1)}
	for _, e := range tries {
		reach := math.Max(e.widthM, math.Max(e.slackM, 10*e.depthM))
		st.fromM, st.toM = math.Min(st.fromM, e.at-reach), math.Max(st.toM, e.at+reach)
	}
	st.regressor = regressor{sd: stepSD,
		shown: func(x float64) float64 { return st.mean(x, stepTry.shown) },
		drawn: func(x float64) float64 { return st.mean(x, stepTry.drawn) }}
	return st
}

// likely keeps the tries that matter and makes their shares probabilities.
func likely(tries []stepTry) []stepTry {
	var kept []stepTry
	sum := 0.0
	for _, e := range tries {
		if e.p > unlikely {
			kept = append(kept, e)
			sum += e.p
		}
	}
	for i := range kept {
		kept[i].p /= sum
	}
	return kept
}

func (st *depthStep) mean(x float64, of func(stepTry, float64) float64) float64 {
	if x < st.fromM {
		return 0
	}
	if x > st.toM {
		return 1
	}
	sum := 0.0
	for _, e := range st.tries {
		sum += e.p * of(e, x)
	}
	return sum
}

// blur widens the curve's variance by the doubt about where the step is.
func (st *depthStep) blur(c *curve, size float64) {
	for k := range c.variance {
		x := c.first + float64(k)*c.hM
		m := st.mean(x, stepTry.drawn)
		c.variance[k] += sq(size) * math.Max(0, st.mean(x, stepTry.square)-m*m)
	}
}

// drawn is the course of the line itself, the mean over the slack.
func (e stepTry) drawn(x float64) float64 {
	return clamp((x-e.at)/math.Max(math.Max(e.widthM, e.slackM), sharpM)+0.5, 0, 1)
}

// square is the mean square of the course; that of a sharp step is 0 or 1.
func (e stepTry) square(x float64) float64 {
	if e.widthM > e.slackM {
		return sq(e.drawn(x))
	}
	return e.drawn(x)
}

// shown is the course of a receiver's depth: it sees a sharp step from up to a
// depth away, in a field that the deeper and the shallower part share.
func (e stepTry) shown(x float64) float64 {
	if e.widthM > 2*e.depthM {
		return e.drawn(x)
	}
	return 0.5 * (1 + math.Tanh(2*(x-e.at)/e.depthM))
}

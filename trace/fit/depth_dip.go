package fit

import "math"

// Short changes of level: the line goes down and up again, or up and down, over a few
// depths. Neither step pays alone where so few lie between them. Judgement, like diving
// and standsOut.
const (
	leastDip = 2
	mostDip  = 6
	dipEven  = 0.35 // ln of the depth, between the depths of a dip
	leastOff = 0.2  // ln of the depth, off the level before and behind
)

// dips finds groups of a few neighbouring depths on another level than those before
// and behind them, and returns the two steps of each.
func (t *traced) dips(s []sounding, h float64) []depthStep {
	var out []depthStep
	for i := 1; i < len(s); i++ {
		for n := mostDip; n >= leastDip; n-- {
			if i+n >= len(s) || !isDip(s, i, i+n) {
				continue
			}
			if in, back, ok := tryDip(s, i, i+n, h, out); ok {
				out = append(out, in, back)
				i += n
				break
			}
		}
		if len(out) >= mostSteps {
			break
		}
	}
	return out
}

// isDip reports whether the depths from i until k agree, and stand out from both
// sides in the same direction.
func isDip(s []sounding, i, k int) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range s[i:k] {
		lo, hi = min(lo, q.lnDepth), max(hi, q.lnDepth)
	}
	if hi-lo > dipEven {
		return false
	}
	m, vm := meanOf(s[i:k])
	a, va := meanOf(s[max(0, i-stepSide):i])
	b, vb := meanOf(s[k:min(len(s), k+stepSide)])
	off := func(level, v float64) float64 {
		if d := m - level; math.Abs(d) > max(leastOff, suspicion*math.Sqrt(vm+v)) {
			return d
		}
		return 0
	}
	return off(a, va)*off(b, vb) > 0
}

// tryDip weighs the two steps at once against none.
func tryDip(s []sounding, i, k int, h float64, before []depthStep) (in, back depthStep, ok bool) {
	step := func(i int) depthStep {
		gap := s[i].station() - s[i-1].station()
		var tries []stepTry
		for _, u := range stepPlaces {
			tries = append(tries, stepTry{at: s[i-1].station() + u*gap, slackM: gap / 3, depthM: math.Exp(s[i-1].lnDepth), p: 1})
		}
		return newDepthStep(likely(tries))
	}
	in, back = step(i), step(k)
	x := newStepTrial(s, levelChange{i: (i + k) / 2}, h, before)
	return in, back, x.score(in.regressor, back.regressor)+2*stepPrice < x.score()
}

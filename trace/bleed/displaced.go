package bleed

import (
	"math"
	"slices"
)

// A stretch is dangerous where another's signal moves the mark by more than
// dangerShiftM or makes the depth wrong by more than dangerDepth. Judgement.
const (
	dangerShiftM = 0.10
	dangerDepth  = 0.25
)

// dangerPart is the part of a stretch's readings that must be displaced for the
// stretch to be: what is displaced over less is its edge. Judgement.
const dangerPart = 0.25

// displaced is the probability that a coupling, if there is one, displaces mark or
// depth over dangerPart of its stretch.
func (f finding) displaced() float64 {
	var shift, depth []float64
	for k := f.from; k <= f.to; k++ {
		x, h, _, ok := f.displacement(k)
		if !ok {
			continue
		}
		s := h / 1.96
		shift = append(shift, tail(dangerShiftM, x, s)+tail(dangerShiftM, -x, s))
		d := f.effects[k-f.lo].lnDepth
		s = math.Hypot(modelErrorPart*d, minLnDepthSD)
		depth = append(depth, tail(math.Log(1+dangerDepth), d, s)+tail(-math.Log(1-dangerDepth), -d, s))
	}
	if len(shift) == 0 {
		return 0
	}
	slices.Sort(shift)
	slices.Sort(depth)
	i := int((1 - dangerPart) * float64(len(shift)))
	return max(shift[i], depth[i])
}

// tail is the probability of more than a limit under a normal law.
func tail(limit, mean, sd float64) float64 { return 0.5 * math.Erfc((limit-mean)/(sd*math.Sqrt2)) }

package fit

import (
	"math"
	"sort"
)

// A depth was read where the receiver stood, and is drawn where its position says: by as
// much as that is off along the line, the profile lies elsewhere. On level ground that is
// nothing; on a slope, or beside a step, the band holds what the profile is within that
// reach.

// alongTries are how many places within the reach are asked, on each side. Judgement: time.
const alongTries = 6

// alongHalf is by how much the profile differs within the reach of the nearest depth's
// place, at most, and the least variance of it there: where a step lies is in the larger ones
// already.
func alongHalf(s []sounding, c *curve, stationM, depthM float64) (most, variance float64) {
	i := sort.Search(len(s), func(i int) bool { return s[i].station() >= stationM })
	if i == len(s) || i > 0 && stationM-s[i-1].station() < s[i].station()-stationM {
		i--
	}
	first, last := math.Min(s[0].station(), stationM), math.Max(s[len(s)-1].station(), stationM)
	variance = math.Inf(1)
	lo, hi := variance, math.Inf(-1) // of ln of the profile
	for k := -alongTries; k <= alongTries; k++ {
		v, own := c.at(clamp(stationM+s[i].at.alongM*float64(k)/alongTries, first, last))
		lo, hi, variance = min(lo, v), max(hi, v), min(variance, own)
	}
	return max(0, math.Abs(math.Exp(lo)-depthM), math.Abs(math.Exp(hi)-depthM)), variance
}

package bleed

import "math"

// hopM is over what length marks go over from one line to the other: from where the
// other's field begins to pull until the receiver lies on it. Judgement.
const hopM = 12.0

// hop is the clearest sideways step of the marks about the gap before reading edge,
// positive to the right of travel, where they may take up to hopM to go over.
func (c *columns) hop(edge int) (best amount, ok bool) {
	best, ok = c.lateralStep(edge)
	top := 0.0
	if ok {
		top = math.Abs(best.by) / best.sd
	}
	n := len(c.rd)
	at := func(k int) float64 { return c.rd[max(0, min(n-1, k))].StationM }
	stride := 1 // readings may stand close to each other
	for edge+2*stride*hopStrides < n && at(edge+stride*hopStrides)-at(edge) < hopM {
		stride++
	}
	for before := edge + lateralNear; before >= 3 && at(edge)-at(before) <= hopM; before -= stride {
		for after := max(before+2, edge-lateralNear); after < n && at(after)-at(before-1) <= hopM; after += stride {
			s, is := c.stepBeside(before, after, hopM)
			if z := math.Abs(s.by) / s.sd; is && z > top && math.Abs(s.by) < mostLateralM {
				best, top, ok = s, z, true
			}
		}
	}
	return best, ok
}

// hopStrides is at how many places within its length the two ends of a hop are sought:
// a grid, judgement.
const hopStrides = 12

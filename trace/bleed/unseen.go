package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// unseenShares are the shares of the line's current that a neighbour may carry
// over readings [from, to] without a sign in the columns.
type unseenShares struct {
	whole       bool // along the whole trace: nothing read tells a beginning or an end
	nullM, sdM  float64
	nullIsThere bool
}

// What a close neighbour may carry unseen where the columns would show its
// beginning, and where it may carry it along the whole trace: less than the line
// itself, that is all. Only the null tells something there. Judgement.
const (
	undetectedShare = 0.2
	wholeShare      = 0.5
	shareStep       = 0.1 // between them, of the grid of shares that are tried
	wholeReadings   = 4   // at either end of a trace that tell no level
	unseenSigmas    = 2.5
)

func (c *columns) unseenShares(from, to int) unseenShares {
	s := unseenShares{whole: from < wholeReadings && to >= len(c.rd)-wholeReadings}
	var sum, weight float64
	for k := from; k <= to; k++ {
		if c.hasN && c.varN[k] < nothing {
			sum, weight = sum+c.null[k]/c.varN[k], weight+1/c.varN[k]
		}
	}
	if weight > 0 {
		s.nullIsThere, s.nullM = true, sum/weight
		s.sdM = math.Sqrt(1/weight + receiver.NullBiasM*receiver.NullBiasM + receiver.NullDriftM*receiver.NullDriftM)
	}
	return s
}

// unseen is what coupling that shows no sign may do, under the assumption that
// no more than share of the line's current flows on the neighbour.
type unseen struct {
	leftM, rightM float64 // how far to either side of the mark the true line may lie
	lnDepth       float64 // how far the ln of a depth may be falsified
	share         float64
}

func (u *unseen) hold(v unseen) {
	u.leftM, u.rightM = max(u.leftM, v.leftM), max(u.rightM, v.rightM)
	u.lnDepth, u.share = max(u.lnDepth, v.lnDepth), max(u.share, v.share)
}

// unseenAt is what coupling to a neighbour that shows no sign may do to the
// reading at k.
func (c *columns) unseenAt(k int, e neighbour, s unseenShares) (out unseen) {
	at := coupler{col: c, e: e, lo: k, hi: k + 1, lnD: []float64{math.Log(c.depth[k])}}
	for _, sign := range []float64{-1, 1} {
		for share := undetectedShare; share <= wholeShare+1e-9; share += shareStep {
			p, ok := at.respond(k, sign*share, 0, 0, 0)
			if !ok {
				break
			}
			if share > undetectedShare && (!s.whole || s.nullIsThere && math.Abs(p.nullM-s.nullM) > unseenSigmas*s.sdM) {
				continue
			}
			out.hold(unseen{p.shiftM, -p.shiftM, math.Abs(p.lnDepth), share})
		}
	}
	return out
}

// widenForUnseen widens the caution of a stretch along the whole trace to what the
// null leaves open: which share flows on a close neighbour, and whether that is
// the conductor that the fit is of, is known there from the null alone.
func (c *columns) widenForUnseen(s *Stretch, f finding, near []neighbour) {
	shares := c.unseenShares(f.from, f.to)
	if !shares.whole {
		return
	}
	for _, e := range near {
		for k := f.from; k <= f.to; k++ {
			if e.closeAt(k, c) {
				u := c.unseenAt(k, e, shares)
				s.WidenLeftM, s.WidenRightM = max(s.WidenLeftM, u.leftM), max(s.WidenRightM, u.rightM)
			}
		}
	}
}

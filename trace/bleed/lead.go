package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// The transmitter's lead pulls the null aside (receiver.LeadNullM), more where less of the
// current is left. At which end the transmitter stands, and how far from the first reading, is
// seldom known. The figures are judgement.
const (
	leadSD     = 1.4 // of what a lead square to the line does: the stake need not lie so, and what flows back through the soil pulls as well
	mostLossLn = 4.0
)

// Near the transmitter, and near where a line ends, depth and signal are not those
// of a long line alone: endSD is what that may do to their logs at the last
// reading, one sigma each, and endM the length over which it fades. Judgement.
const (
	endSD = 0.12
	endM  = 5
)

// endEffect is how much of that is felt at a reading, from either end.
func (c *columns) endEffect(k int) [2]float64 {
	s := c.rd[k].StationM
	fades := func(m float64) float64 { return endSD * math.Exp(-m/endM) }
	return [2]float64{fades(s - c.rd[0].StationM), fades(c.rd[len(c.rd)-1].StationM - s)}
}

// faintNull is the null's noise, as a part of depth and current lost, one sigma:
// what else is in the air blurs it where little of the line's current is left.
// Judgement.
const faintNull = 0.02

// blurNulls widens the null's variance by that.
func (c *columns) blurNulls() {
	left := c.currentLeft()
	most := slices.Max(left)
	for k := range c.varN {
		e := faintNull * c.depth[k] * math.Expm1(min(mostLossLn, most-left[k]))
		c.varN[k] += e * e
	}
}

// leadEffect is what a lead beyond the first and beyond the last reading may do to
// the null of each reading, one sigma.
func (c *columns) leadEffect() (pull [2][]float64) {
	n := len(c.rd)
	left := c.currentLeft()
	for end := range pull {
		pull[end] = make([]float64, n)
		at, ref := c.rd[0].StationM, left[0]
		if end == 1 {
			at, ref = c.rd[n-1].StationM, left[n-1]
		}
		for k := range pull[end] {
			s := math.Abs(c.rd[k].StationM-at) + receiver.LeadAwayM
			lost := max(0, min(mostLossLn, ref-left[k]))
			pull[end][k] = receiver.LeadNullM(leadSD, c.depth[k], math.Exp(lost), s, receiver.LeadM)
		}
	}
	return pull
}

// currentLeft is the log of the line's current about each reading, 0 where it is
// not known.
func (c *columns) currentLeft() []float64 {
	read, out := make([]float64, len(c.rd)), make([]float64, len(c.rd))
	for k := range read {
		read[k] = math.NaN()
		if c.varD[k] < nothing && c.varS[k] < nothing {
			read[k] = c.lnD[k] + c.lnS[k]
		}
	}
	for k, about := range ranked.About(read, 4) {
		switch {
		case len(about) > 0:
			out[k] = halfway(about)
		case k > 0:
			out[k] = out[k-1]
		}
	}
	if i := slices.IndexFunc(out, func(v float64) bool { return v != 0 }); i > 0 {
		for k := range i {
			out[k] = out[i]
		}
	}
	return out
}

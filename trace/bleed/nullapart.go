package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Of fewer readings than a level and its sides need, and of nulls that swing from one
// reading to the next by more than nullSwings depths, the scatter tells nothing: a null
// that lies farther from the peak than apartM and apartDepths, and than bends and the
// lead may pull it, is judged by itself: than sameWay of that where all of them lie to
// one side. One reading may be a slip, or some at one place; leastApart of them over two
// depths or more, and leastApartShare of a line's, are not. Judgement.
const (
	apartM          = 0.1
	apartDepths     = 0.15
	nullSwings      = 0.2
	leastApart      = 2
	leastApartShare = 0.3
	sameWay         = 2.0 / 3
	mostLeadDepths  = 0.2
)

// nullsApart is the stretch along which nulls lie apart from the peaks, where too little
// was read for the models and no suspected stretch is about.
func (m unmapped) nullsApart(found []Stretch) []Stretch {
	c := m.columns
	var known, apart []int
	left := 0
	for k := range c.rd {
		if c.varN[k] < nothing && !c.airCoupled[k] && !c.rd[k].SetAside {
			known = append(known, k)
			if c.null[k] < 0 {
				left++
			}
		}
	}
	part := 1.0
	if left == 0 || left == len(known) {
		part = sameWay
	}
	worst := 0.0
	for _, k := range known {
		if v := math.Abs(c.null[k]); v > part*c.nullMayLie(k) {
			apart, worst = append(apart, k), math.Max(worst, v)
		}
	}
	few := len(known) < leastLevel+2*sideLevel
	if !few && !(c.sigmaN > nullSwings) || len(apart) < leastApart || float64(len(apart)) < leastApartShare*float64(len(known)) {
		return nil
	}
	first, last := apart[0], apart[len(apart)-1]
	s := c.unexplained(first, last, trace.GradeSuspect)
	if s.ToM-s.FromM < 2*c.depth[(first+last)/2] || overlapsSuspected(found, s) {
		return nil
	}
	s.Evidence = append([]trace.Remark{remark.NullsApart{N: len(apart), Of: len(known), MostM: worst}}, c.marksOfAnother(first, last)...)
	return []Stretch{s}
}

// nullMayLie is how far from the peak the null of one line alone may be shown.
func (c *columns) nullMayLie(k int) float64 {
	bends := math.Abs(bendTrust*c.bend.null[k]) + 0.1*c.depth[k]*c.bend.turn[k]/(math.Pi/2)
	lead := math.Min(math.Hypot(c.leadNull[0][k], c.leadNull[1][k]), mostLeadDepths*c.depth[k])
	return apartM + apartDepths*c.depth[k] + bends + lead
}

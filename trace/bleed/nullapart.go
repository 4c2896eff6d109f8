package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
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
	few := len(known) < 3*sideLevel
	if !few && !(c.sigmaN > nullSwings) {
		return m.nullsApartAllAlong(known, found)
	}
	if len(apart) < leastApart || float64(len(apart)) < leastApartShare*float64(len(known)) {
		return nil
	}
	first, last := apart[0], apart[len(apart)-1]
	s := c.unexplained(first, last, trace.GradeSuspect)
	if s.ToM-s.FromM < 2*c.depth[(first+last)/2] || overlapsSuspected(found, s) {
		return nil
	}
	s.Evidence = append([]trace.Remark{remark.NullsApart{N: len(apart), Of: len(known), MostM: c.nullTimes() * worst}}, c.marksOfAnother(first, last)...)
	return []Stretch{s}
}

// Along many readings no bend and no slip pulls the null to one side: from so many of them
// and over so many depths, nearly all apart to the same side, the null is told of whatever
// the models make of depth and signal. A neighbour along a whole walk leaves those without
// a beginning or an end, and at no distance that the models ask for do they fit one whose
// own depth changes; the null alone is a level that a line by itself cannot have. Judgement.
const (
	allAlongM           = 0.07
	allAlongDepths      = 0.06
	leastAllAlong       = 8
	leastAllAlongDepths = 6
	surelyAlong         = 4 // standard errors
)

// nullsApartAllAlong is the stretch where many nulls lie apart from their peaks to one side,
// of a line whose depth is known: bends pull the null by its square.
func (m unmapped) nullsApartAllAlong(known []int, found []Stretch) []Stretch {
	c := m.columns
	if !c.hasD {
		return nil
	}
	var out []Stretch
	for _, side := range []float64{-1, 1} {
		lo, hi, n := c.longestApart(known, side)
		if n < leastAllAlong {
			continue
		}
		lo, hi = c.onSameSide(known, side, lo, -1), c.onSameSide(known, side, hi, 1)
		first, last := known[lo], known[hi]
		s := c.unexplained(first, last, trace.GradeSuspect)
		if s.ToM-s.FromM < leastAllAlongDepths*c.depth[(first+last)/2] || overlapsSuspected(found, s) {
			continue
		}
		worst := 0.0
		for k := first; k <= last; k++ {
			if c.varN[k] < nothing {
				worst = math.Max(worst, c.nullAside(k, side))
			}
		}
		s.Evidence = append([]trace.Remark{remark.NullsApart{N: n, Of: len(known), MostM: c.nullTimes() * worst}}, c.marksOfAnother(first, last)...)
		out = append(out, s)
	}
	return out
}

// onSameSide carries the end of a run on by a step of -1 or 1 over readings whose nulls lie
// to the same side: what bends and the lead may do there hides how far, and the neighbour
// does not end with that.
func (c *columns) onSameSide(known []int, side float64, end, step int) int {
	for i := end + step; i >= 0 && i < len(known); i += step {
		k := known[i]
		switch {
		case c.nullAside(k, side) > (allAlongM+allAlongDepths*c.depth[k])/2:
			end = i
		case step*(i-end) > 1: // one alone is a slip
			return end
		}
	}
	return end
}

// longestApart is the run of readings whose nulls lie apart to one side (the segment of
// greatest sum, Bentley, 1984, Commun. ACM 27:865, of what they lie beyond what one line
// alone gives, no single one counting for more than that), by their places among those
// known, and how many lie so. None where the nulls' scatter over so many may do it.
func (c *columns) longestApart(known []int, side float64) (first, last, apart int) {
	sum, most, from := 0.0, 0.0, 0
	for i, k := range known {
		if sum <= 0 {
			sum, from = 0, i
		}
		mayM := c.nullAlongMayLie(k)
		sum += math.Max(-mayM, math.Min(mayM/2, c.nullAside(k, side)-mayM))
		if sum > most {
			most, first, last = sum, from, i
		}
	}
	if most == 0 {
		return 0, 0, 0
	}
	least, scatter := math.Inf(1), 0.0
	for _, k := range known[first : last+1] {
		least, scatter = math.Min(least, c.nullAlongMayLie(k)), math.Max(scatter, c.sigmaN*receiver.NullGrowth(c.depth[k]))
		if c.nullAside(k, side) > c.nullAlongMayLie(k) {
			apart++
		}
	}
	if n := float64(last + 1 - first); least*math.Sqrt(n) < surelyAlong*scatter || float64(apart) < n/2 {
		return 0, 0, 0
	}
	return first, last, apart
}

// nullAside is how far to a side a null lies, as read and as it would be on a straight
// line, whichever is less: one that is where the peak is tells of no neighbour, even
// where a bend should have pulled it. Nor does one that is where a receiver that takes the
// whole field shows it, unless the bends tell that this one does not.
func (c *columns) nullAside(k int, side float64) float64 {
	aside := math.Min(side*c.null[k], side*(c.null[k]+c.bend.null[k]))
	if !c.wholeField && !c.fieldAcross {
		aside = math.Min(aside, side*(c.null[k]-c.bend.null[k]))
	}
	return aside
}

// nullAlongMayLie is how far to one side of the peak the nulls of many readings of one line
// alone may lie on average.
func (c *columns) nullAlongMayLie(k int) float64 {
	return math.Hypot(allAlongM+allAlongDepths*c.depth[k], c.nullPulled(k))
}

// nullMayLie is how far from the peak the null of one line alone may be shown.
func (c *columns) nullMayLie(k int) float64 {
	return apartM + apartDepths*c.depth[k] + c.nullPulled(k)
}

// nullPulled is how far bends and the lead may pull a null beyond what they are reckoned to.
func (c *columns) nullPulled(k int) float64 {
	bends := math.Abs(bendTrust*c.bend.null[k]) + cornerLeft*c.depth[k]*c.bend.turn[k]/(math.Pi/2)
	return bends + math.Min(math.Hypot(c.leadNull[0][k], c.leadNull[1][k]), mostLeadDepths*c.depth[k])
}

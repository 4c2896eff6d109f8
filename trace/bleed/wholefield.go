package bleed

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// A receiver takes the field across the line, or the whole of it. Where another field is
// about, from the line's bends or from a neighbour, the peak of the whole lies as far to the
// other side of that of the field across as the null lies to this one (package receiver), and
// a null that is shown from the peak is twice as far off.
//
// Nobody states which it is. The bends tell: their pull on the null is reckoned along the
// line drawn, and seldom more than half as much again for a receiver across. Where the nulls
// at bends lie about twice as far off, at those pulled least as well as at those pulled
// most, and follow those more closely than any one distance, as nulls beside a neighbour do
// not, the receiver took the whole field: half of what it shows is what one across would. A
// neighbour that runs along the bends on one side of them may do so to few: leastPulled. Judgement, against nulls at bends of 127
// lines of two worlds: of eight on which they say so, with half as many readings or more, six
// were of such receivers, and none was in the first world, which has no such receiver.
const (
	leastPulled     = 16 // nulls at bends
	leastPulledM    = 0.04
	pulledSigmas    = 1.5
	leastTwice      = 1.7
	mostTwice       = 2.8
	midwayTwice     = 1.5
	leastTwiceShare = 0.75
	followsBends    = 0.7
)

// takesWholeField reports whether the nulls, as they were read, say so, and whether they say
// that it does not.
func (c *columns) takesWholeField() (whole, across bool) {
	least := math.Max(leastPulledM, pulledSigmas*orFloor(firstSigma(c.null), receiver.PlainNullM, receiver.LeastNullM))
	type pulled struct{ byM, times float64 }
	var all []pulled
	var nulls, double []float64
	twice := 0
	for k, null := range c.null {
		if by := c.bend.null[k]; !math.IsNaN(null) && !c.airCoupled[k] && !c.rd[k].SetAside && math.Abs(by) >= least {
			all = append(all, pulled{math.Abs(by), null / by})
			nulls, double = append(nulls, null), append(double, receiver.WholeNullTimes*by)
			if null/by > midwayTwice {
				twice++
			}
		}
	}
	if enough := len(all) >= leastPulled/2; enough && (2*twice < len(all) || !follow(nulls, double)) {
		return false, true
	}
	if len(all) < leastPulled || float64(twice) < leastTwiceShare*float64(len(all)) {
		return false, false
	}
	slices.SortStableFunc(all, func(a, b pulled) int { return cmp.Compare(a.byM, b.byM) })
	for _, half := range [2][]pulled{all[:(len(all)+1)/2], all[len(all)/2:]} {
		var times []float64
		for _, p := range half {
			times = append(times, p.times)
		}
		if m := median(times); m < leastTwice || m > mostTwice {
			return false, false
		}
	}
	return true, false
}

// follow reports whether some nulls lie where twice the pull of the bends is, clearly nearer
// than at one and the same distance from the peak, as beside a neighbour all along.
func follow(nulls, double []float64) bool {
	same := middle(nulls)
	off, apart := 0.0, 0.0
	for i, null := range nulls {
		off, apart = off+math.Abs(null-double[i]), apart+math.Abs(null-same)
	}
	return off < followsBends*apart
}

// nullTimes is how many times as far from its mark a null was shown as one across the line
// would be.
func (c *columns) nullTimes() float64 {
	if c.wholeField {
		return receiver.WholeNullTimes
	}
	return 1
}

// A mark inside of a bend by insideM or more is told, and the caution holds insideMost
// times as much, for the bends reckoned are those of the line drawn, which rounds them.
// Judgement.
const (
	insideM    = 0.1
	insideMost = 1.5
)

// insideOfBends are the stretches where a receiver that takes the whole field marks the
// inside of the line's own bends.
func (m unmapped) insideOfBends() []Stretch {
	c := m.columns
	if !c.wholeField {
		return nil
	}
	var out []Stretch
	for k := 0; k < len(c.rd); {
		from, most := k, 0.0
		for ; k < len(c.rd) && c.bend.null[k]*c.bend.null[from] > 0 && math.Abs(c.bend.null[k]) >= insideM/2; k++ {
			if math.Abs(c.bend.null[k]) > math.Abs(most) {
				most = c.bend.null[k]
			}
		}
		if k-from >= 2 && math.Abs(most) >= insideM {
			s := c.unexplained(from, k-1, trace.GradeWatch)
			s.Score, s.LnDepth95 = ownLegScore, math.NaN()
			s.WidenRightM, s.WidenLeftM = insideMost*math.Max(0, most), insideMost*math.Max(0, -most)
			s.Evidence = []trace.Remark{remark.InsideOfBends{MostM: math.Abs(most)}}
			out = append(out, s)
		}
		k = max(k, from+1)
	}
	return out
}

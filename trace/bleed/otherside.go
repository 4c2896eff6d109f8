package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Where another's signal comes in, or goes, at one place of a trace alone, depth and
// current step there, and the same step is made by a current the other way round on
// the other side of it. Only the null tells, which is at the peak over a line alone.

// otherSideNats is by how much the null must speak for one side of a single step.
// Judgement.
const otherSideNats = 2

// nullTells reports whether nulls were read on either side of a step, so that they can tell
// which of the two is over a line alone. A receiver that finds none on one side tells
// nothing there: over another line beside a stronger one it often has none to find.
func (c *columns) nullTells(from, to, otherFrom, otherTo int) bool {
	enough := func(from, to int) bool {
		n := 0
		for k := from; k <= to; k++ {
			if c.varN[k] < nothing {
				n++
			}
		}
		return float64(n) >= leastNulls*float64(to-from+1)
	}
	return c.hasN && enough(from, to) && enough(otherFrom, otherTo)
}

// leastNulls is the least part of the readings on one side that have a null. Judgement.
const leastNulls = 0.5

// nullSpeaks is the log evidence that the null lies beside the peak over readings
// [from, to].
func (c *columns) nullSpeaks(from, to int) float64 {
	if !c.hasN {
		return 0
	}
	var sum, weight float64
	for k := from; k <= to; k++ {
		leadSigma := math.Hypot(c.leadNull[0][k], c.leadNull[1][k])
		v := c.varN[k] + leadSigma*leadSigma
		sum, weight = sum+c.null[k]/v, weight+1/v
	}
	if weight == 0 {
		return 0
	}
	a := 1 / (1/weight + receiver.NullBiasM*receiver.NullBiasM + receiver.NullDriftM*receiver.NullDriftM)
	return gainOf(a, a*sum/weight, jointNullSD*c.depth[(from+to)/2])
}

// otherSide is the stretch on the other side of the one end seen of a suspected one,
// where the same neighbour runs beside it there and the null does not tell the two
// apart.
func (c *columns) otherSide(f finding, s Stretch) (Stretch, bool) {
	n := len(c.rd)
	first, last := f.from <= openReadings, f.to >= n-1-openReadings
	if s.Grade == trace.GradeWatch || first == last {
		return Stretch{}, false
	}
	from, to := 0, f.from-1
	if first {
		from, to = f.to+1, n-1
	}
	if f.c.e.at != nil {
		for from <= to && !f.c.e.parallelAt(from, c) {
			from++
		}
		for from <= to && !f.c.e.parallelAt(to, c) {
			to--
		}
		if first && from > f.to+edgeReadings || last && to < f.from-edgeReadings {
			return Stretch{}, false // it does not run beside the step
		}
	}
	if to-from < 2 || c.rd[to].StationM-c.rd[from].StationM < leastLengthM(c.depth[from]) {
		return Stretch{}, false
	}
	if c.rd[to].StationM-c.rd[from].StationM > mostOtherSide*(c.rd[f.to].StationM-c.rd[f.from].StationM) {
		return Stretch{}, false
	}
	if c.nullTells(f.from, f.to, from, to) && c.nullSpeaks(f.from, f.to)-c.nullSpeaks(from, to) > otherSideNats {
		return Stretch{}, false
	}
	o := s
	o.FromM, o.ToM = c.rd[from].StationM, c.rd[to].StationM
	o.Grade, o.Score = trace.GradeSuspect, s.Score
	o.ShiftM, o.Shift95M, o.Side = math.NaN(), math.NaN(), ""
	wide := math.Max(s.WidenLeftM, s.WidenRightM)
	o.WidenLeftM, o.WidenRightM = wide, wide
	o.Evidence = append(slices.Clone(s.Evidence), remark.EitherSideMayBeOther)
	return o, true
}

// sided is the other side of a stretch that was fitted.
type sided struct {
	Stretch
	fitted int // which
}

// ofTheFitted is what part of its score the side keeps that was fitted, where the other may be
// the one as well: of 57 such pairs of a mean score of 0.55 the fitted side was displaced in 17
// and the other in 34, for what is heard past a jump is no part of the line's current as the
// fit has it (nine families of the second world and eight of the first that couple or jump, seeds
// 875000 to 875011, every set of columns). Judgement, for that count is by no command that is
// kept.
const ofTheFitted = 0.5

// orTheOther has a stretch count as one of two sides, either of which may be displaced: nothing is
// strong of it.
func (s *Stretch) orTheOther() {
	s.Score *= ofTheFitted
	if s.Grade == trace.GradeStrong {
		s.Grade = trace.GradeSuspect
	}
}

// mostOtherSide is how many times longer the other side may be: nothing at the last few
// readings, where a line's own end shows too, makes nearly all of a trace suspect.
// Judgement.
const mostOtherSide = 7

// openReadings is how many readings from an end of the trace a stretch may begin or
// end without its end being seen. Judgement.
const openReadings = 1

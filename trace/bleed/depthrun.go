package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A line that goes deeper or shallower for some readings carries the current that it
// carried: signal falls as depth grows (Ampère's law), and what a receiver makes of both
// stays. Where the depth goes over to another level at once and back, and the current steps
// with it at both of its ends, or by much at one, the depth is not the line's: over another
// conductor, or between two, no one current gives both. The models of a window take such a
// run apart, into a dive, and a branch at its end.
const (
	// A depth on another level is so by depthLevel of its log or more. Judgement.
	depthLevel = 0.25
	// endReadings on either side of an end tell the step of the current there: what both
	// conductors' fields do to it where they mix is near the end alone. Judgement.
	endReadings = 3
	// It steps with the depth by bothEnds of ln current or more at either end, or by oneEnd at
	// one of them, past which a branch leaves: seldom just where a line comes up again. Either is
	// endSigmas of its error. Judgement.
	bothEnds, oneEnd = 0.15, 0.3
	endSigmas        = 4 // judgement
)

// depthRuns are the stretches on another level of depth whose current steps at the ends, and
// that no suspected stretch is about. Their figures are judgement.
func (m unmapped) depthRuns(found []Stretch) []Stretch {
	c := m.columns
	lnI, sigma := c.currentsRead()
	if math.IsNaN(sigma) {
		return nil
	}
	// Where the line itself dives, what its slope does to depth and signal is reckoned with: a
	// current that steps by that alone does not count.
	straight := slices.Clone(lnI)
	for k := range straight {
		if c.varD[k] < nothing && c.varS[k] < nothing {
			straight[k] -= c.bend.lnD[k] + c.bend.lnS[k]
		}
	}
	t := c.depthTrack()
	var out []Stretch
	for _, l := range t.runs() {
		if !c.currentStepsWith(l, lnI, sigma) || !c.currentStepsWith(l, straight, sigma) && !c.nullStepsWith(l) {
			continue
		}
		s := c.unexplained(l.from, l.to, trace.GradeSuspect)
		s.FromM, s.ToM = math.Max(s.FromM-l.looseM, c.rd[0].StationM), math.Min(s.ToM+l.looseM, c.rd[len(c.rd)-1].StationM)
		if mostlySuspected(found, s) || mostlySuspected(out, s) {
			continue
		}
		s.LnDepth95 = math.Max(s.LnDepth95, depthDoubt*math.Abs(l.by))
		if !c.course.usable { // where the marks do not show it, it may be as far as one peak of two lines reaches
			widenM := unshownShift * c.depth[(l.from+l.to)/2] * math.Exp(math.Max(0, -l.by))
			s.WidenLeftM, s.WidenRightM = math.Max(s.WidenLeftM, widenM), math.Max(s.WidenRightM, widenM)
		}
		w := finding{from: l.from, to: l.to}
		s.Evidence = append(present(c.depthAndCurrent(w), remark.LevelsTogether{SeenBegin: true, SeenEnd: true}), c.marksOfAnother(l.from, l.to)...)
		out = append(out, s)
	}
	return out
}

// mostlySuspected reports whether suspected stretches are about half of another or more: its
// ends are those of what was read, and one that only touches it says nothing of it.
func mostlySuspected(found []Stretch, s Stretch) bool {
	var over float64
	for _, o := range found {
		if o.Grade != trace.GradeWatch {
			over += overlap(o, s)
		}
	}
	return over >= (s.ToM-s.FromM)/2
}

// depthTrack is the ln of the depth as it was read.
func (c *columns) depthTrack() track {
	return c.track(math.Inf(1), func(k int) (v, bend, least float64, ok bool) {
		bend = c.bend.lnD[k]
		return c.lnD[k] + bend, bend, depthLevel, c.varD[k] < nothing
	})
}

// currentsRead are the logs of the currents that a receiver gave beside the depths, and what
// they scatter by from one to the next; a receiver of which none is known reckoned with how
// high its antennas are, which signal times depth does not.
func (c *columns) currentsRead() (lnI []float64, sigma float64) {
	lnI = make([]float64, len(c.rd))
	var in []float64
	for k, r := range c.rd {
		lnI[k] = logOf(r.CurrentMA)
		if c.airCoupled[k] || r.SetAside || !(r.DepthM > 0) {
			lnI[k] = math.NaN()
		}
	}
	for _, k := range c.walk {
		if !math.IsNaN(lnI[k]) {
			in = append(in, lnI[k])
		}
	}
	if len(in) < leastLevel+2*sideLevel {
		return nil, math.NaN()
	}
	return lnI, firstSigma(in)
}

// currentStepsWith reports whether the current steps at the ends of a run of depths.
func (c *columns) currentStepsWith(l level, lnI []float64, sigma float64) bool {
	sure := endSigmas * endError * sigma
	begin, end := l.stepsOf(lnI)
	least, most := math.Min(math.Abs(begin), math.Abs(end)), math.Max(math.Abs(begin), math.Abs(end))
	switch {
	case math.IsNaN(begin) || math.IsNaN(end):
		return false
	case begin*end > 0 && least >= math.Max(bothEnds, sure):
		return true
	}
	return most >= math.Max(oneEnd, sure)
}

// endError is the error of a difference of two medians of three, in that of one: 0.67 times
// √2, derived from the normal distribution.
const endError = 0.95

// stepsOf is by how much values within a run are other than those outside, at its beginning
// and its end; not a number where too few are known.
func (l level) stepsOf(v []float64) (begin, end float64) {
	at := func(k, way int) float64 {
		var near []float64
		for ; k >= 0 && k < len(v) && len(near) < endReadings; k += way {
			if !math.IsNaN(v[k]) {
				near = append(near, v[k])
			}
		}
		if len(near) < endReadings {
			return math.NaN()
		}
		return median(near)
	}
	return at(l.from, 1) - at(l.from-1, -1), at(l.to, -1) - at(l.to+1, 1)
}

// nullTwice is by how many times what a receiver and a lead do by themselves the null steps
// where the depth does, which no dive of the line makes it do. Judgement.
const nullTwice = 2

// nullStepsWith reports whether the null steps at an end of a run of depths, as it was read
// and less what bends are reckoned to do.
func (c *columns) nullStepsWith(l level) bool {
	read, straight := make([]float64, len(c.rd)), make([]float64, len(c.rd))
	var in []float64
	for k := range c.rd {
		read[k], straight[k] = math.NaN(), math.NaN()
		if c.varN[k] < nothing && !c.airCoupled[k] && !c.rd[k].SetAside {
			read[k], straight[k] = c.null[k]+c.bend.null[k], c.null[k]
			in = append(in, read[k])
		}
	}
	if len(in) < leastLevel+2*sideLevel {
		return false
	}
	least := math.Max(nullTwice*math.Max(nullLevelM, nullLevelDepths*c.depth[l.from]), endSigmas*endError*firstSigma(in))
	b, e := l.stepsOf(read)
	sb, se := l.stepsOf(straight)
	return math.Min(math.Abs(b), math.Abs(sb)) >= least || math.Min(math.Abs(e), math.Abs(se)) >= least
}

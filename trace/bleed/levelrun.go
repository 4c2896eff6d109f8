package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A run of readings on another level, with a sharp end on either side, is what the
// models of a window may explain away piece by piece: a tee and its opposite, a
// depth that changes by the way. It is asked for by itself, column by column, against
// the readings next to it alone (levelsearch.go). Less than currentLevel of ln current,
// or than nullLevelM and nullLevelDepths of the null, a receiver, a bend or a lead does
// by itself; more than mostCurrent, a tenth, is a current that has all but gone.
// Judgement.
const (
	currentLevel    = 0.2
	mostCurrent     = 2.3
	nullLevelM      = 0.08
	nullLevelDepths = 0.08
)

// levelScore is the probability that such a stretch displaces a mark or a depth
// dangerously, where no more is known: of eight in both worlds that nothing else had
// found, three did (13 jobs a family, seeds 660000 to 660004 and 670000 to 670007). Judgement:
// eight are few.
const levelScore = 0.4

// levelRuns are the stretches on another level that no suspected stretch is about.
func (m unmapped) levelRuns(found []Stretch) []Stretch {
	c := m.columns
	current, null := c.currentTrack().runs(), c.nullTrack().runs()
	var out []Stretch
	for _, l := range append(slices.Clone(current), null...) {
		grade := trace.GradeSuspect
		if with(current, l) >= 0 && with(null, l) >= 0 {
			grade = trace.GradeStrong
		}
		s := c.unexplained(l.from, l.to, grade)
		s.FromM, s.ToM = s.FromM-l.looseM, s.ToM+l.looseM
		s.FromM, s.ToM = math.Max(s.FromM, c.rd[0].StationM), math.Min(s.ToM, c.rd[len(c.rd)-1].StationM)
		if overlapsSuspected(found, s) || overlapsSuspected(out, s) {
			continue
		}
		if i := with(current, l); i >= 0 {
			s.Evidence = append(s.Evidence, remark.CurrentLevel{LnCurrent: current[i].by}, remark.CurrentStaysAway)
		}
		if i := with(null, l); i >= 0 {
			s.Evidence = append(s.Evidence, remark.NullLevel{OffsetM: c.nullTimes() * math.Abs(null[i].by), Side: sideOf(null[i].by)}, remark.NullStaysAtPeak)
		}
		s.Evidence = append(s.Evidence, c.marksOfAnother(l.from, l.to)...)
		out = append(out, s)
	}
	return out
}

// marksOfAnother is what is to be said of marks between two readings that no model of
// another line explains.
func (c *columns) marksOfAnother(from, to int) []trace.Remark {
	w := finding{from: from, to: to}
	return present(remark.MarksMayBeAnothers, c.againstDirection(w), c.favoured(w))
}

// unexplained is a stretch between two readings of which no more is known than that
// they do not read as over one line.
func (c *columns) unexplained(from, to int, grade trace.Grade) Stretch {
	widenM := mostUnshownPart * c.depth[(from+to)/2]
	return Stretch{FromM: c.rd[from].StationM, ToM: c.rd[to].StationM, Grade: grade, Score: levelScore, Neighbor: Unknown,
		SeparationM: math.NaN(), ShiftM: math.NaN(), Shift95M: math.NaN(), LnDepth95: math.Log(1 + dangerDepth), WidenLeftM: widenM, WidenRightM: widenM}
}

// with is which of some levels lies at least in part where l does; -1 where none does.
func with(of []level, l level) int {
	return slices.IndexFunc(of, func(o level) bool { return o.from <= l.to && l.from <= o.to })
}

// currentTrack and nullTrack are the ln of the current and the null as they were read:
// the columns are less what bends are reckoned to do.
func (c *columns) currentTrack() track {
	return c.track(mostCurrent, func(k int) (v, bend, least float64, ok bool) {
		if c.lnI != nil {
			return c.lnI[k], 0, currentLevel, !math.IsNaN(c.lnI[k]) && !c.airCoupled[k]
		}
		bend = c.bend.lnD[k] + c.bend.lnS[k]
		return c.lnD[k] + c.lnS[k] + bend, bend, currentLevel, c.varD[k] < nothing && c.varS[k] < nothing
	})
}

func (c *columns) nullTrack() track {
	return c.track(math.Inf(1), func(k int) (v, bend, least float64, ok bool) {
		bend = c.bend.null[k]
		return c.null[k] + bend, bend, math.Max(nullLevelM, nullLevelDepths*c.depth[k]), c.varN[k] < nothing
	})
}

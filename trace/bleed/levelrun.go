package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A run of readings on another level, between two steps of which the second takes the first
// back, is what the models of a window may explain away piece by piece: a tee and its
// opposite, bends that nobody drew. It is asked for by itself, of the current and of the null,
// against the readings next to it alone (levelstep.go). Less than nullLevelM and
// nullLevelDepths of the null a bend or a lead does by itself, and less than leastRise of ln
// current a dive; more than mostCurrent, a tenth, is a current that has all but gone; more than
// mostRuns on one line are a receiver that changes its own level as it goes. Judgement.
const (
	mostCurrent     = 2.3
	nullLevelM      = 0.08
	nullLevelDepths = 0.08
	mostRuns        = 2
)

// levelScore is the probability that such a stretch displaces a mark or a depth
// dangerously, where no more is known: of eight in both worlds that nothing else had
// found, three did (13 jobs a family, seeds 660000 to 660004 and 670000 to 670007). Judgement:
// eight are few.
const levelScore = 0.4

// levelRuns are the stretches on another level that no suspected stretch is about, among them
// those between steps that the depth takes with the current.
func (m unmapped) levelRuns(withDepth []edge, found []Stretch) []Stretch {
	c := m.columns
	var out []Stretch
	add := func(t track, pairs [][2]edge, isLevel func(p [2]edge, from, to int) bool, tell func(by float64) []trace.Remark) {
		if len(pairs) > mostRuns {
			return
		}
		for _, p := range pairs {
			on := t.on[p[0].after:p[1].before]
			from, to := slices.Min(on), slices.Max(on)
			s := c.unexplained(from, to, trace.GradeSuspect)
			s.FromM, s.ToM = math.Max(s.FromM-t.looseM, c.rd[0].StationM), math.Min(s.ToM+t.looseM, c.rd[len(c.rd)-1].StationM)
			if isLevel(p, from, to) && t.leftOf(p) && !overlapsSuspected(found, s) && !overlapsSuspected(out, s) {
				s.Evidence = append(tell(p[0].by), c.marksOfAnother(from, to)...)
				out = append(out, s)
			}
		}
	}
	current, null := c.currentTrack(), c.nullTrack()
	tellCurrent := func(by float64) []trace.Remark {
		return []trace.Remark{remark.CurrentLevel{LnCurrent: by}, remark.CurrentStaysAway}
	}
	add(current, current.runs(m.branches), func(p [2]edge, from, to int) bool {
		by := math.Abs(p[0].by)
		return by <= mostCurrent && (by >= leastRise || by >= leastFall && m.asideAt(from, to))
	}, tellCurrent)
	together, _ := paired(withDepth)
	add(current, together, func(p [2]edge, _, _ int) bool { return math.Abs(p[0].by) <= mostCurrent }, tellCurrent)
	add(null, null.runs(m.branches), func(p [2]edge, _, _ int) bool { return p[0].atOnce() && p[1].atOnce() }, func(by float64) []trace.Remark {
		return []trace.Remark{remark.NullLevel{OffsetM: c.nullTimes() * math.Abs(by), Side: sideOf(by)}, remark.NullStaysAtPeak}
	})
	return out
}

// asideAt reports whether the marks of readings [from, to] step aside at the one end and back at
// the other. How deep the line lies is not asked: marks that another field draws aside with the
// current are not over the line alone either.
func (c *columns) asideAt(from, to int) bool {
	a, okA := c.hop(from)
	b, okB := c.hop(to + 1)
	surely := func(s amount) bool { return math.Abs(s.by) >= math.Max(leastAsideM, surelyAside*s.sd) }
	return okA && okB && surely(a) && surely(b) && a.by*b.by < 0
}

// atOnce reports whether a step is taken from one value to the next, or the one after: a null
// comes and goes slowly about a bend.
func (e edge) atOnce() bool { return e.after-e.before <= 1 }

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

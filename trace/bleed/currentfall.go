package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A current that falls at one place and does not come back is a branch, a bond or a fault
// that leads it away there, or the receiver has gone over to a line that carries less of
// it. Depth and null are those of one line on either side, so nothing else shows it, and
// nothing tells the two apart: a branch that nobody traced, or a trace that is not the
// line's. Both are told as what they may be.

// leastFall of ln current is a fall by a fifth. Common practice, no source: more than 20 %
// beyond the trend without a tee that is known asks for a look.
const leastFall = 0.223

// mostFalls on one line are branches: more are a receiver that changes its own level as it
// goes. Judgement.
const mostFalls = 6

// fallScore is the probability that such a stretch displaces a mark dangerously, where no
// more is known: most are branches. Judgement.
const fallScore = 0.1

// currentFalls are the stretches from where the current falls at once, on its lower side up
// to the next fall, but for those that suspected stretches are about.
func (m unmapped) currentFalls(found []Stretch) []Stretch {
	t := m.currentTrack()
	t.leastStep = leastFall
	if !t.oneWay() {
		return nil
	}
	var all []edge
	if len(t.v) >= 2*sideLevel && !math.IsNaN(t.sigma) {
		all = t.edges(m.branches)
	}
	if len(all) == 0 {
		all = t.plainEdge(m.branches)
	}
	for i := range all {
		if k, ok := takesBack(all, i); ok && !all[i].paired {
			all[i].paired, all[k].paired = true, true
		}
	}
	if len(all) > mostFalls {
		return nil
	}
	var out []Stretch
	for i, e := range all {
		if e.paired {
			continue
		}
		from, to := 0, e.before-1 // of the track, where the current is the lower
		if e.by < 0 {
			from, to = e.after, len(t.v)-1
			if i+1 < len(all) {
				to = all[i+1].before - 1
			}
		} else if i > 0 {
			from = all[i-1].after
		}
		out = append(out, m.belowFall(t, e, from, to, found)...)
	}
	return out
}

// A plain fall is one by leastPlainFall, a third or so, and by plainTimes what the current
// changes from any other reading to the next, with plainSide readings on either side:
// that few tell too. Judgement.
const leastPlainFall, plainTimes, plainSide = 0.36, 3.0, 2

// plainEdge is the one step of a current that changes little else, where few readings or an
// end are near it; none where there is no such step.
func (t track) plainEdge(branches func(from, to int) bool) []edge {
	k, most, next := 0, 0.0, 0.0
	for i := 1; i < len(t.v); i++ {
		by := math.Abs(t.v[i] - t.v[i-1])
		if by > most {
			k, most, next = i, by, most
		} else {
			next = math.Max(next, by)
		}
	}
	if k < plainSide || k+plainSide > len(t.v) || most < math.Max(leastPlainFall, plainTimes*next) || !t.goesOnOver(k, k) || branches(min(t.on[k-1], t.on[k]), max(t.on[k-1], t.on[k])) {
		return nil
	}
	return []edge{{before: k, after: k, by: t.v[k] - t.v[k-1]}}
}

// belowFall is the stretch of values [from, to) of a track on the lower side of a step.
func (m unmapped) belowFall(t track, e edge, from, to int, found []Stretch) []Stretch {
	a, b := min(t.on[from], t.on[to]), max(t.on[from], t.on[to])
	s := m.unexplained(a, b, trace.GradeWatch)
	// The receiver may have been on the way over for a while when the current fell.
	if atM := t.stationM[e.before-1]; s.FromM >= atM {
		s.FromM = math.Max(m.rd[0].StationM, s.FromM-hopM/2)
	} else {
		s.ToM = math.Min(m.rd[len(m.rd)-1].StationM, s.ToM+hopM/2)
	}
	if s.FromM >= s.ToM || coveredWhole(found, s) {
		return nil
	}
	atM := (t.stationM[e.before-1] + t.stationM[e.after]) / 2
	s.Score, s.Jump, s.WidenLeftM, s.WidenRightM, s.LnDepth95 = fallScore, true, 0, 0, math.NaN()
	s.Evidence = []trace.Remark{remark.CurrentFalls{LnCurrent: math.Abs(e.by), StationM: atM}}
	return []Stretch{s}
}

// coveredWhole reports whether one suspected stretch is about all of another.
func coveredWhole(found []Stretch, s Stretch) bool {
	for _, o := range found {
		if o.Grade != trace.GradeWatch && o.FromM <= s.FromM && o.ToM >= s.ToM {
			return true
		}
	}
	return false
}

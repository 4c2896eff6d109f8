package bleed

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A current that falls at one place and does not come back is a branch, a bond or a fault
// that leads it away there, or the receiver has gone over to a line that carries less of
// it. Depth and null are those of one line on either side, so nothing else shows it, and
// nothing tells the two apart: a branch that nobody traced, or a trace that is not the
// line's. Both are told as what they may be.
//
// Away from the transmitter the current in a line only falls. Where it rises at once against
// the way in which it falls on either side, the readings beyond are over another conductor,
// whatever the marks do: a receiver that goes over stays on the stronger signal.

// leastFall of ln current is a fall by a fifth. Common practice, no source: more than 20 %
// beyond the trend without a tee that is known asks for a look.
const leastFall = 0.223

// mostFalls on one line are branches: more are a receiver that changes its own level as it
// goes. Judgement.
const mostFalls = 6

// leastRise of ln current is a rise that no bend and no lead makes, and riseScore the
// probability that what lies past one displaces a mark or a depth dangerously, where no more
// is known. Judgement.
const (
	leastRise = 0.4
	riseScore = 0.6
)

// fallSigmas of its error the slope of the current must fall on one side of a rise, over up to
// fallReadings, and not rise on the other. Judgement.
const (
	fallSigmas   = 3
	fallReadings = 24
)

// fallScore is the probability that such a stretch displaces a mark dangerously, where no
// more is known: most are branches. Judgement.
const fallScore = 0.1

// currentSteps are the stretches past a rise of the current against its fall, which are
// suspected, and those from where it falls at once, on its lower side up to the next step, but
// for those that suspected stretches are about. Among the steps are those that the depth takes
// with the current; a step that is told by itself is told whatever these do.
func (m unmapped) currentSteps(withDepth []edge, found []Stretch) (rises []Stretch, falls func(found []Stretch) []Stretch) {
	t := m.currentTrack()
	edges := t.edges(m.branches)
	if len(edges) == 0 && t.oneWay() {
		edges = t.plainEdge(m.branches)
	}
	stay := func(edges []edge) []edge {
		_, all := paired(edges)
		if len(all) > mostFalls {
			return nil
		}
		return all
	}
	all := slices.Concat(stay(edges), stay(apartFrom(withDepth, edges)))
	slices.SortFunc(all, func(a, b edge) int { return a.before - b.before })
	for i, e := range all {
		lo, hi := 0, len(t.v) // up to the next steps the slope is the current's own
		if i > 0 {
			lo = all[i-1].after
		}
		if i+1 < len(all) {
			hi = all[i+1].before
		}
		if math.Abs(e.by) >= leastRise && t.falls(e.before, e.after, lo, hi)*e.by > 0 {
			rises = append(rises, m.pastRise(t, e, append(slices.Clone(found), rises...))...)
		}
	}
	return rises, func(found []Stretch) (out []Stretch) {
		for i, e := range all {
			lo, hi := 0, len(t.v)
			if i > 0 {
				lo = all[i-1].after
			}
			if i+1 < len(all) {
				hi = all[i+1].before
			}
			out = append(out, m.belowFall(t, e, lo, hi, found)...)
		}
		return out
	}
}

// pastRise is the stretch on the far side of a rise, to the end of the walk there. Before all
// of the current has changed both fields mix, and the marks slide.
func (m unmapped) pastRise(t track, e edge, found []Stretch) []Stretch {
	from, to := e.after, len(t.v)-1
	if e.by < 0 { // the walk came to the transmitter
		from, to = 0, e.before-1
	}
	for e.by > 0 && from > 0 && t.walked(from-1, e.after) <= hopM/2 {
		from--
	}
	for e.by < 0 && to+1 < len(t.v) && t.walked(e.before-1, to+1) <= hopM/2 {
		to++
	}
	a, b := min(t.on[from], t.on[to]), max(t.on[from], t.on[to])
	s := m.unexplained(a, b, trace.GradeSuspect)
	if overlapsSuspected(found, s) {
		return nil
	}
	s.Score = riseScore
	s.Evidence = append([]trace.Remark{remark.CurrentRises{LnCurrent: math.Abs(e.by), StationM: m.rd[t.on[e.after]].StationM}}, m.marksOfAnother(a, b)...)
	return []Stretch{s}
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
	if k < plainSide || k+plainSide > len(t.v) || most < math.Max(leastPlainFall-leastFall+t.leastOver(k-1, k), plainTimes*next) || !t.goesOnOver(k, k) || branches(min(t.on[k-1], t.on[k]), max(t.on[k-1], t.on[k])) {
		return nil
	}
	return []edge{{before: k, after: k, by: t.v[k] - t.v[k-1]}}
}

// belowFall is the stretch on the lower side of a step, of the values [lo, hi) of a track.
func (m unmapped) belowFall(t track, e edge, lo, hi int, found []Stretch) []Stretch {
	from, to := lo, e.before-1
	if e.by < 0 {
		from, to = e.after, hi-1
	}
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
	m.alsoAbove(&s, t, e, lo, hi)
	atM := (t.stationM[e.before-1] + t.stationM[e.after]) / 2
	s.Score, s.Jump, s.WidenLeftM, s.WidenRightM, s.LnDepth95 = fallScore, true, 0, 0, math.NaN()
	s.Evidence = []trace.Remark{remark.CurrentFalls{LnCurrent: math.Abs(e.by), StationM: atM}}
	return []Stretch{s}
}

// alsoAbove has a stretch on the lower side of a step hold the higher one too, of the values
// [lo, hi) of its track, where the marks step aside at the same place or the depth steps: one
// side is over another line then, and a neighbour carries more as well as less. A side that is
// longerAbove times as long as the lower one is the line's own.
func (m unmapped) alsoAbove(s *Stretch, t track, e edge, lo, hi int) {
	edge := (min(t.on[e.before-1], t.on[e.after]) + max(t.on[e.before-1], t.on[e.after]) + 1) / 2
	aside, ok := m.hop(edge)
	if (!ok || math.Abs(aside.by) < math.Max(leastAsideM, clearlyAside*aside.sd)) && !m.depthSteps(t, e) {
		return
	}
	a, b := t.stationM[lo], t.stationM[e.before-1] // the higher side
	if e.by > 0 {
		a, b = t.stationM[e.after], t.stationM[hi-1]
	}
	if a > b {
		a, b = b, a
	}
	if b-a <= longerAbove*(s.ToM-s.FromM) {
		s.FromM, s.ToM = math.Min(s.FromM, a), math.Max(s.ToM, b)
	}
}

// longerAbove is as the guard has it of steps of the places alone; a bend beside a tee steps
// aside by less than clearlyAside sigma. Judgement.
const longerAbove, clearlyAside = 2.0, 10.0

// coveredWhole reports whether one suspected stretch is about all of another.
func coveredWhole(found []Stretch, s Stretch) bool {
	for _, o := range found {
		if o.Grade != trace.GradeWatch && o.FromM <= s.FromM && o.ToM >= s.ToM {
			return true
		}
	}
	return false
}

// branches reports whether a branch leaves the line about readings [from, to], traced
// with it or walked out and back along it.
func (m unmapped) branches(from, to int) bool {
	l := m.allLegs()
	for k := from; k <= to; k++ {
		if nearM, _ := l.strongest(k); nearM < ownLegDepths*m.depth[k] {
			return true
		}
	}
	return slices.ContainsFunc(m.teesM, func(at float64) bool { return at > m.rd[from].StationM-hopM && at < m.rd[to].StationM+hopM })
}

// falls is +1 where the current falls along the walk on the two sides of a step, −1
// where it falls the other way, of values lo to hi; 0 where nothing tells and NaN
// where the two sides contradict each other, as where a branch leaves.
func (t track) falls(before, after, lo, hi int) float64 {
	from, to := before, after // past what both lines' fields mix in
	for from > lo && t.walked(from-1, before-1) < hopM/2 {
		from--
	}
	for to < hi && t.walked(after, to) < hopM/2 {
		to++
	}
	a, b := t.slope(max(lo, from-fallReadings), from), t.slope(to, min(hi, to+fallReadings))
	switch {
	case math.Min(a, b) < -fallSigmas && math.Max(a, b) < fallSigmas/2.0:
		return 1
	case math.Max(a, b) > fallSigmas && math.Min(a, b) > -fallSigmas/2.0:
		return -1
	case math.Max(math.Abs(a), math.Abs(b)) > fallSigmas:
		return math.NaN()
	}
	return 0
}

// slope is that of the values [from, to) along the walk, in its standard errors.
func (t track) slope(from, to int) float64 {
	if to-from < sideLevel {
		return 0
	}
	x, y := make([]float64, to-from), t.v[from:to]
	for i := range x {
		x[i] = t.walked(from, from+i)
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	var sum float64
	for i := range x {
		sum += math.Pow(y[i]-a-b*x[i], 2)
	}
	n := float64(len(x))
	z := b * math.Sqrt((n-1)*stat.Variance(x, nil)) / math.Max(math.Sqrt(sum/(n-2)), t.sigma)
	if math.IsNaN(z) { // all at one place
		return 0
	}
	return z
}

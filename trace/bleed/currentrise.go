package bleed

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Away from the transmitter the current in a line only falls: some flows off through
// the ground on the way, and at a tee a part turns off. Where it rises at once the
// readings beyond are over another conductor, to where it falls as much again or to the
// end of the trace, whatever the marks do: a receiver that goes over stays on the
// stronger signal. Which way the current falls, the transmitter's place tells, or else
// the readings themselves on the two sides of the rise. The figures are judgement.
const (
	// leastRise of ln current, and riseSigmas of its error, are no rise that noise, a bend
	// or a lead makes.
	leastRise  = 0.4
	riseSigmas = 6
	// fallSigmas of its error the slope of the current must fall on one side of a rise,
	// over up to fallReadings, and not rise on the other.
	fallSigmas   = 3
	fallReadings = 24
	// fallsBack is by what part of the larger two steps may differ of which one takes the
	// other back.
	fallsBack = 0.5
	// mostRises on one line may be another conductor's: more are a receiver that changes
	// its own level as it goes.
	mostRises = 2
)

// riseScore is the probability that such a stretch displaces a mark or a depth
// dangerously, where no more is known. Judgement.
const riseScore = 0.6

// currentRises are the stretches past a rise of the current that no suspected stretch
// is about.
func (m unmapped) currentRises(found []Stretch) []Stretch {
	c := m.columns
	t := c.currentTrack()
	t.leastStep = leastRise
	if len(t.v) < 2*sideLevel || math.IsNaN(t.sigma) || !t.oneWay() {
		return nil
	}
	rises := t.rises(m.away(), m.branches, m.stepsAside)
	if steps(rises) > mostRises {
		return nil
	}
	var out []Stretch
	for _, r := range rises {
		from, to := min(t.on[r.from], t.on[r.to]), max(t.on[r.from], t.on[r.to])
		s := c.unexplained(from, to, trace.GradeSuspect)
		atM := c.rd[t.on[r.edge]].StationM
		tells := []trace.Remark{remark.CurrentRises{LnCurrent: math.Abs(r.by), StationM: atM}}
		if r.either {
			tells = []trace.Remark{remark.LevelsTogether{SeenBegin: from > 0, SeenEnd: from == 0}, remark.EitherSideMayBeOther}
		}
		if overlapsSuspected(found, s) {
			m.riseWithin(found, from, to, atM, tells)
			continue
		}
		if r.either || overlapsSuspected(out, s) { // a tee at fittings that move the line aside does as much
			continue
		}
		s.Score = riseScore
		if r.valley {
			s.Grade, s.Score = trace.GradeWatch, valleyScore
		}
		s.Evidence = append(tells, c.marksOfAnother(from, to)...)
		out = append(out, s)
	}
	return out
}

// riseWithin tells of a rise on stretches that are suspected already: their caution
// holds the course that the marks left there.
func (m unmapped) riseWithin(found []Stretch, from, to int, atM float64, tells []trace.Remark) {
	for i := range found {
		s := &found[i]
		if s.Neighbor == Unknown && s.Grade != trace.GradeWatch && s.FromM <= atM && s.ToM >= atM {
			m.widenToEnds(s, from, to)
			s.Evidence = append(s.Evidence, tells...)
		}
	}
}

// away is +1 at stations from which the line leads away from a transmitter whose place
// is known as its stations grow, −1 where it leads to it; 0 where nothing is known.
func (m unmapped) away() func(stationM float64) float64 {
	path := geo.NewPolyline(m.line.Points)
	if m.line.Transmitter == nil || m.line.TransmitterInferred || len(m.line.Points) < 2 {
		return func(float64) float64 { return 0 }
	}
	f := path.Nearest(*m.line.Transmitter)
	if math.Abs(f.OffsetM) > mostLateralM {
		return func(float64) float64 { return 0 }
	}
	return func(stationM float64) float64 { return math.Copysign(1, stationM-f.StationM) }
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

// stepsAside reports whether the marks surely step aside to a course beside about two
// readings.
func (m unmapped) stepsAside(from, to int) bool {
	for _, edge := range []int{from, to} {
		if s, ok := m.hop(edge); ok && m.surelyBeside(s, edge) {
			return true
		}
	}
	return false
}

// edge is a step of the current.
type edge struct {
	before, after int // of the track's values, in the order of the walk
	by            float64
	way           float64 // +1 where the current falls along the walk, −1 the other way, 0 where nothing tells
	paired        bool    // with another that takes it back
	valley        bool    // the way is told by what the current came from alone
}

// rise is a run of values on the far side of a rise of the current.
type rise struct {
	from, to int // of the track's values
	edge     int // the one at which it rises
	by       float64
	either   bool // nothing tells on which side of the step the signal is another's
	valley   bool // the way is told by what the current came from alone
}

// steps is at how many steps of the current some rises are.
func steps(rises []rise) int {
	n := 0
	for i, r := range rises {
		if !r.either || i == 0 || rises[i-1].by != r.by {
			n++
		}
	}
	return n
}

// rises finds the rises against the fall of the current; where nothing tells which way
// it falls, those at which the marks step aside. A rise that takes back a fall before
// it ends what began there.
func (t track) rises(away func(stationM float64) float64, branches, beside func(from, to int) bool) []rise {
	all := t.edges(branches)
	for i := range all {
		e, lo, hi := &all[i], 0, len(t.v) // up to the next steps the slope is the current's own
		if i > 0 {
			lo = all[i-1].after
		}
		if i+1 < len(all) {
			hi = all[i+1].before
		}
		e.way = t.falls(e.before, e.after, lo, hi)
		if e.way != 1 && t.valley(*e) {
			e.way, e.valley = 1, true
		}
		if way := away(t.stationM[e.after]); way != 0 {
			e.way = way * math.Copysign(1, t.stationM[e.after]-t.stationM[e.before-1])
		}
	}
	var out []rise
	for i := range all {
		e := &all[i]
		if e.paired || !(e.way*e.by >= 0) {
			continue
		}
		k, ok := takesBack(all, i)
		switch {
		case ok:
			all[i].paired, all[k].paired = true, true
			r := rise{from: all[min(i, k)].after, to: all[max(i, k)].before - 1, by: e.by}
			r.edge = r.from
			if k < i {
				r.edge = e.after
			}
			out = append(out, r)
		case e.way != 0:
			r := t.past(*e)
			r.valley = e.valley
			out = append(out, r)
		case beside(t.on[min(e.before, e.after)], t.on[max(e.before, e.after)]):
			for _, by := range []float64{-1, 1} {
				r := t.past(edge{before: e.before, after: e.after, by: by})
				r.by, r.either = e.by, true
				out = append(out, r)
			}
		}
	}
	return out
}

// edges finds the steps of the current, in the order of the walk.
func (t track) edges(branches func(from, to int) bool) []edge {
	var all []edge
	for a := sideLevel; a+sideLevel <= len(t.v); a++ {
		by, after, ok := t.stepFrom(a)
		if !ok {
			continue
		}
		e := edge{}
		e.before, e.after, e.by = t.tightest(a, after, by)
		if t.goesOnOver(e.before, e.after) && !branches(min(t.on[e.before-1], t.on[e.after]), max(t.on[e.before-1], t.on[e.after])) {
			all = append(all, e)
		}
		a = e.after + sideLevel - 1
	}
	return all
}

// takesBack is which step next to one takes it back; first the one on the side of the
// transmitter.
func takesBack(all []edge, i int) (int, bool) {
	order := [2]int{i - 1, i + 1}
	if all[i].by < 0 {
		order = [2]int{i + 1, i - 1}
	}
	for _, k := range order {
		if k >= 0 && k < len(all) && !all[k].paired && all[k].by*all[i].by < 0 &&
			math.Abs(all[k].by+all[i].by) <= fallsBack*math.Max(math.Abs(all[k].by), math.Abs(all[i].by)) {
			return k, true
		}
	}
	return 0, false
}

// past is the run on the far side of a rise that nothing takes back, to the end of the
// walk there.
func (t track) past(e edge) rise {
	// Before all of the current has changed both fields mix, and the marks slide.
	from, to := e.after, e.before-1
	for from > 0 && t.walked(from-1, e.after) <= hopM/2 {
		from--
	}
	for to+1 < len(t.v) && t.walked(e.before-1, to+1) <= hopM/2 {
		to++
	}
	if e.by < 0 { // the walk came to the transmitter
		return rise{from: 0, to: to, edge: e.before - 1, by: e.by}
	}
	return rise{from: from, to: len(t.v) - 1, edge: e.after, by: e.by}
}

// stepFrom is the largest sure step between the values before value a and those from
// some value on, within the length of a hop.
func (t track) stepFrom(a int) (by float64, after int, ok bool) {
	for b := a; b+sideLevel <= len(t.v) && (b <= a+1 || math.Abs(t.stationM[b]-t.stationM[a-1]) <= hopM); b++ {
		if s, sure := t.stepOver(a, b); sure && math.Abs(s) > math.Abs(by) {
			by, after, ok = s, b, true
		}
	}
	return by, after, ok
}

// tightest is where most of a step between two values is taken at once, or within the
// fewest values.
func (t track) tightest(before, after int, by float64) (a, b int, most float64) {
	for gap := 0; gap < after-before; gap++ {
		a, most = before, 0
		for x := before; x+gap <= after; x++ {
			if s, sure := t.stepOver(x, x+gap); sure && s*by > 0 && math.Abs(s) > math.Abs(most) {
				a, most = x, s
			}
		}
		if math.Abs(most) >= edgePart*math.Abs(by) {
			return a, a + gap, most
		}
	}
	return before, after, by
}

// stepOver is the step from the values before value before to those from value after
// on, if it is sure: two levels and one slope, from which the values next to the step
// stray by less than it.
func (t track) stepOver(before, after int) (by float64, sure bool) {
	if before < sideLevel || after+sideLevel > len(t.v) {
		return 0, false
	}
	from, to := max(0, before-mostSide), min(len(t.v), after+mostSide)
	lo, hi := math.Inf(1), math.Inf(-1) // of the differences across the step
	for _, x := range t.v[before-sideLevel : before] {
		for _, y := range t.v[after : after+sideLevel] {
			lo, hi = min(lo, y-x), max(hi, y-x)
		}
	}
	if lo*hi <= 0 || math.Min(math.Abs(lo), math.Abs(hi)) < t.leastStep/2 {
		return 0, false
	}
	var at, v []float64
	var in []bool
	for i := from; i < to; i++ {
		if i < before || i >= after {
			at, v, in = append(at, t.stationM[i]-t.stationM[before]), append(v, t.v[i]), append(in, i >= after)
		}
	}
	s, ok := fitStep(at, v, in)
	return s.by, ok && math.Abs(s.by) >= math.Max(t.leastStep, riseSigmas*math.Max(s.sigma, t.sigma))
}

// goesOnOver reports whether the walk goes on the same way along the line past a step,
// and the step is taken within reach: a branch that is walked out and back is left at
// another level than it was entered from.
func (t track) goesOnOver(before, after int) bool {
	in := t.stationM[before-1] - t.stationM[max(0, before-mostSide)]
	out := t.stationM[min(len(t.stationM), after+mostSide)-1] - t.stationM[after]
	over := t.stationM[after] - t.stationM[before-1]
	return in*out > 0 && in*over > 0 && math.Abs(over) <= lateralReachM
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
	var n, mx, my, xx, xy float64
	for i := from; i < to; i++ {
		n, mx, my = n+1, mx+float64(t.walked(from, i)), my+t.v[i]
	}
	mx, my = mx/n, my/n
	for i := from; i < to; i++ {
		x := t.walked(from, i) - mx
		xx, xy = xx+x*x, xy+x*(t.v[i]-my)
	}
	if n < sideLevel || xx == 0 {
		return 0
	}
	b, sum := xy/xx, 0.0
	for i := from; i < to; i++ {
		e := t.v[i] - my - b*(t.walked(from, i)-mx)
		sum += e * e
	}
	return b / (math.Max(math.Sqrt(sum/(n-2)), t.sigma) / math.Sqrt(xx))
}

// walked is the way along the line from one value to another.
func (t track) walked(from, to int) float64 { return math.Abs(t.stationM[to] - t.stationM[from]) }

// oneWay reports whether the walk went along the line once: another pass has its own
// level.
func (t track) oneWay() bool {
	var there, back float64
	for i := 1; i < len(t.stationM); i++ {
		if d := t.stationM[i] - t.stationM[i-1]; d > 0 {
			there += d
		} else {
			back -= d
		}
	}
	return math.Min(there, back) <= mostBack*math.Max(there, back)
}

// mostBack is the part of the way that positions may seem to go back on one pass. Judgement.
const mostBack = 0.25

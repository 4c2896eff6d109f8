package bleed

import (
	"fmt"
	"math"
	"slices"

	"loamline/geo"
	"loamline/trace"
)

// A run of readings on another level, with a sharp end on either side, is what the
// stories of a window may explain away piece by piece: a tee and its opposite, a
// depth that changes by the way. It is asked for here by itself, column by column,
// against the readings next to it alone.
const (
	// leastLevel to mostLevel readings are on it, and sideLevel to mostSide on either
	// side show the line's own level.
	leastLevel, mostLevel = 4, 120
	sideLevel, mostSide   = 4, 8
	// levelSigmas is how many times its column's scatter, over all of the line and about
	// the level itself, a level differs; less than currentLevel of ln current, or than
	// nullLevelM and nullLevelDepths of the null, a receiver, a bend or a lead does by
	// itself. More than mostCurrent, a tenth, is a current that has all but gone.
	levelSigmas     = 6
	currentLevel    = 0.2
	mostCurrent     = 2.3
	nullLevelM      = 0.08
	nullLevelDepths = 0.08
	// onLevel is the least part of the way to the level that each of its readings has
	// gone, and offLevel the most that the nearest ones outside have; the sides' own
	// levels differ by at most unlikeSides of it.
	onLevel, offLevel = 0.6, 0.3
	edgePart          = 0.7 // of a level that each end goes in one step
	unlikeSides       = 0.5
	// mostRuns of a column on one line may be another conductor's: more are a receiver
	// that changes its own level as it goes.
	mostRuns = 2
	// leftOfBends is the least part of a level that is left once what bends are reckoned
	// to do is taken off, where positions better than courseM show the bends: a looser
	// course has bends that are none.
	leftOfBends = 0.5
	courseM     = 0.1
)

// levelScore is the probability that such a stretch displaces a mark or a depth
// dangerously, where no more is known: of eight in both worlds that nothing else had
// found, three did (13 jobs a family, seeds 660000 to 660004 and 670000 to 670007).
const levelScore = 0.4

// level is a run of readings on another level of a column: one after the other on
// the walk, which positions that err by a stride or more do not keep apart along the
// line.
type level struct {
	from, to int // the first and the last of its readings along the line
	by       float64
	sigmas   float64 // of the mean
	looseM   float64 // by which its ends may lie off along the line
}

// column is one kind of value along the line as it was read, NaN where there is none,
// with what bends are reckoned to do to it.
type column struct {
	v, bend []float64
	least   func(k int) float64
	most    float64
}

// levelRuns are the stretches on another level that no suspected stretch is about.
func (m unmapped) levelRuns(found []Stretch, units geo.Units) []Stretch {
	c := m.columns
	current, null := c.levels(c.currentColumn()), c.levels(c.nullColumn())
	var out []Stretch
	for _, l := range append(slices.Clone(current), null...) {
		grade := trace.GradeSuspect
		if with(current, l) >= 0 && with(null, l) >= 0 {
			grade = trace.GradeStrong
		}
		depth := c.depth[(l.from+l.to)/2]
		s := Stretch{FromM: c.rd[l.from].StationM - l.looseM, ToM: c.rd[l.to].StationM + l.looseM, Grade: grade, Score: levelScore, Neighbor: Unknown,
			SeparationM: math.NaN(), ShiftM: math.NaN(), Shift95M: math.NaN(), LnDepth95: math.Log(1 + dangerDepth),
			WidenLeftM: mostUnshownPart * depth, WidenRightM: mostUnshownPart * depth}
		s.FromM, s.ToM = math.Max(s.FromM, c.rd[0].StationM), math.Min(s.ToM, c.rd[len(c.rd)-1].StationM)
		if overlapsSuspected(found, s) || overlapsSuspected(out, s) {
			continue
		}
		if i := with(current, l); i >= 0 {
			s.Evidence = append(s.Evidence, fmt.Sprintf("Current reads %s than before and after, and changes at once at both ends.", moreOrLess(current[i].by)), "Current that a line gives away does not come back.")
		}
		if i := with(null, l); i >= 0 {
			s.Evidence = append(s.Evidence, fmt.Sprintf("The null lies %s to the %s of where it lies before and after, and changes at once at both ends.", units.Short(math.Abs(null[i].by)), sideOf(null[i].by)), "Over a line alone it stays at the peak.")
		}
		w := finding{from: l.from, to: l.to}
		s.Evidence = append(s.Evidence, "The marks may belong to another line, or carry its signal.")
		for _, words := range []string{c.phaseWords(w), c.setupWords(w)} {
			if words != "" {
				s.Evidence = append(s.Evidence, words)
			}
		}
		out = append(out, s)
	}
	return out
}

// with is which of some levels lies at least in part where l does; -1 where none does.
func with(of []level, l level) int {
	return slices.IndexFunc(of, func(o level) bool { return o.from <= l.to && l.from <= o.to })
}

func (c *columns) currentColumn() column {
	v, bend := make([]float64, len(c.rd)), make([]float64, len(c.rd))
	for k := range v {
		bend[k] = c.bend.lnD[k] + c.bend.lnS[k]
		v[k] = c.lnD[k] + c.lnS[k] + bend[k]
		if c.varD[k] >= nothing || c.varS[k] >= nothing {
			v[k] = math.NaN()
		}
	}
	return column{v, bend, func(int) float64 { return currentLevel }, mostCurrent}
}

func (c *columns) nullColumn() column {
	v := make([]float64, len(c.rd))
	for k := range v {
		v[k] = c.null[k] + c.bend.null[k]
		if c.varN[k] >= nothing {
			v[k] = math.NaN()
		}
	}
	return column{v, c.bend.null, func(k int) float64 { return math.Max(nullLevelM, nullLevelDepths*c.depth[k]) }, math.Inf(1)}
}

// levels finds the runs on another level, from edge to edge.
func (c *columns) levels(col column) []level {
	var on []int
	var v, loose []float64
	for _, k := range c.walk {
		x := col.v[k]
		if !math.IsNaN(x) && !c.airCoupled[k] && !c.rd[k].SetAside {
			on, v, loose = append(on, k), append(v, x), append(loose, positionSigma(c.rd[k]))
		}
	}
	if len(v) < leastLevel+2*sideLevel {
		return nil
	}
	looseM := 1.96 * median(loose)
	if looseM > 1.96*courseM {
		col.bend = nil
	}
	sigma := firstSigma(v)
	if math.IsNaN(sigma) {
		return nil
	}
	edge := func(i int) float64 { // of the step before value i, one in between left out or not
		e := v[i] - v[i-1]
		if i > 1 && math.Abs(v[i]-v[i-2]) > math.Abs(e) {
			e = v[i] - v[i-2]
		}
		return e
	}
	var out []level
	for a := sideLevel; a < len(v); a++ {
		up := edge(a)
		if math.Abs(up) < onLevel*math.Max(col.least(on[a]), levelSigmas*sigma) {
			continue
		}
		var best level
		last := a
		for b := a + leastLevel - 1; b < min(len(v)-sideLevel, a+mostLevel); b++ {
			if (v[b+1]-v[b])*up >= 0 && (v[min(b+2, len(v)-1)]-v[b])*up >= 0 {
				continue
			}
			if by, ok := col.onAnother(v, on, a, b, sigma); ok && math.Abs(by) <= col.most && c.passes(on, a, b) && math.Abs(by)*math.Sqrt(float64(b-a+1))/sigma > best.sigmas {
				best, last = level{slices.Min(on[a : b+1]), slices.Max(on[a : b+1]), by, math.Abs(by) * math.Sqrt(float64(b-a+1)) / sigma, looseM}, b
			}
		}
		if best.sigmas > 0 {
			out, a = append(out, best), last
		}
	}
	if len(out) > mostRuns {
		return nil
	}
	return out
}

// onAnother tells by how much values a to b are on another level than those on either
// side, if they are.
func (col column) onAnother(v []float64, on []int, a, b int, sigma float64) (by float64, ok bool) {
	level := middle(v[a : b+1])
	for _, skip := range [][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} { // a reading of neither level at either end
		before, after := v[max(0, a-skip[0]-mostSide):max(0, a-skip[0])], v[min(len(v), b+1+skip[1]):min(len(v), b+1+skip[1]+mostSide)]
		if len(before) < sideLevel || len(after) < sideLevel {
			continue
		}
		mb, ma := middle(before), middle(after)
		db, da := level-mb, level-ma
		if db*da <= 0 || math.Min(math.Abs(db), math.Abs(da)) < math.Max(col.least(on[a]), levelSigmas*sigma) || math.Abs(db-da) > unlikeSides*math.Max(math.Abs(db), math.Abs(da)) {
			continue
		}
		own := (mb + ma) / 2
		by := level - own
		sharp := !slices.ContainsFunc(v[a:b+1], func(x float64) bool { return (x-own)/by < onLevel }) &&
			!slices.ContainsFunc(append(slices.Clone(before[len(before)-sideLevel:]), after[:sideLevel]...), func(x float64) bool {
				return (x-own)/by > offLevel+math.Abs(mb-ma)/2/math.Abs(by)
			})
		at := func(i, k int) float64 { return (v[k] - v[i]) / by }
		sharp = sharp && at(a-skip[0]-1, a) >= edgePart && at(b+1+skip[1], b) >= edgePart
		scatter := spreadOf(v[a:b+1], level, spreadOf(before, mb, spreadOf(after, ma, nil)))
		sharp = sharp && math.Abs(by) >= levelSigmas*madFactor*median(scatter)
		if sharp && col.leftOf(by, on, a-skip[0], a, b+1, b+1+skip[1]) {
			return by, true
		}
	}
	return 0, false
}

// spreadOf adds how far values lie from their level.
func spreadOf(v []float64, level float64, to []float64) []float64 {
	for _, x := range v {
		to = append(to, math.Abs(x-level))
	}
	return to
}

// passes reports whether the walk goes on along the line over values a to b: where it
// turns, a null to its right is on the other side, and another pass has its own level.
func (c *columns) passes(on []int, a, b int) bool {
	station := func(ks []int) float64 {
		var s []float64
		for _, k := range ks {
			s = append(s, c.rd[k].StationM)
		}
		return median(s)
	}
	before, in, after := station(on[max(0, a-mostSide):a]), station(on[a:b+1]), station(on[b+1:min(len(on), b+1+mostSide)])
	return (in-before)*(after-in) > 0
}

// middle is the median of values that stay in their order.
func middle(v []float64) float64 { return median(slices.Clone(v)) }

// leftOf reports whether enough of a level is left without what bends are reckoned to
// do, between values a and b, against those up to before and from after on.
func (col column) leftOf(by float64, on []int, before, a, b, after int) bool {
	if col.bend == nil {
		return true
	}
	of := func(ks []int) float64 {
		var v []float64
		for _, k := range ks {
			v = append(v, col.bend[k])
		}
		return median(v)
	}
	own := (of(on[max(0, before-mostSide):before]) + of(on[after:min(len(on), after+mostSide)])) / 2
	return (by-(of(on[a:b])-own))/by >= leftOfBends
}

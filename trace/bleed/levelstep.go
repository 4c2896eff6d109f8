package bleed

import (
	"math"
	"slices"
)

// What makes a step of the current or of the null from one level to another. Judgement.
const (
	// sideLevel to mostSide readings on either side of it show the levels.
	sideLevel, mostSide = 4, 8
	// riseSigmas is how many times its error, and its track's scatter from one to the next, a
	// step is.
	riseSigmas = 6
	// endSigmas is the same of either end of a run.
	endSigmas = 4
	// edgePart of a step over some readings is taken within the fewest that take so much.
	edgePart = 0.7
	// clearPart of it is the least by which any of the values next to it on one side differs
	// from any on the other.
	clearPart = 0.4
	// fallsBack is by what part of the larger two steps may differ of which one takes the
	// other back.
	fallsBack = 0.5
	// leftOfBends is the least part of a level that is left once what bends are reckoned
	// to do is taken off, where positions better than courseM show the bends: a looser
	// course has bends that are none.
	leftOfBends = 0.5
	courseM     = 0.1
	// mostBack is the part of the way that positions may seem to go back on one pass.
	mostBack = 0.25
)

// track is what one column says in the order of the walk, for positions that err by a
// stride or more shuffle readings along the line.
type track struct {
	v, bend   []float64 // as read; what bends are reckoned to do to it, nil where nothing shows them
	figure    []float64 // by how much one step of the display changes it
	stationM  []float64
	on        []int   // readings
	leastStep float64 // that is one
	sigma     float64 // scatter from one to the next; NaN of too few
	looseM    float64 // by which the ends of a run may lie off along the line
	sides     []int   // how many values on either side of a step are asked, the most first
	sigmas    float64 // how many times its error, and the scatter from one to the next, a step is
}

// edge is a step from one level to another.
type edge struct {
	before, after int // of the track's values, in the order of the walk
	by            float64
}

// track gathers the values that are there.
func (c *columns) track(leastStep float64, of func(k int) (v, bend, figure float64, ok bool)) track {
	t := track{leastStep: leastStep, sides: []int{mostSide}, sigmas: riseSigmas}
	var loose []float64
	for _, k := range c.walk {
		v, bend, figure, ok := of(k)
		if !ok || math.IsNaN(v) || c.airCoupled[k] || c.rd[k].SetAside {
			continue
		}
		t.v, t.bend, t.figure = append(t.v, v), append(t.bend, bend), append(t.figure, figure)
		t.on, t.stationM = append(t.on, k), append(t.stationM, c.rd[k].StationM)
		loose = append(loose, positionSigma(c.rd[k]))
	}
	if t.sigma = firstSigma(t.v); len(loose) == 0 {
		return t
	}
	sigmaM := median(loose)
	if t.looseM = 1.96 * sigmaM; sigmaM > courseM {
		t.bend = nil
	}
	return t
}

// currentTrack and nullTrack are the ln of the current and the null as they were read:
// the columns are less what bends are reckoned to do.
func (c *columns) currentTrack() track {
	return c.track(leastFall, func(k int) (v, bend, figure float64, ok bool) {
		figure = c.round.signalStep(k)
		if c.lnI != nil {
			return c.lnI[k], 0, figure, !math.IsNaN(c.lnI[k])
		}
		bend = c.bend.lnD[k] + c.bend.lnS[k]
		return c.lnD[k] + c.lnS[k] + bend, bend, figure, c.varD[k] < nothing && c.varS[k] < nothing
	})
}

func (c *columns) nullTrack() track {
	return c.track(math.Max(nullLevelM, nullLevelDepths*middle(c.depth)), func(k int) (v, bend, figure float64, ok bool) {
		return c.null[k] + c.bend.null[k], c.bend.null[k], c.round.nullStepM, c.varN[k] < nothing
	})
}

// edges finds the steps, in the order of the walk, but for those at which a branch leaves.
func (t track) edges(branches func(from, to int) bool) []edge {
	var all []edge
	if len(t.v) < 2*sideLevel || math.IsNaN(t.sigma) || !t.oneWay() {
		return nil
	}
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

// paired parts steps into pairs that follow each other, of which the second takes the first
// back, and those that stay.
func paired(all []edge) (pairs [][2]edge, single []edge) {
	for i := 0; i < len(all); i++ {
		if i+1 < len(all) {
			if a, b := all[i].by, all[i+1].by; a*b < 0 && math.Abs(a+b) <= fallsBack*math.Max(math.Abs(a), math.Abs(b)) {
				pairs = append(pairs, [2]edge{all[i], all[i+1]})
				i++
				continue
			}
		}
		single = append(single, all[i])
	}
	return pairs, single
}

// leftOf reports whether enough of the level between two steps is left without what bends are
// reckoned to do.
func (t track) leftOf(p [2]edge) bool {
	if t.bend == nil {
		return true
	}
	by, from, to := p[0].by, p[0].after, p[1].before
	ground := (middle(t.bend[max(0, p[0].before-mostSide):p[0].before]) + middle(t.bend[p[1].after:min(len(t.bend), p[1].after+mostSide)])) / 2
	return (by-(middle(t.bend[from:to])-ground))/by >= leftOfBends
}

// runs finds the pairs of steps of which the second takes the first back, also where the run
// between them is over before mostSide values are: those next to a step alone show its level
// then. Of a step that stays they do not, for what a coarse display rounds looks the same. The
// levels on both sides say more than the few values next to either step, so that of these less
// is asked as well where the run lies off by as much as a step is asked to: pairs that are not
// about any of the surer ones, nor make them more than are told.
func (t track) runs(branches func(from, to int) bool) [][2]edge {
	t.sides = []int{mostSide, sideLevel}
	sure, _ := paired(t.edges(branches))
	t.sigmas = endSigmas
	more, _ := paired(t.edges(branches))
	more = slices.DeleteFunc(more, func(p [2]edge) bool {
		return math.Abs(t.offLevel(p)) < riseSigmas*t.sigma ||
			slices.ContainsFunc(sure, func(o [2]edge) bool { return p[0].before <= o[1].after && o[0].before <= p[1].after })
	})
	if len(sure) > 0 && len(sure)+len(more) > mostRuns {
		return sure
	}
	return append(sure, more...)
}

// offLevel is by how much the values between two steps lie off those next to them.
func (t track) offLevel(p [2]edge) float64 {
	before, after := t.v[max(0, p[0].before-sideLevel):p[0].before], t.v[p[1].after:min(len(t.v), p[1].after+sideLevel)]
	return middle(t.v[p[0].after:p[1].before]) - (middle(before)+middle(after))/2
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
	lo, hi := math.Inf(1), math.Inf(-1) // of the differences across the step
	for _, x := range t.v[before-sideLevel : before] {
		for _, y := range t.v[after : after+sideLevel] {
			lo, hi = min(lo, y-x), max(hi, y-x)
		}
	}
	least := math.Min(math.Abs(lo), math.Abs(hi))
	if lo*hi <= 0 || least < t.leastStep/2 {
		return 0, false
	}
	for _, side := range t.sides {
		s, ok := t.stepBetween(before, after, side)
		if ok && math.Abs(s.by) >= math.Max(t.leastOver(before-1, after), t.sigmas*math.Max(s.sigma, t.sigma)) && least >= clearPart*math.Abs(s.by) {
			return s.by, true
		}
	}
	return 0, false
}

// stepBetween is the step that up to so many values on either side show.
func (t track) stepBetween(before, after, side int) (levelStep, bool) {
	var at, v []float64
	var in []bool
	for i := max(0, before-side); i < min(len(t.v), after+side); i++ {
		if i < before || i >= after {
			at, v, in = append(at, t.stationM[i]-t.stationM[before]), append(v, t.v[i]), append(in, i >= after)
		}
	}
	return fitStep(at, v, in)
}

// leastOver is the least step between two values: of figures next to each other on a
// display either may be what the other shows.
func (t track) leastOver(a, b int) float64 { return t.leastStep + math.Max(t.figure[a], t.figure[b]) }

// goesOnOver reports whether the walk goes on the same way along the line past a step,
// and the step is taken within reach: a branch that is walked out and back is left at
// another level than it was entered from.
func (t track) goesOnOver(before, after int) bool {
	in := t.stationM[before-1] - t.stationM[max(0, before-mostSide)]
	out := t.stationM[min(len(t.stationM), after+mostSide)-1] - t.stationM[after]
	over := t.stationM[after] - t.stationM[before-1]
	return in*out > 0 && (in*over > 0 || math.Abs(over) < t.looseM) && math.Abs(over) <= lateralReachM
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

// middle is the median of values that stay in their order.
func middle(v []float64) float64 { return median(slices.Clone(v)) }

package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/ranked"
)

// What makes a run another level. Judgement.
const (
	// leastLevel to mostLevel readings are on it, and sideLevel to mostSide on either
	// side show the line's own level.
	leastLevel, mostLevel = 4, 120
	sideLevel, mostSide   = 4, 8
	// levelSigmas is how many times its track's scatter, over all of the line and about
	// the levels themselves, it differs from its sides.
	levelSigmas = 6
	// onLevel is the least part of the way to the level that each of its readings has
	// gone, and offLevel the most that the nearest ones outside have; each end goes
	// edgePart of it in one step, and the sides' own levels differ by at most unlikeSides
	// of it.
	onLevel, offLevel = 0.6, 0.3
	edgePart          = 0.7
	unlikeSides       = 0.5
	// mostRuns on one line may be another conductor's: more are a receiver that changes
	// its own level as it goes.
	mostRuns = 2
	// leftOfBends is the least part of a level that is left once what bends are reckoned
	// to do is taken off, where positions better than courseM show the bends: a looser
	// course has bends that are none.
	leftOfBends = 0.5
	courseM     = 0.1
)

// track is what one column says in the order of the walk, for positions that err by a
// stride or more shuffle readings along the line.
type track struct {
	v, bend, least []float64 // as read; what bends are reckoned to do to it, nil where nothing shows them; the least level
	stationM       []float64
	on             []int   // readings
	most           float64 // of a level
	leastStep      float64 // that is one, of those that stay
	sigma          float64 // scatter from one to the next; NaN of too few
	looseM         float64 // by which the ends of a run may lie off along the line

	before, after []float64 // the middles of values next to each place, mostSide of them at most; NaN where not asked for yet
}

// level is a run of readings on another level.
type level struct {
	from, to int // the first and the last of its readings along the line
	by       float64
	looseM   float64 // by which its ends may lie off along the line
}

// track gathers the values that are there.
func (c *columns) track(most float64, of func(k int) (v, bend, least float64, ok bool)) track {
	t := track{most: most}
	var loose []float64
	for _, k := range c.walk {
		v, bend, least, ok := of(k)
		if !ok || math.IsNaN(v) || c.airCoupled[k] || c.rd[k].SetAside {
			continue
		}
		t.v, t.bend, t.least, t.on, t.stationM = append(t.v, v), append(t.bend, bend), append(t.least, least), append(t.on, k), append(t.stationM, c.rd[k].StationM)
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

// runs finds the runs on another level, from edge to edge: of those that begin at one
// edge the one that most speaks for.
func (t track) runs() []level {
	n := len(t.v)
	if n < leastLevel+2*sideLevel || math.IsNaN(t.sigma) {
		return nil
	}
	t.before, t.after = slices.Repeat([]float64{math.NaN()}, n+1), slices.Repeat([]float64{math.NaN()}, n+1)
	var out []level
	var inOrder []float64 // values a to b
	for a := sideLevel; a < n; a++ {
		up := t.step(a)
		if math.Abs(up) < onLevel*math.Max(t.least[a], levelSigmas*t.sigma) {
			continue
		}
		best, last, by := 0.0, a, 0.0
		inOrder = inOrder[:0]
		for b := a; b < min(n-sideLevel, a+mostLevel); b++ {
			at, _ := slices.BinarySearch(inOrder, t.v[b])
			if inOrder = slices.Insert(inOrder, at, t.v[b]); len(inOrder) < leastLevel {
				continue
			}
			if (t.v[b+1]-t.v[b])*up >= 0 && (t.v[min(b+2, n-1)]-t.v[b])*up >= 0 {
				continue
			}
			x, ok := t.onAnother(a, b, halfway(inOrder))
			if z := math.Abs(x) * math.Sqrt(float64(b-a+1)); ok && math.Abs(x) <= t.most && t.goesOn(a, b) && z > best {
				best, last, by = z, b, x
			}
		}
		if best > 0 {
			out = append(out, level{slices.Min(t.on[a : last+1]), slices.Max(t.on[a : last+1]), by, t.looseM})
			a = last
		}
	}
	if len(out) > mostRuns {
		return nil
	}
	return out
}

// step is the larger of the steps to value i, one in between left out or not.
func (t track) step(i int) float64 {
	near, far := t.v[i]-t.v[i-1], t.v[i]-t.v[i-2]
	if math.Abs(far) > math.Abs(near) {
		return far
	}
	return near
}

// onAnother tells by how much values a to b are on another level than those on either
// side, if they are; a value at either end may be of neither. Their median is level.
func (t track) onAnother(a, b int, level float64) (by float64, ok bool) {
	for _, skip := range [][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		if by, ok := t.between(a-skip[0], a, b, b+1+skip[1], level); ok {
			return by, true
		}
	}
	return 0, false
}

// between is onAnother against the values up to before, exclusive, and from after on.
func (t track) between(before, a, b, after int, level float64) (by float64, ok bool) {
	sides := [2][]float64{t.v[max(0, before-mostSide):max(0, before)], t.v[min(len(t.v), after):min(len(t.v), after+mostSide)]}
	if len(sides[0]) < sideLevel || len(sides[1]) < sideLevel {
		return 0, false
	}
	own := [2]float64{middleAt(t.before, before, sides[0]), middleAt(t.after, after, sides[1])}
	least := math.Max(t.least[a], levelSigmas*t.sigma)
	up, down := level-own[0], level-own[1]
	if up*down <= 0 || math.Min(math.Abs(up), math.Abs(down)) < least || math.Abs(up-down) > unlikeSides*math.Max(math.Abs(up), math.Abs(down)) {
		return 0, false
	}
	ground := (own[0] + own[1]) / 2
	by = level - ground
	part := func(x float64) float64 { return (x - ground) / by }
	off := offLevel + math.Abs(own[0]-own[1])/2/math.Abs(by)
	for _, x := range t.v[a : b+1] {
		if part(x) < onLevel {
			return 0, false
		}
	}
	for _, x := range append(slices.Clone(sides[0][len(sides[0])-sideLevel:]), sides[1][:sideLevel]...) {
		if part(x) > off {
			return 0, false
		}
	}
	if part(t.v[a])-part(t.v[before-1]) < edgePart || part(t.v[b])-part(t.v[after]) < edgePart {
		return 0, false
	}
	var scatter []float64
	for i, values := range [][]float64{t.v[a : b+1], sides[0], sides[1]} {
		for _, x := range values {
			scatter = append(scatter, math.Abs(x-[]float64{level, own[0], own[1]}[i]))
		}
	}
	return by, math.Abs(by) >= levelSigmas*ranked.NormalSigma*median(scatter) && t.leftOf(by, before, a, b, after)
}

// leftOf reports whether enough of a level is left without what bends are reckoned to
// do.
func (t track) leftOf(by float64, before, a, b, after int) bool {
	if t.bend == nil {
		return true
	}
	ground := (middle(t.bend[max(0, before-mostSide):before]) + middle(t.bend[after:min(len(t.bend), after+mostSide)])) / 2
	return (by-(middle(t.bend[a:b+1])-ground))/by >= leftOfBends
}

// goesOn reports whether the walk goes on along the line over values a to b: where it
// turns, a null to its right is on the other side, and another pass has its own level.
func (t track) goesOn(a, b int) bool {
	before, in, after := middle(t.stationM[max(0, a-mostSide):a]), middle(t.stationM[a:b+1]), middle(t.stationM[b+1:min(len(t.stationM), b+1+mostSide)])
	return (in-before)*(after-in) > 0
}

// middle is the median of values that stay in their order.
func middle(v []float64) float64 { return median(slices.Clone(v)) }

// middleAt is the middle of the values next to a place, worked out once.
func middleAt(known []float64, place int, v []float64) float64 {
	if math.IsNaN(known[place]) {
		known[place] = middle(v)
	}
	return known[place]
}

package fit

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// Readings whose positions leapt together: a receiver that fixes its ambiguities
// wrongly does so for a while (common practice, no source), and its positions go aside
// at one step of the walk and come back at another by the same vector. The figures are
// judged; no source.
const (
	longestPatch      = 15      // readings of a walk
	largestPatchShare = 1.0 / 3 // of a walk: more is no exception
	leastEven         = 20      // readings of a walk: fewer do not tell how evenly it goes
	leastAsideM       = 3.0     // lines of one street lie as near as that: nearer, the signal may have gone over to another
	leastAcrossM      = 0.5     // that they lie aside, where they leapt along the walk too: a line beside does not move it along
	strongly          = 6.0     // gain from which on strides and turns say so (Kass and Raftery 1995, JASA 90:773)
	ownAside          = 6.0     // own errors that they lie aside
	leastTurnSpread   = 0.1     // rad
	mostAsked         = 16      // runs of readings that are asked about at a time
	mostOfStep        = 3       // of them that share a step
)

// outlierPatch is a run of readings [from, to) of the walk that may have leapt together.
type outlierPatch struct {
	from, to int
	by       geo.XY  // the leap
	gain     float64 // -2 ln of how much likelier strides and turns are without it
}

// evenness is how evenly a walk goes: one sigma of ln of its strides and of its turns.
// long are the strides longer than most, as ln of how many times the usual, in order.
type evenness struct {
	stride, turnRad float64
	stepM           float64
	long            []float64
}

// evenly is the evenness of the walk, worked out once: no fit moves its readings.
func (w *walk) evenly() *evenness {
	if w.even == nil {
		w.even = &evenness{w.spacingSpread(), w.turnSpread(), w.stepM, w.longStrides()}
	}
	return w.even
}

// longStrides are the strides longer than the usual one, as ln of how many times.
func (w *walk) longStrides() []float64 {
	var out []float64
	for i := 1; i < len(w.obs); i++ {
		if ln := math.Log(w.step(i).Norm() / w.stepM); ln > 0 {
			out = append(out, ln)
		}
	}
	slices.Sort(out)
	return out
}

// asLong is how many strides of a walk are as long as one, longer than usual, beside two that
// are asked about.
func (e *evenness) asLong(d geo.XY, asked ...geo.XY) int {
	ln := math.Log(d.Norm() / e.stepM)
	if !(ln > 0) {
		return 0
	}
	i, _ := slices.BinarySearch(e.long, ln)
	n := len(e.long) - i
	for _, o := range asked {
		if math.Log(o.Norm()/e.stepM) >= ln {
			n--
		}
	}
	return n
}

// turnSpread is one sigma of the turns from step to step, by the median.
func (w *walk) turnSpread() float64 {
	turns := make([]float64, 0, len(w.obs))
	for i := 2; i < len(w.obs); i++ {
		if a, b := w.step(i-1), w.step(i); a.Norm() > 1e-6 && b.Norm() > 1e-6 {
			turns = append(turns, turnBetween(a, b))
		}
	}
	if len(turns) == 0 {
		return leastTurnSpread
	}
	return math.Max(leastTurnSpread, ranked.NormalSigma*median(turns))
}

// leapt weighs whether the readings in [from, to) of a walk leapt together. Both
// steps, there and back, are the walker's own with the leap in one and its opposite
// in the other; the walker's own go on as the steps beside them do. Without the leap
// they must be strides as the walk has them that turn no more than it does.
func (w *walk) leapt(from, to int, usual *evenness) (outlierPatch, bool) {
	g := outlierPatch{from: from, to: to}
	if from < 1 || to >= len(w.obs) || len(w.obs) < leastEven || w.stepM == 0 {
		return g, false
	}
	there, back := w.step(from), w.step(to)
	g.by = leapBetween(w.excess(from), w.excess(to))
	ownThere, ownBack := there.Sub(g.by), back.Add(g.by)
	sigma := math.Max(w.obs[from].sigmaM, w.obs[to-1].sigmaM)
	across := math.Min(math.Abs(unit(ownThere).Cross(g.by)), math.Abs(unit(ownBack).Cross(g.by)))
	if g.by.Norm() < leastAsideM || across < math.Max(leastAcrossM, ownAside*math.Hypot(sigma, w.floorM)) {
		return g, false
	}
	odd := func(x, variance float64) float64 { return (spacingNu + 1) * math.Log1p(sq(x)/variance/spacingNu) }
	v := sq(usual.stride) + 2*sq(sigma/w.stepM)
	own := func(d geo.XY) float64 { return odd(math.Log(d.Norm()/w.stepM), v) }
	seen := func(d geo.XY) float64 {
		// A walk that leaves places out elsewhere too does not leap where it does: its own long
		// strides say how odd one is.
		if n := usual.asLong(d, there, back); n > 0 {
			return math.Min(own(d), 2*math.Log(float64(len(w.obs))/float64(n)))
		}
		return own(d)
	}
	if g.gain = seen(there) + seen(back) - own(ownThere) - own(ownBack); !(g.gain > 0) {
		return g, false
	}
	// The turn between two steps is p(i-1) − 2p(i) + p(i+1) over a step: 1 + 4 + 1 variances.
	// Derived.
	v = sq(usual.turnRad) + 6*sq(sigma/w.stepM)
	turn := func(seen, own geo.XY, beside int) {
		if step := w.step(beside); step.Norm() > 0 {
			g.gain += odd(turnBetween(seen, step), v) - odd(turnBetween(own, step), v)
		}
	}
	turn(there, ownThere, from-1)
	turn(there, ownThere, from+1)
	turn(back, ownBack, to-1)
	turn(back, ownBack, to+1)
	return g, g.gain > 0 && (across >= leastAsideM || g.gain >= strongly)
}

// step is the way to a reading of the walk from the one before, none where there is
// none.
func (w *walk) step(i int) geo.XY {
	if i < 1 || i >= len(w.obs) {
		return geo.XY{}
	}
	return w.obs[i].p.Sub(w.obs[i-1].p)
}

// excess is the way to a reading beyond the step that goes on as those beside it do.
func (w *walk) excess(i int) geo.XY { return w.step(i).Sub(w.onward(i)) }

// leapBetween is the leap that is in the one step and its opposite in the other.
func leapBetween(there, back geo.XY) geo.XY { return there.Sub(back).Scale(0.5) }

// onward is a usual step the way that the steps before and after one go.
func (w *walk) onward(i int) geo.XY {
	return unit(unit(w.step(i - 1)).Add(unit(w.step(i + 1)))).Scale(w.stepM)
}

// outlierPatches lists the runs of readings that may have leapt together, those first
// that the strides ask for most, and few that share a step.
func (w *walk) outlierPatches() []outlierPatch {
	if !w.order {
		return nil
	}
	var all, out []outlierPatch
	usual, longest := w.evenly(), min(longestPatch, int(largestPatchShare*float64(len(w.obs))))
	excess := make([]geo.XY, len(w.obs))
	for i := range excess {
		excess[i] = w.excess(i)
	}
	for from := 1; from < len(w.obs); from++ {
		for to := from + 2; to <= from+longest && to < len(w.obs); to++ {
			if leapBetween(excess[from], excess[to]).Norm() < leastAsideM {
				continue
			}
			if g, ok := w.leapt(from, to, usual); ok {
				all = append(all, g)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b outlierPatch) int { return cmp.Compare(b.gain, a.gain) })
	asked := map[int]int{} // of each step
	for _, g := range all {
		if asked[g.from] < mostOfStep && asked[g.to] < mostOfStep && len(out) < mostAsked {
			asked[g.from]++
			asked[g.to]++
			out = append(out, g)
		}
	}
	return out
}

// leaptRun is the run of readings out of use that begins with one, where they leapt
// together by strides and turns; a few at its end may be out of use for themselves.
func (w *walk) leaptRun(from int, inUse func(int) bool) (outlierPatch, bool) {
	to := from
	for to < len(w.obs) && !inUse(to) {
		to++
	}
	if to-from < 2 || !w.order {
		return outlierPatch{}, false
	}
	usual := w.evenly()
	for b := to; b >= max(to-raggedEnds, from+2); b-- {
		if g, ok := w.leapt(from, b, usual); ok {
			return g, true
		}
	}
	return outlierPatch{}, false
}

// sameAside is the cost of a reading that leapt with the one before: the noise is
// new, and what a false fix is off by drifts.
func (w *walk) sameAside(o *observation, run outlierPatch) float64 {
	v := 2*(sq(o.sigmaM)+sq(w.floorM)) + sq(asideDrift*run.by.Norm())
	return sameLeapCost + math.Log(v) + 1
}

// asideDrift is by what share of it a leap changes from one reading to the next
// (judged; no source).
const asideDrift = 0.05

// raggedEnds readings at either end of a run that is set aside may lie on the line. Judgement.
const raggedEnds = 2

// noteOutlierPatches notes of the runs of readings that are set aside which leapt together.
func (w *walk) noteOutlierPatches() {
	if !w.order || len(w.obs) > maxCompeting {
		return
	}
	usual := w.evenly()
	w.patched = map[int32]remark.Outlier{}
	for i := 0; i < len(w.obs); i++ {
		from := i
		for i < len(w.obs) && w.obs[i].fate == Blunder && !w.obs[i].exposed {
			i++
		}
		var best outlierPatch
		for a := from; a <= min(from+raggedEnds, i-2); a++ {
			for b := i; b >= max(i-raggedEnds, a+2); b-- {
				if g, ok := w.leapt(a, b, usual); ok && g.gain > best.gain {
					best = g
				}
			}
		}
		for k := from; k < i && best.gain > 0; k++ {
			w.patched[w.obs[k].index] = remark.Outlier{From: remark.FromStraightOn, OffM: best.by.Norm(), N: i - from}
		}
	}
}

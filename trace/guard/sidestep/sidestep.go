// Package sidestep tells whether a course of places goes on beside itself: whether what lies
// before and behind one stride, or a hole, is two runs that are parallel and apart.
//
// It sees places alone, in travel order, and what one of them may be off: an offset made by
// fittings looks like that, and so does a receiver that went over to another line. Which of
// them it is, and what a map says of it, is not asked here.
package sidestep

import (
	"math"

	"loamline.example/geo"
)

// What tells a lateral step. Judgement.
const (
	// RunPlaces on either side of a lateral step make the runs that it parts; they
	// are parallel within Parallel, and straight to StraightShare of the step.
	RunPlaces     = 4
	Parallel      = 6 * math.Pi / 180
	StraightShare = 0.15
	// A step is LeastM to MostM wide and is taken within QuickStrides; one of up to
	// BesideLinesM, as far as lines in one street lie apart, may take longer.
	LeastM, MostM = 0.6, 5.0
	QuickStrides  = 2
	BesideLinesM  = 3.0
	// OverOwnOff is by how many times its own error a single place may lie off its course.
	OverOwnOff = 2.5
	// backAlike is how many times wider one of two steps may be that lead there and
	// back: the courses need not be quite parallel.
	backAlike = 1.6
)

// A step of leastQuickM is one where ofTheStep of it is taken within one stride, between runs
// straight to quickShare of it: a curve to one side and back takes it stride by stride.
// Judgement.
const leastQuickM, ofTheStep, quickShare = 0.3, 0.7, 0.25

// A step that takes longer than QuickStrides parts runs that are slowRuns times as long as the
// way over: a line that winds goes straight for as long as it takes from bend to bend. Judgement.
const slowRuns = 2.0

// Rule is what makes a lateral step of two runs: how wide it must be, and how straight
// they.
type Rule struct{ LeastM, Share float64 }

// Step is a place where the walk moves over to a parallel course.
type Step struct {
	Before, After int     // places, of those on the part
	LateralM      float64 // positive to the right
}

// UndoneBy reports whether another step leads back: to the other side, and about as
// far. What goes over 2 m does not come back by the line's own offset of half of it.
func (s Step) UndoneBy(back Step) bool {
	there, again := math.Abs(s.LateralM), math.Abs(back.LateralM)
	return back.LateralM*s.LateralM < 0 && math.Max(there, again) <= backAlike*math.Min(there, again)
}

// Between tells whether the runs that end at one place and begin at another
// are straight, parallel and apart.
func Between(at []geo.XY, before, after int, least Rule) (Step, bool) {
	a, b := runsBeside(at, before, after)
	if len(a) < 3 || len(b) < 3 {
		return Step{}, false
	}
	da, db := a[len(a)-1].Sub(a[0]), b[len(b)-1].Sub(b[0])
	if da.Norm() == 0 || db.Norm() == 0 || math.Abs(math.Atan2(da.Cross(db), da.Dot(db))) > Parallel {
		return Step{}, false
	}
	dir := da.Scale(1 / da.Norm()).Add(db.Scale(1 / db.Norm()))
	dir = dir.Scale(1 / dir.Norm())
	side := func(p geo.XY) float64 { return -dir.Cross(p.Sub(at[before])) }
	ma, mb := mean(a, side), mean(b, side)
	asideM := mb - ma
	if w := math.Abs(asideM); w < least.LeastM || w > MostM || math.Max(farthest(a, side, ma), farthest(b, side, mb)) > least.Share*w {
		return Step{}, false
	}
	return Step{before, after, asideM}, true
}

// AtOnce tells whether the one stride after a place goes over to a parallel course, however
// narrow.
func AtOnce(at []geo.XY, before int) (Step, bool) {
	s, ok := Between(at, before, before+1, Rule{leastQuickM, quickShare})
	if !ok {
		return Step{}, false
	}
	a, b := runsBeside(at, before, before+1)
	dir := a[len(a)-1].Sub(a[0]).Add(b[len(b)-1].Sub(b[0]))
	byM := -dir.Scale(1 / dir.Norm()).Cross(at[before+1].Sub(at[before]))
	return s, byM*s.LateralM > 0 && math.Abs(byM) >= ofTheStep*math.Abs(s.LateralM)
}

// runsBeside are the places of the runs before and after a step: RunPlaces of each, and
// those within the length of the way taken, over which their directions are carried on:
// where places lie close to each other, the scatter of four of them turns a straight line
// by degrees, and metres farther on that is a step. None where the runs of a slow step are
// not slowRuns times as long as that.
func runsBeside(at []geo.XY, before, after int) (a, b []geo.XY) {
	wayM := at[before].Dist(at[after])
	if after-before > QuickStrides {
		wayM *= slowRuns
	}
	from, to := max(0, before-RunPlaces+1), min(len(at), after+RunPlaces)
	for from > 0 && at[from].Dist(at[before]) < wayM {
		from--
	}
	for to < len(at) && at[to-1].Dist(at[after]) < wayM {
		to++
	}
	if after-before > QuickStrides && math.Min(at[from].Dist(at[before]), at[to-1].Dist(at[after])) < wayM {
		return nil, nil
	}
	return at[from : before+1], at[after:to]
}

// OffByChance is how far two runs seem apart by what single places are off, one sigma in
// those: their means are each off, and so is the direction that both are carried on by, over
// the way between them (the offset of two parallel lines by least squares; derived).
func OffByChance(at []geo.XY, before, after int) float64 {
	a, b := runsBeside(at, before, after)
	if len(a) < 2 || len(b) < 2 {
		return math.Inf(1)
	}
	dir := a[len(a)-1].Sub(a[0]).Add(b[len(b)-1].Sub(b[0]))
	dir = dir.Scale(1 / dir.Norm())
	along := func(p geo.XY) float64 { return dir.Dot(p.Sub(at[before])) }
	ma, mb := mean(a, along), mean(b, along)
	squares := 0.0
	for _, p := range a {
		squares += (along(p) - ma) * (along(p) - ma)
	}
	for _, p := range b {
		squares += (along(p) - mb) * (along(p) - mb)
	}
	return math.Sqrt(1/float64(len(a)) + 1/float64(len(b)) + (mb-ma)*(mb-ma)/squares)
}

// spread is the mean of places' sides and how far the farthest is from it.
func spread(ps []geo.XY, side func(geo.XY) float64) (meanM, farthestM float64) {
	meanM = mean(ps, side)
	return meanM, farthest(ps, side, meanM)
}

func mean(ps []geo.XY, side func(geo.XY) float64) (m float64) {
	for _, p := range ps {
		m += side(p) / float64(len(ps))
	}
	return m
}

func farthest(ps []geo.XY, side func(geo.XY) float64, from float64) (m float64) {
	for _, p := range ps {
		m = math.Max(m, math.Abs(side(p)-from))
	}
	return m
}

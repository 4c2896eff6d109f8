package sidestep

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/leastsquares"
)

// What a step in a bend is told by. Judgement.
const (
	// bendPlaces on either side of a step in a bend are held to one curve with a
	// step in it.
	bendPlaces = 5
	// mostBend is by how much the course may turn over those places: beyond it the
	// curve is a corner or no curve of one radius.
	mostBend = 35 * math.Pi / 180
	// surelySteps is how many standard errors a step in a bend must be wide.
	surelySteps = 6
)

// InBend tells whether the runs that end at one place and begin at another
// follow one gentle bend but for a step: where a trench bends, the courses of the
// lines in it are parallel and not straight. The step is that of least squares
// with a parabola in common.
func InBend(at []geo.XY, before, after int, ownM float64) (Step, bool) {
	if before+1 < bendPlaces || after+bendPlaces > len(at) {
		return Step{}, false
	}
	a, b := at[before-bendPlaces+1:before+1], at[after:after+bendPlaces]
	da, db := a[len(a)-1].Sub(a[0]), b[len(b)-1].Sub(b[0])
	if da.Norm() == 0 || db.Norm() == 0 || math.Abs(math.Atan2(da.Cross(db), da.Dot(db))) > mostBend {
		return Step{}, false
	}
	dir := da.Scale(1 / da.Norm()).Add(db.Scale(1 / db.Norm()))
	dir = dir.Scale(1 / dir.Norm())
	mid, half := at[before].Lerp(at[after], 0.5), b[len(b)-1].Sub(a[0]).Norm()/2
	var rows [2 * bendPlaces][4]float64
	var sides [2 * bendPlaces]float64
	for i := range rows {
		p, in := a[i%bendPlaces], 0.0
		if i >= bendPlaces {
			p, in = b[i-bendPlaces], 1
		}
		t := p.Sub(mid).Dot(dir) / half
		rows[i] = [4]float64{in, 1, t, t * t}
		sides[i] = -dir.Cross(p.Sub(mid))
	}
	fit, ok := leastsquares.FitFour(rows[:], sides[:])
	scatter := math.Max(fit.Scatter(), ownM) // few places may lie on a curve by chance
	w := math.Abs(fit.X[0])
	if !ok || w < LeastM || w > BesideLinesM || w < surelySteps*fit.Unit*scatter || fit.Worst > StraightShare*w {
		return Step{}, false
	}
	if isCorner(rows[:], sides[:], scatter) {
		return Step{}, false
	}
	return Step{before, after, fit.X[0]}, true
}

// What tells a step in a bend from a corner. Judgement.
const (
	// cornersTried is at how many places between the first and the last a corner is
	// tried in place of a step.
	cornersTried = 19
	// clearlyLess is how much less the places must scatter about it: a slow step is
	// nearly a corner to few places.
	clearlyLess = 0.6
)

// isCorner reports whether the same places lie as well on two legs that meet: one
// corner is commoner than a step to a course beside. The rows are those of the step,
// with the place along the way in the third column.
func isCorner(rows [][4]float64, sides []float64, scatter float64) bool {
	var room [2 * bendPlaces][4]float64
	turned := append(room[:0], rows...)
	for c := 1; c <= cornersTried; c++ {
		at := 2*float64(c)/(cornersTried+1) - 1
		for i, r := range rows {
			turned[i] = [4]float64{math.Max(0, r[2]-at), r[1], r[2], r[3]}
		}
		if fit, ok := leastsquares.FitFour(turned, sides); ok && fit.Scatter() <= clearlyLess*scatter {
			return true
		}
	}
	return false
}

// visiblyBent is how many times their own error the places of runs that a step parts
// must scatter about it before a curve without a step is tried in its place: runs
// that are straight but for noise are no crest and trough. Judgement.
const visiblyBent = 2.0

// leastCurved is how many places it takes to tell two curves of four unknowns apart;
// derived, so that two are over.
const leastCurved = 6

// CurveHolds reports whether the places about a step, those within it too, lie
// better on one smooth curve than on two runs beside each other: a line that swings
// from one side to the other and back is parallel to itself at its crests, and one that
// winds where it bends neither way. The curve is a cubic, for step and curve have four
// unknowns each then. It holds where it leaves clearly less than the runs do, or clearly
// less than it would leave of such a step between straight runs.
func CurveHolds(at []geo.XY, step Step, ownM float64) bool {
	from, to := max(0, step.Before-RunPlaces+1), min(len(at), step.After+RunPlaces)
	first, last := at[step.Before], at[step.After]
	dir, mid := at[to-1].Sub(at[from]), first.Lerp(last, 0.5)
	half := dir.Norm() / 2
	if half == 0 || to-from < leastCurved {
		return false
	}
	dir = dir.Scale(0.5 / half)
	over := math.Max(last.Sub(first).Dot(dir), math.SmallestNonzeroFloat64)
	var stepped, curved [][4]float64
	var aside, all, ideal []float64
	for i := from; i < to; i++ {
		t, side := at[i].Sub(mid).Dot(dir)/half, -dir.Cross(at[i].Sub(mid))
		curved, all = append(curved, [4]float64{t * t * t, 1, t, t * t}), append(all, side)
		switch {
		case i <= step.Before:
			stepped, aside = append(stepped, [4]float64{0, 1, t, t * t}), append(aside, side)
			ideal = append(ideal, 0)
		case i >= step.After:
			stepped, aside = append(stepped, [4]float64{1, 1, t, t * t}), append(aside, side)
			ideal = append(ideal, step.LateralM)
		default:
			ideal = append(ideal, step.LateralM*at[i].Sub(first).Dot(dir)/over)
		}
	}
	apart, ok := leastsquares.FitFour(stepped, aside)
	along, fits := leastsquares.FitFour(curved, all)
	straight, known := leastsquares.FitFour(curved, ideal)
	if !ok || !fits || !known {
		return false
	}
	crests := apart.Scatter() > visiblyBent*ownM && along.Scatter() <= clearlyLess*apart.Scatter()
	return crests || along.Scatter() <= clearlyLess*straight.Scatter()
}

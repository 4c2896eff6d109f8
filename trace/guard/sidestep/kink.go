package sidestep

import (
	"math"

	"loamline.example/geo"
)

// What makes two opposite turns within one stride a step to a course beside: the
// way before and after turns by no more than evenTurn a stride, by the same to
// likeTurns, and goes on after the step as it would have without, while the stride
// between slants by slant and more. Headings tell that only of places whose own
// error is less than sureHeading of a stride. Judgement.
const (
	evenTurn    = 15 * math.Pi / 180
	likeTurns   = 12 * math.Pi / 180
	slant       = 20 * math.Pi / 180
	sureHeading = 0.03
)

// A stride is a leap that is longStride times as long as each of the strides of the runs
// that it parts, and goes by slant to the outside of both their courses: a corner that was
// cut lies between them. Judgement.
const longStride, mostTurn = 1.5, 60 * math.Pi / 180

// Leap tells whether the stride after a place leaps aside between runs that need not be
// parallel: in a corner as well.
func Leap(at []geo.XY, before int) (Step, bool) {
	if before+1 < RunPlaces || before+1+RunPlaces > len(at) {
		return Step{}, false
	}
	a, b, over := at[before+1-RunPlaces:before+1], at[before+1:before+1+RunPlaces], at[before+1].Sub(at[before])
	for k := 1; k < RunPlaces; k++ {
		if over.Norm() < longStride*math.Max(a[k].Dist(a[k-1]), b[k].Dist(b[k-1])) {
			return Step{}, false
		}
	}
	da, db := a[len(a)-1].Sub(a[0]), b[len(b)-1].Sub(b[0])
	turn := func(p, q geo.XY) float64 { return math.Atan2(p.Cross(q), p.Dot(q)) }
	if da.Norm() == 0 || db.Norm() == 0 || math.Abs(turn(da, db)) > mostTurn {
		return Step{}, false
	}
	from, to := turn(da, over), turn(db, over)
	lateral := -over.Norm() * math.Copysign(math.Min(math.Abs(math.Sin(from)), math.Abs(math.Sin(to))), from)
	if from*to <= 0 || math.Min(math.Abs(from), math.Abs(to)) < slant || math.Abs(lateral) < leastQuickM || math.Abs(lateral) > MostM {
		return Step{}, false
	}
	for _, run := range [][]geo.XY{a, b} {
		dir := run[len(run)-1].Sub(run[0])
		dir = dir.Scale(1 / dir.Norm())
		if _, off := spread(run, func(p geo.XY) float64 { return -dir.Cross(p.Sub(run[0])) }); off > quickShare*math.Abs(lateral) {
			return Step{}, false
		}
	}
	return Step{before, before + 1, lateral}, true
}

// AtKink tells whether the stride after a place goes over to a parallel
// course, straight or bent: few places on it are enough to see it by its headings.
func AtKink(at []geo.XY, before int, ownM float64) (Step, bool) {
	if before < 2 || before+3 >= len(at) {
		return Step{}, false
	}
	ps := at[before-2 : before+4]
	var heading [5]float64 // derived: of the strides between six places
	for k := range heading {
		way := ps[k+1].Sub(ps[k])
		if way.Norm() == 0 || ownM > sureHeading*way.Norm() {
			return Step{}, false
		}
		heading[k] = math.Atan2(way.Y, way.X)
	}
	turn := func(from, to int) float64 { return math.Remainder(heading[to]-heading[from], 2*math.Pi) }
	into, out, past := turn(0, 1), turn(3, 4), turn(1, 3)
	if math.Abs(into) > evenTurn || math.Abs(out) > evenTurn || math.Abs(into-out) > likeTurns || math.Abs(past-into-out) > likeTurns {
		return Step{}, false
	}
	over := ps[3].Sub(ps[2])
	aside := -math.Remainder(turn(1, 2)-past/2, 2*math.Pi) // positive to the right
	lateral := over.Norm() * math.Sin(aside)
	if w := math.Abs(lateral); math.Abs(aside) < slant || w < LeastM || w > MostM {
		return Step{}, false
	}
	return Step{before, before + 1, lateral}, true
}

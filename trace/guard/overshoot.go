package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// A stride that turns farther than the course does (judgement, but for the physics of a walk).
const (
	strideTurns    = 25 * math.Pi / 180 // beyond both courses, where one stride leads from the one to the other
	courseStrides  = 3                  // on either side that tell a course
	courseEven     = 12 * math.Pi / 180 // by how much they turn against each other, at most
	overshotReachM = 12.0               // how far on either side the places may be wrong
)

// overshoots finds strides that turn beyond the course behind them, over more than a
// stride's width: a walk along one line turns from the course before to the course behind
// and not past it and back within a stride. Positions that were carried straight on while
// the line bent come back to it like that, and so do those of a fix that was wrong for a
// while, or a receiver that was picked up again on another line.
func (v *view) overshoots() []Breach {
	var out []Breach
	for part := range v.parts {
		on := v.onPart(part)
		at := make([]geo.XY, len(on))
		for k, i := range on {
			at[k] = v.Readings[i].Pos
		}
		for k := courseStrides; k+courseStrides+1 < len(at); k++ {
			asideM := overshoot(at[k-courseStrides : k+courseStrides+2])
			if asideM < sidestep.LeastM || asideM > sidestep.MostM || asideM < stepOverOwn*math.Max(v.ownM(on[k]), v.whiteM) {
				continue
			}
			p := v.parts[part]
			from, to := v.feet[on[k]].stationM, v.feet[on[k+1]].stationM
			if slices.ContainsFunc(v.steps(), func(b Breach) bool { return b.FromM <= to && from <= b.ToM }) {
				continue // told as that
			}
			out = append(out, Breach{Kind: Off, FromM: math.Max(p.FromM(), from-overshotReachM), ToM: math.Min(p.ToM(), to+overshotReachM),
				BandM: asideM, Remark: remark.StrideOvershoots{AsideM: asideM, StationM: from}})
			k += courseStrides
		}
	}
	return out
}

// overshoot is by how much the stride in the middle of places leads past the courses
// before and behind it, 0 where it does not: the shorter of the ways aside of either.
func overshoot(at []geo.XY) float64 {
	k := len(at)/2 - 1
	before, after, ok := evenCourse(at[:k+1], at[k+1:])
	over := at[k+1].Sub(at[k])
	if !ok || over.Norm() == 0 || surelyWithin(before, over, strideTurns) {
		return 0 // as most strides: soon told
	}
	turn := math.Atan2(before.Cross(after), before.Dot(after))
	stride := math.Atan2(before.Cross(over), before.Dot(over))
	// To the other side than the course turns, or to the same and farther.
	toward := stride * math.Copysign(1, turn)
	if math.Max(-toward, toward-math.Abs(turn)) < strideTurns || math.Abs(turn) > math.Pi/2 {
		return 0
	}
	return math.Min(math.Abs(before.Cross(over)), math.Abs(after.Cross(over)))
}

// evenCourse are the directions of two runs of places where they meet; false where either
// turns unevenly.
func evenCourse(a, b []geo.XY) (before, after geo.XY, ok bool) {
	unit := func(p, q geo.XY) geo.XY {
		way := q.Sub(p)
		return way.Scale(1 / math.Max(way.Norm(), math.SmallestNonzeroFloat64))
	}
	for _, run := range [][]geo.XY{a, b} {
		for i := 2; i < len(run); i++ {
			p, q := unit(run[i-2], run[i-1]), unit(run[i-1], run[i])
			if !surelyWithin(p, q, courseEven) && math.Abs(math.Atan2(p.Cross(q), p.Dot(q))) > courseEven {
				return geo.XY{}, geo.XY{}, false
			}
		}
	}
	return unit(a[0], a[len(a)-1]), unit(b[0], b[len(b)-1]), true
}

// surelyWithin reports whether two directions are clearly within an acute angle of each
// other, whose tangent is more than itself: without the angle between them.
func surelyWithin(p, q geo.XY, angle float64) bool {
	return math.Abs(p.Cross(q)) < angle*p.Dot(q)
}

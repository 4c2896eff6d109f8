// Package paststride tells by how much one stride of a walk leads past the courses before and
// behind it: a walk along one line turns from the one to the other, and not farther.
package paststride

import (
	"math"

	"loamline.example/geo"
)

// A stride that turns farther than the course does (judgement, but for the physics of a walk).
const (
	Course = 3                  // strides on either side that tell a course
	turns  = 25 * math.Pi / 180 // beyond both courses, where one stride leads from the one to the other
	even   = 12 * math.Pi / 180 // by how much those of a course turn against each other, at most
)

// Leads is by how much the stride in the middle of places leads past the courses
// before and behind it, 0 where it does not: the shorter of the ways aside of either.
func Leads(at []geo.XY) float64 {
	k := len(at)/2 - 1
	before, after, ok := evenCourse(at[:k+1], at[k+1:])
	over := at[k+1].Sub(at[k])
	if !ok || over.Norm() == 0 || before.SurelyWithin(over, turns) {
		return 0 // as most strides: soon told
	}
	turn := math.Atan2(before.Cross(after), before.Dot(after))
	stride := math.Atan2(before.Cross(over), before.Dot(over))
	// To the other side than the course turns, or to the same and farther.
	toward := stride * math.Copysign(1, turn)
	if math.Max(-toward, toward-math.Abs(turn)) < turns || math.Abs(turn) > math.Pi/2 {
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
			if !p.SurelyWithin(q, even) && math.Abs(math.Atan2(p.Cross(q), p.Dot(q))) > even {
				return geo.XY{}, geo.XY{}, false
			}
		}
	}
	return unit(a[0], a[len(a)-1]), unit(b[0], b[len(b)-1]), true
}

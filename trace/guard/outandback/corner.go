package outandback

import (
	"math"

	"loamline.example/geo"
)

// What tells that two legs meet in a corner. Judgement.
const (
	// leastTurn is what they turn by at least: the meeting of others lies anywhere.
	leastTurn = 15 * math.Pi / 180
	// mostWay is how long the way over the corner may be, of the straight one.
	mostWay = 2.0
)

// Corner is where two legs meet that are carried on over what lies between: each goes from
// its first place to its second, which is next to it.
func Corner(before, after [2]geo.XY) (geo.XY, bool) {
	u, w, between := before[1].Sub(before[0]), after[1].Sub(after[0]), after[1].Sub(before[1])
	d := between.Norm()
	if u.Norm() == 0 || w.Norm() == 0 || d == 0 {
		return geo.XY{}, false
	}
	u, w = u.Scale(1/u.Norm()), w.Scale(1/w.Norm())
	sin := u.Cross(w)
	if math.Abs(sin) < math.Sin(leastTurn) {
		return geo.XY{}, false
	}
	onM, backM := between.Cross(w)/sin, between.Cross(u)/sin
	if onM <= 0 || backM <= 0 || onM+backM > mostWay*d {
		return geo.XY{}, false
	}
	return before[1].Add(u.Scale(onM)), true
}

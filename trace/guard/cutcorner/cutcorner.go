// Package cutcorner tells where a walk cut the corner of the line that it followed: places
// between two straight legs, inside of where these meet, whose depths are not those of the
// legs.
//
// Inside a corner the fields of both legs add up and fall off more slowly with height than
// over one, so that two antennas give too great a depth, or none (the field of a bent wire,
// package receiver); over two bends with a leg between, which is the other course that the
// places allow, they give the leg's own.
package cutcorner

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/ranked"
)

// What makes a cut corner. Judgement.
const (
	// legPlaces make a leg, straight to straightM and straightSigmas of a place's own error.
	legPlaces                 = 4
	straightM, straightSigmas = 0.12, 3.0
	// The legs turn by leastTurn to mostTurn, and meet within farthestM of both their ends.
	leastTurn, mostTurn = 30 * math.Pi / 180, 130 * math.Pi / 180
	farthestM           = 5.0
	// mostBetween places lie between the legs at the most, and their depths are deeperRatio
	// times those of the legs, which is more than an elbow by fittings makes of them.
	mostBetween, deeperRatio = 8, 1.3
)

// Reading is a place and the depth that was read there; not a number or 0 where none was.
type Reading struct {
	Pos    geo.XY
	DepthM float64
}

// Cut is a corner that a walk did not go to.
type Cut struct {
	Before, After int     // the last place of the leg before and the first of the leg after
	Corner        geo.XY  // where the legs meet
	Times         float64 // what the depths between are of those of the legs; not a number where none was read
}

// Find lists the cut corners of a walk, in its order; ownM is what one place may be off, one
// sigma.
func Find(rs []Reading, ownM float64) []Cut {
	var out []Cut
	leg := make([]bool, len(rs)) // from each place on
	for k := 0; k+legPlaces <= len(rs); k++ {
		leg[k] = straight(rs[k:k+legPlaces], ownM)
	}
	for k := legPlaces - 1; k+legPlaces < len(rs); k++ {
		if !leg[k-legPlaces+1] {
			continue
		}
		for n := 1; n <= mostBetween && k+n+legPlaces < len(rs); n++ {
			if !leg[k+n+1] {
				continue
			}
			if c, ok := cutBetween(rs, k, k+n+1); ok {
				out = append(out, c)
				k = c.After
				break
			}
		}
	}
	return out
}

// cutBetween tells whether the legs that end at one place and begin at another meet past the
// places between, whose depths are others.
func cutBetween(rs []Reading, before, after int) (Cut, bool) {
	a, b := rs[before-legPlaces+1:before+1], rs[after:after+legPlaces]
	da, db := a[legPlaces-1].Pos.Sub(a[0].Pos), b[legPlaces-1].Pos.Sub(b[0].Pos)
	if da.SurelyWithin(db, leastTurn) {
		return Cut{}, false // most legs go straight on
	}
	turn := math.Atan2(da.Cross(db), da.Dot(db))
	if math.Abs(turn) < leastTurn || math.Abs(turn) > mostTurn {
		return Cut{}, false
	}
	// The legs' lines meet at the end of the one, carried on by t of it.
	t := b[0].Pos.Sub(a[legPlaces-1].Pos).Cross(db) / da.Cross(db)
	corner := a[legPlaces-1].Pos.Add(da.Scale(t))
	if t <= 0 || corner.Sub(b[0].Pos).Dot(db) >= 0 || corner.Dist(rs[before].Pos) > farthestM || corner.Dist(rs[after].Pos) > farthestM {
		return Cut{}, false
	}
	var between []float64
	blank := true
	for _, r := range rs[before+1 : after] {
		// Inside of both legs, as seen from the corner.
		if p := r.Pos.Sub(corner); da.Cross(p)*turn <= 0 || db.Cross(p)*turn <= 0 {
			return Cut{}, false
		}
		if r.DepthM > 0 {
			between, blank = append(between, r.DepthM), false
		}
	}
	legs := slices.Concat(depths(a), depths(b))
	if len(legs) < 2*legPlaces-1 || blank && after-before < 3 {
		return Cut{}, false
	}
	c := Cut{Before: before, After: after, Corner: corner, Times: math.NaN()}
	if !blank {
		if c.Times = ranked.Median(between) / ranked.Median(legs); c.Times < deeperRatio {
			return Cut{}, false
		}
	}
	return c, true
}

// straight reports whether places lie along one line.
func straight(rs []Reading, ownM float64) bool {
	from, way := rs[0].Pos, rs[len(rs)-1].Pos.Sub(rs[0].Pos)
	wayM, mostM := way.Norm(), math.Max(straightM, straightSigmas*ownM)
	if wayM == 0 {
		return false
	}
	for _, r := range rs {
		if math.Abs(way.Cross(r.Pos.Sub(from)))/wayM > mostM {
			return false
		}
	}
	return true
}

func depths(rs []Reading) (out []float64) {
	for _, r := range rs {
		if r.DepthM > 0 {
			out = append(out, r.DepthM)
		}
	}
	return out
}

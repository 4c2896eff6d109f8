package fit

import (
	"math"

	"loamline.example/geo"
)

// A bend goes on a little between its last reading and the first of the straight
// after it: how much more than its own curvature explains, and how far from the
// way ahead the other end may lie. Judgement.
const (
	tangentSlack    = 1.4
	tangentSpare    = cornerRad
	tangentAside    = 30 * math.Pi / 180
	tangentDoubt    = 0.01 // of the joint's length
	tangentMisfit   = 0.05 // of the same, of loose readings
	looseTurn       = 120 * math.Pi / 180
	mostTangentLegs = 60
)

// tangent joins two runs, of which at least one bends, without a corner: Hermite's
// cubic with both directions, its speed that of an arc. The turn between their
// ends is no more than their curvature makes on the way, or loose readings lie
// along it.
func tangent(a, b []geo.XY, loose []sample) (joint, bool) {
	n := len(a)
	if n < 2 || len(b) < 2 {
		return joint{}, false
	}
	end, start := a[n-1], b[0]
	in, out, leg := unit(end.Sub(a[n-2])), unit(b[1].Sub(start)), start.Sub(end)
	gap := leg.Norm()
	most, aside := tangentSlack*gap*math.Max(endCurvature(a, false), endCurvature(b, true))+tangentSpare, tangentAside
	if len(loose) > 0 {
		most, aside = looseTurn, looseTurn/2
	}
	turn := turnBetween(in, out)
	if gap == 0 || turn > most || turnBetween(in, leg) > aside || turnBetween(leg, out) > aside {
		return joint{}, false
	}
	j := joint{used: loose}
	speed := gap / sq(math.Cos(turn/4))
	steps := int(clamp(math.Ceil(gap/filletStepM), 4, mostTangentLegs))
	for k := 0; k <= steps; k++ {
		u := float64(k) / float64(steps)
		h := end.Scale((1 + 2*u) * (1 - u) * (1 - u)).Add(start.Scale(u * u * (3 - 2*u)))
		h = h.Add(in.Scale(speed * u * (1 - u) * (1 - u))).Sub(out.Scale(speed * u * u * (1 - u)))
		j.points, j.corner = append(j.points, h), append(j.corner, false)
	}
	doubt := tangentDoubt * gap
	curve := geo.NewPolyline(j.points)
	for _, q := range loose {
		doubt = math.Max(doubt, math.Abs(curve.Nearest(q.p).OffsetM))
	}
	if doubt > tangentMisfit*gap {
		return joint{}, false
	}
	for range j.points {
		j.doubtM = append(j.doubtM, doubt)
	}
	j.doubtM[0], j.doubtM[len(j.doubtM)-1] = 0, 0 // readings hold both ends
	return j, true
}

// endCurvature is the curvature of a path at one end, over its last legs.
func endCurvature(path []geo.XY, atStart bool) float64 {
	const legs = 4 // judgement
	n := len(path)
	if n < 3 {
		return 0
	}
	part := path[max(0, n-1-legs):]
	if atStart {
		part = path[:min(n, legs+1)]
	}
	m := len(part)
	in, out := part[1].Sub(part[0]), part[m-1].Sub(part[m-2])
	return turnBetween(in, out) / math.Max(1e-9, geo.NewPolyline(part).Length()-in.Norm()/2-out.Norm()/2)
}

// turnBetween is the angle between two directions.
func turnBetween(a, b geo.XY) float64 { return math.Abs(math.Atan2(a.Cross(b), a.Dot(b))) }

// unit scales to length 1; the zero vector stays.
func unit(v geo.XY) geo.XY {
	if n := v.Norm(); n > 0 {
		return v.Scale(1 / n)
	}
	return v
}

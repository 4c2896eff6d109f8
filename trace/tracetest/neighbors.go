package tracetest

import "math"

// parallel keeps a neighbour at one distance, with a slow sway of a few
// centimetres.
func parallel(r random, offsetM float64) func(s, l float64) float64 {
	a, wave, phase := r.between(0.02, 0.08), r.between(25, 60), r.between(0, 2*math.Pi)
	return func(s, _ float64) float64 { return offsetM + a*math.Sin(2*math.Pi*s/wave+phase) }
}

// visiting brings a neighbour near between two fractions of the length and
// takes it away before and after.
func visiting(nearM, farM, fromFrac, toFrac float64) func(s, l float64) float64 {
	return func(s, l float64) float64 {
		out := math.Max(fromFrac*l-s, s-toFrac*l)
		t := math.Max(0, math.Min(1, out/12))
		return nearM + (farM-nearM)*t*t*(3-2*t)
	}
}

// crossing passes from one side to the other at an angle.
func crossing(atFrac, slope float64) func(s, l float64) float64 {
	return func(s, l float64) float64 { return slope * (s - atFrac*l) }
}

// beside adds a neighbour at a distance with a depth near the line's own.
func (rc *recipe) beside(name string, offset func(s, l float64) float64) *neighbor {
	n := neighbor{
		name: name, offsetM: offset, depthM: rc.depthM * rc.r.between(0.8, 1.3), smoothM: rc.r.between(2, 6),
	}
	switch rc.r.IntN(3) {
	case 0:
		n.traced = true
	case 1:
		n.known = true
	default:
		n.traced, n.known = true, true
	}
	rc.neighbors = append(rc.neighbors, n)
	return &rc.neighbors[len(rc.neighbors)-1]
}

// gentle draws the plans along which neighbours run.
func gentle(rc *recipe) {
	rc.spacingM = rc.r.between(1.5, 3.2)
	rc.shape = oneOf(rc.r,
		func(s *shape, r random) { s.straight(r.between(80, 170)) },
		func(s *shape, r random) { s.straight(r.between(80, 170)) },
		func(s *shape, r random) {
			s.straight(r.between(30, 60)).arc(r.between(25, 60), r.sign()*r.between(20, 50)).straight(r.between(30, 60))
		})
}

// stretch couples a neighbour over a part of the line.
func (rc *recipe) stretch(n *neighbor, ratio float64) {
	n.fromFrac = rc.r.between(0.15, 0.45)
	n.toFrac = n.fromFrac + rc.r.between(0.2, 0.4)
	n.ratio = complex(ratio, 0)
	if ratio > 0 {
		n.sharing = rc.r.between(0, 1) / (1 + ratio)
	}
}

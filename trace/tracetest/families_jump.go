package tracetest

import "math"

// follow makes the walk go over to a neighbour where the two are near.
func follow(rc *recipe, comesBack bool) {
	gentle(rc)
	side, from := rc.r.sign(), rc.r.between(0.25, 0.45)
	to := 1.2
	if comesBack {
		to = from + rc.r.between(0.25, 0.4)
	}
	near, far := side*rc.r.between(0.05, 0.3), side*rc.r.between(1.2, 3.5)
	n := rc.beside("B", func(s, l float64) float64 {
		// Near where the walk leaves and returns, away between and beyond.
		d := math.Abs(s - from*l)
		if comesBack {
			d = math.Min(d, math.Abs(s-to*l))
		}
		t := math.Min(1, d/10)
		off := near + (far-near)*t*t*(3-2*t)
		if s < from*l {
			return near + (-far-near)*t*t*(3-2*t)
		}
		return off
	})
	n.fromFrac, n.toFrac, n.smoothM, n.jump = from, to, 1, true
	n.ratio = complex(rc.r.between(1.5, 5), 0)
	n.sharing = rc.r.between(0.6, 0.9) / real(n.ratio)
	if rc.r.chance(0.3) {
		n.ratio, n.sharing = -n.ratio, -n.sharing
	}
}

var jumpFamilies = []Family{
	{"jump", "the walk goes over to the neighbour and stays", true, func(rc *recipe) { follow(rc, false) }},
	{"jump-return", "the walk goes over to the neighbour and comes back", true, func(rc *recipe) { follow(rc, true) }},
	{"jump-loose", "a jump under positions of 0.1 to 0.6 m", true, func(rc *recipe) {
		follow(rc, rc.r.chance(0.5))
		rc.fix = []int{oneOf(rc.r, 5, 2)}
	}},
}

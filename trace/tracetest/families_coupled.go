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

var quietFamilies = []Family{
	{"attenuation", "current that fades fast", false, func(rc *recipe) {
		gentle(rc)
		rc.dBPerKm = rc.r.between(80, 160)
	}},
	{"tee", "branches that take current away", false, func(rc *recipe) {
		gentle(rc)
		rc.tees = 1 + rc.r.IntN(2)
	}},
	{"near-clean", "a neighbour close by that carries nothing", false, func(rc *recipe) {
		gentle(rc)
		rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.7, 2.5)))
	}},
	{"near-clean-ramps", "a quiet neighbour, and real depth ramps", false, func(rc *recipe) {
		gentle(rc)
		rc.ramps = 1 + rc.r.IntN(2)
		rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.7, 2.5)))
	}},
	{"near-clean-tee", "a quiet neighbour, and branches", false, func(rc *recipe) {
		gentle(rc)
		rc.tees = 1 + rc.r.IntN(2)
		rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.7, 2.5)))
	}},
	{"near-clean-elbow", "a quiet neighbour round an elbow", false, func(rc *recipe) {
		rc.spacingM = rc.r.between(1.5, 3.2)
		rc.shape = elbows(1+rc.r.IntN(2), 45, 90)
		rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.8, 2.5)))
	}},
	{"near-clean-loose", "a quiet neighbour, positions of 0.1 to 0.6 m, leaps", false, func(rc *recipe) {
		gentle(rc)
		rc.fix = []int{oneOf(rc.r, 5, 2)}
		rc.blunders = rc.r.between(0, 0.08)
		rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.7, 2.5)))
	}},
	{"shared-trench", "a quiet neighbour in the same trench for a while", false, func(rc *recipe) {
		gentle(rc)
		from := rc.r.between(0.15, 0.4)
		side := rc.r.sign()
		rc.beside("B", visiting(side*rc.r.between(0.25, 0.5), side*rc.r.between(3, 6), from, from+rc.r.between(0.2, 0.4)))
	}},
	{"own-record", "an old drawing of the line itself on the reference layer", false, func(rc *recipe) {
		gentle(rc)
		rc.onRecord = true
	}},
	{"crossing-clean", "quiet lines that cross", false, func(rc *recipe) {
		gentle(rc)
		rc.beside("B", crossing(rc.r.between(0.3, 0.7), rc.r.sign()*rc.r.between(0.5, 3)))
		rc.neighbors[0].depthM = rc.depthM * oneOf(rc.r, rc.r.between(0.5, 0.75), rc.r.between(1.3, 1.8))
	}},
}

var bleedFamilies = []Family{
	{"bleed-same", "a parallel neighbour carries part of the current the same way", true, func(rc *recipe) {
		gentle(rc)
		rc.stretch(rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.6)*rc.depthM)), rc.r.between(0.25, 0.8))
	}},
	{"bleed-return", "a parallel neighbour carries current back", true, func(rc *recipe) {
		gentle(rc)
		rc.stretch(rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.6)*rc.depthM)), -rc.r.between(0.25, 0.8))
	}},
	{"bleed-bonded", "a bond shares the current out", true, func(rc *recipe) {
		gentle(rc)
		n := rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.4)*rc.depthM))
		rc.stretch(n, rc.r.between(0.4, 0.9))
		n.sharing, n.smoothM = 1/(1+real(n.ratio)), 1
	}},
	{"bleed-visiting", "the neighbour comes near, couples and goes", true, func(rc *recipe) {
		gentle(rc)
		side, from := rc.r.sign(), rc.r.between(0.2, 0.4)
		to := from + rc.r.between(0.2, 0.35)
		n := rc.beside("B", visiting(side*rc.r.between(0.5, 1.3)*rc.depthM, side*rc.r.between(4, 7), from, to))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.3, 0.8))
		n.fromFrac, n.toFrac = from, to
	}},
	{"bleed-whole", "a neighbour coupled along the whole line", true, func(rc *recipe) {
		gentle(rc)
		n := rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.5)*rc.depthM))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.25, 0.7))
		n.fromFrac, n.toFrac = -1, 2
	}},
	{"bleed-loose", "coupling under positions of 0.1 to 0.6 m", true, func(rc *recipe) {
		gentle(rc)
		rc.fix = []int{oneOf(rc.r, 5, 2)}
		rc.stretch(rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.6)*rc.depthM)), rc.r.sign()*rc.r.between(0.3, 0.8))
	}},
	{"bleed-elbow", "coupling along a line with elbows", true, func(rc *recipe) {
		rc.spacingM = rc.r.between(1.5, 3)
		rc.shape = elbows(1+rc.r.IntN(2), 45, 90)
		rc.stretch(rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.6, 1.5)*rc.depthM)), rc.r.sign()*rc.r.between(0.3, 0.8))
	}},
	{"bleed-tee", "coupling, and branches beside it", true, func(rc *recipe) {
		gentle(rc)
		rc.tees, rc.ramps = 1, rc.r.IntN(2)
		rc.stretch(rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.5)*rc.depthM)), rc.r.sign()*rc.r.between(0.3, 0.8))
	}},
	{"bleed-shallow", "a shallower neighbour draws the peak", true, func(rc *recipe) {
		gentle(rc)
		rc.depthM = rc.r.between(1, 1.6)
		n := rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.6, 1.3)*rc.depthM))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.2, 0.5))
		n.depthM = rc.depthM * rc.r.between(0.55, 0.8)
	}},
	{"bleed-two", "neighbours on both sides carry current", true, func(rc *recipe) {
		gentle(rc)
		side := rc.r.sign()
		rc.stretch(rc.beside("B", parallel(rc.r, side*rc.r.between(0.6, 1.5)*rc.depthM)), rc.r.sign()*rc.r.between(0.3, 0.7))
		rc.stretch(rc.beside("C", parallel(rc.r, -side*rc.r.between(0.8, 1.8)*rc.depthM)), rc.r.sign()*rc.r.between(0.2, 0.5))
	}},
	{"bleed-phase", "coupled current out of phase", true, func(rc *recipe) {
		gentle(rc)
		n := rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.5, 1.5)*rc.depthM))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.3, 0.8))
		a := rc.r.between(20, 70) * math.Pi / 180
		n.ratio *= complex(math.Cos(a), math.Sin(a))
		n.sharing = 0
	}},
	{"bleed-unknown", "a conductor that nobody knows of carries current", true, func(rc *recipe) {
		gentle(rc)
		n := rc.beside("X", parallel(rc.r, rc.r.sign()*rc.r.between(0.6, 1.5)*rc.depthM))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.3, 0.8))
		n.traced, n.known, n.hidden = false, false, true
	}},
	{"bleed-contact", "a contact where the lines cross sends current down the neighbour", true, touching},
	{"bleed-induction", "induction energises the neighbour too", true, func(rc *recipe) {
		gentle(rc)
		rc.transmit, rc.hookup, rc.freqHz = true, "induction", oneOf(rc.r, 33000.0, 65536, 82000)
		n := rc.beside("B", parallel(rc.r, rc.r.sign()*rc.r.between(0.6, 1.5)*rc.depthM))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.3, 0.8))
		n.sharing = 0
	}},
}

// touching couples a neighbour from the place on where the two cross, as a
// contact between them does.
func touching(rc *recipe) {
	gentle(rc)
	at, slope := rc.r.between(0.3, 0.7), rc.r.sign()*rc.r.between(0.15, 0.5)
	n := rc.beside("B", crossing(at, slope))
	rc.stretch(n, rc.r.sign()*rc.r.between(0.4, 1))
	n.fromFrac, n.toFrac, n.smoothM = at, 2, 1
	n.depthM = rc.depthM * rc.r.between(1.1, 1.3)
}

// Signal that no reading over the line can show: what these families measure
// is whether the map at least warns.
var foolingFamilies = []Family{
	{"fools-stacked", "a neighbour right above or below carries current", true, func(rc *recipe) {
		gentle(rc)
		rc.depthM = rc.r.between(1, 1.6)
		n := rc.beside("B", parallel(rc.r, rc.r.norm(0.1)))
		rc.stretch(n, rc.r.sign()*rc.r.between(0.25, 0.6))
		n.depthM = rc.depthM + oneOf(rc.r, -0.4, 0.5)
	}},
	{"fools-both-sides", "neighbours alike on both sides carry the same current", true, func(rc *recipe) {
		gentle(rc)
		off, ratio := rc.r.between(0.7, 1.3)*rc.depthM, rc.r.sign()*rc.r.between(0.2, 0.4)
		n := rc.beside("B", parallel(rc.r, off))
		rc.stretch(n, ratio)
		from, to := n.fromFrac, n.toFrac
		n.depthM, n.sharing = rc.depthM, 0
		m := rc.beside("C", parallel(rc.r, -off))
		rc.stretch(m, ratio)
		m.fromFrac, m.toFrac, m.depthM, m.sharing = from, to, rc.depthM, 0
	}},
}

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

package tracetest

import "math"

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

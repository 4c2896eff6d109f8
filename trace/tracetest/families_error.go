package tracetest

// errorFamilies are jobs whose instruments err in ways that their readings do
// not show.
var errorFamilies = []Family{
	{"dive", "the line goes under something, two or three metres deep, and comes up", false, func(rc *recipe) {
		rc.depthM, rc.diveM = rc.r.between(0.5, 0.9), rc.r.between(1.8, 3)
		rc.shape = func(s *shape, r random) { s.straight(r.between(80, 160)) }
	}},
	{"hump", "a deep line comes up to half a metre for some metres", false, func(rc *recipe) {
		rc.depthM, rc.diveM = rc.r.between(1.1, 1.6), rc.r.between(0.35, 0.55)
		rc.shape = func(s *shape, r random) { s.straight(r.between(80, 160)) }
	}},
	{"induction-start", "the walk begins beside an induction transmitter", false, func(rc *recipe) {
		rc.transmit, rc.beginAt, rc.hookup = true, true, "induction"
		rc.freqHz = oneOf(rc.r, 8192.0, 33000, 65536)
	}},
	{"depth-scale", "every depth 5 to 12 % off, dug open at up to three places", false, func(rc *recipe) {
		rc.scale = rc.r.sign() * rc.r.between(0.05, 0.12)
		rc.exposed = rc.r.IntN(4)
		rc.keep["exposed"] = rc.exposed > 0
		rc.keep["depth"] = true
		anyShape(rc)
	}},
	{"exposure-contradicts", "the whole track lies 0.1 to 3 m beside the line, dug open at one to three places", false, func(rc *recipe) {
		rc.besideM = rc.r.sign() * rc.r.ratio(0.1, 3)
		rc.exposed = 1 + rc.r.IntN(3)
		rc.keep["exposed"], rc.keep["fix"], rc.keep["h_acc"] = true, true, true
	}},
	{"rounded", "positions with four, five or six decimals", false, func(rc *recipe) {
		rc.digits = 4 + rc.r.IntN(3)
		rc.keep["fix"], rc.keep["h_acc"] = true, true
	}},
	{"no-accuracy", "a constant error of metres, and neither a fix nor an accuracy that tells of it", false, func(rc *recipe) {
		rc.fix = []int{1}
		rc.noise.Stated, rc.noise.CommonShare, rc.noise.TauS = StatedAbsent, 0.9998, 3e6
		rc.drop["fix"] = rc.r.chance(0.5)
		rc.drop["hdop"] = rc.drop["fix"]
	}},
}

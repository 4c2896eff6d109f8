package tracetest

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

package tracetest

import "math"

var faultFamilies = []Family{
	{"blunders-rtk", "up to a fifth of the positions leap, RTK, elbows", false, func(rc *recipe) {
		rc.shape = elbows(1+rc.r.IntN(2), 45, 90)
		rc.blunders = rc.r.between(0.05, 0.2)
	}},
	{"blunders-sweep", "leaping positions along a bend", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) { sweep(r, s, 6, 30) }
		rc.blunders = rc.r.between(0.05, 0.2)
	}},
	{"blunders-loose", "leaping positions, float or differential", false, func(rc *recipe) {
		withFix(oneOf(rc.r, 5, 2))(rc)
		rc.blunders = rc.r.between(0.05, 0.2)
	}},
	{"blunders-unordered", "leaping positions, rows in any order, no times", false, func(rc *recipe) {
		rc.shape = elbows(1, 90)
		rc.unordered = true
		rc.drop["time"], rc.drop["point"], rc.drop["null"] = true, true, true
		rc.blunders = rc.r.between(0.03, 0.12)
	}},
	{"depth-spikes", "depths that are nonsense now and then", false, func(rc *recipe) {
		rc.spikes = rc.r.between(0.03, 0.12)
		anyShape(rc)
	}},
	{"depth-ramps", "the line goes deeper and shallower", false, func(rc *recipe) {
		rc.ramps = 1 + rc.r.IntN(3)
		rc.shape = func(s *shape, r random) { s.straight(r.between(80, 180)) }
	}},
	{"depth-steps", "the line steps down or up at fittings", false, func(rc *recipe) {
		rc.steps = 1 + rc.r.IntN(2)
		rc.shape = func(s *shape, r random) { s.straight(r.between(80, 180)) }
	}},
	{"deep", "two to four metres deep", false, func(rc *recipe) {
		rc.depthM = rc.r.between(2, 4)
		anyShape(rc)
	}},
	{"raised", "raised checks among the readings", false, func(rc *recipe) {
		rc.raised = 2 + rc.r.IntN(4)
		rc.keep["raise"] = true
	}},
	{"exposed", "the line dug open at a few places", false, func(rc *recipe) {
		rc.exposed = 1 + rc.r.IntN(4)
		rc.keep["exposed"] = true
		rc.fix = []int{oneOf(rc.r, 4, 4, 5)}
		anyShape(rc)
	}},
	{"induction", "an induction transmitter near the first readings", false, func(rc *recipe) {
		rc.transmit, rc.hookup = true, "induction"
		rc.raised = rc.r.IntN(4)
		rc.freqHz = oneOf(rc.r, 8192.0, 33000, 65536)
		rc.spacingM = math.Min(rc.spacingM, 3)
	}},
	{"bare", "positions and depths and nothing else", false, func(rc *recipe) {
		anyShape(rc)
		for _, c := range Columns() {
			rc.drop[string(c)] = c != ColLat && c != ColLon && c != ColDepth
		}
	}},
	{"grid", "positions as easting and northing", false, func(rc *recipe) {
		anyShape(rc)
		rc.projected = true
	}},
	{"everything", "several faults at once", false, func(rc *recipe) {
		withFix(oneOf(rc.r, 4, 5))(rc)
		rc.blunders, rc.spikes, rc.ramps = rc.r.between(0.02, 0.12), rc.r.between(0.02, 0.06), rc.r.IntN(2)
		rc.passes = 1 + rc.r.IntN(2)
		rc.raised, rc.exposed = rc.r.IntN(3), rc.r.IntN(3)
		rc.noise.Stated = oneOf(rc.r, StatedRight, StatedOptimistic, StatedAbsent)
	}},
}

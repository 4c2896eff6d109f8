package tracetest

var walkFamilies = []Family{
	{"repeat", "two or three passes, minutes apart", false, func(rc *recipe) {
		rc.passes = 2 + rc.r.IntN(2)
		rc.reverse = rc.r.chance(0.6)
		rc.shape = oneOf(rc.r, elbows(1, 90), elbows(0, 0), func(s *shape, r random) { sweep(r, s, 8, 40) })
	}},
	{"back-forth", "the locator turns round on the way", false, func(rc *recipe) {
		rc.backForth = true
		rc.shape = oneOf(rc.r, elbows(1, 45, 90), elbows(0, 0), func(s *shape, r random) { sweep(r, s, 8, 40) })
	}},
	{"unordered", "rows in any order, no times", false, func(rc *recipe) {
		rc.unordered = true
		rc.drop["time"], rc.drop["point"], rc.drop["null"] = true, true, true
		rc.shape = oneOf(rc.r, elbows(1, 90), elbows(2, 45, 90), func(s *shape, r random) { sweep(r, s, 8, 40) })
	}},
	{"unordered-timed", "rows in any order, with times", false, func(rc *recipe) {
		rc.unordered = true
		rc.keep["time"] = true
		rc.shape = oneOf(rc.r, elbows(1, 90), elbows(2, 45, 90), func(s *shape, r random) { sweep(r, s, 8, 40) })
	}},
	{"gap", "a stretch without any reading", false, func(rc *recipe) {
		rc.gapM = rc.r.between(15, 35)
		rc.shape = oneOf(rc.r,
			func(s *shape, r random) { s.straight(r.between(90, 160)) },
			elbows(3, 45, 90),
			func(s *shape, r random) { s.wander(r, r.between(90, 160)) })
	}},
}

// anyShape draws one of the everyday plans.
func anyShape(rc *recipe) {
	rc.shape = oneOf(rc.r,
		func(s *shape, r random) { s.straight(r.between(60, 180)) },
		elbows(1, 90), elbows(2, 45, 90),
		func(s *shape, r random) { sweep(r, s, 8, 50) },
		func(s *shape, r random) { s.wander(r, r.between(60, 140)) })
}

func withFix(fix ...int) func(*recipe) {
	return func(rc *recipe) {
		rc.fix = fix
		anyShape(rc)
	}
}

var fixFamilies = []Family{
	{"float", "RTK float, 0.1 to 0.4 m", false, withFix(5)},
	{"differential", "differential positions, 0.3 to 0.6 m", false, withFix(2)},
	{"autonomous", "autonomous positions, 1 to 1.5 m", false, withFix(1)},
	{"straight-float", "a straight line by RTK float", false, straightBy(5)},
	{"straight-differential", "a straight line by differential positions", false, straightBy(2)},
	{"straight-autonomous", "a straight line by autonomous positions", false, straightBy(1)},
	{"fix-changes", "the fix falls from RTK and comes back", false, func(rc *recipe) {
		withFix(4, oneOf(rc.r, 5, 2, 1), 4)(rc)
		rc.keep["fix"] = true
	}},
	{"optimistic", "the receiver states 0.3 to 0.6 of its error", false, func(rc *recipe) {
		withFix(oneOf(rc.r, 4, 5, 2))(rc)
		rc.noise.Stated = StatedOptimistic
		rc.keep["h_acc"] = true
	}},
	{"unstated", "no accuracy and no fix given", false, func(rc *recipe) {
		withFix(oneOf(rc.r, 4, 5, 2, 1))(rc)
		rc.noise.Stated = StatedAbsent
		rc.drop["fix"], rc.drop["hdop"] = true, true
	}},
}

// straightBy is the everyday street main under loose positions: the wander of
// the positions must not become the line's.
func straightBy(fix int) func(*recipe) {
	return func(rc *recipe) {
		rc.fix = []int{fix}
		rc.shape = func(s *shape, r random) { s.straight(r.between(60, 160)) }
	}
}

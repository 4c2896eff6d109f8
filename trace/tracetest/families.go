package tracetest

import (
	"math"
	"slices"
)

// Family is a kind of job.
type Family struct {
	Name         string
	Shows        string // what it is for, in a few words
	CarriesBleed bool   // signal of the line flows on another conductor
	cook         func(*recipe)
}

// Families lists every kind of job, in a fixed order.
func Families() []Family {
	return slices.Concat(shapeFamilies, walkFamilies, fixFamilies, faultFamilies, quietFamilies, bleedFamilies, jumpFamilies, foolingFamilies)
}

// elbows walks n elbows with straight runs between them.
func elbows(n int, turnsDeg ...float64) func(*shape, random) {
	return func(s *shape, r random) {
		side := r.sign()
		s.straight(r.between(20, 50))
		for range n {
			s.corner(side * oneOf(r, turnsDeg...))
			s.straight(r.between(20, 50))
			if r.chance(0.7) {
				side = -side
			}
		}
	}
}

// sweep bends at a radius through an angle between straight runs.
func sweep(r random, s *shape, loRadius, hiRadius float64) {
	s.straight(r.between(15, 50))
	s.arc(r.ratio(loRadius, hiRadius), r.sign()*r.between(30, 110))
	s.straight(r.between(15, 50))
}

// circle closes on itself nearly, as a ring main does.
func circle(s *shape, r random) {
	side, radius := r.sign(), r.between(5, 10)
	for range 4 {
		s.straight(r.between(18, 20))
		s.arc(radius, side*88)
	}
}

// doubled runs out, turns and comes back beside itself.
func doubled(s *shape, r random) {
	side, run := r.sign(), r.between(40, 80)
	s.straight(run)
	s.corner(side * 90).straight(r.between(3.5, 7)).corner(side * 90)
	s.straight(run * r.between(0.7, 1))
}

var shapeFamilies = []Family{
	{"straight", "a straight line, RTK", false, func(rc *recipe) {}},
	{"few", "five to twelve readings, far apart", false, func(rc *recipe) {
		rc.spacingM = rc.r.between(6, 11)
		length := rc.spacingM * rc.r.between(4.2, 11)
		corner := rc.r.chance(0.3) && length > 60
		rc.shape = func(s *shape, r random) {
			s.straight(length / 2)
			if corner {
				s.corner(r.sign() * 90)
			}
			s.straight(length / 2)
		}
	}},
	{"elbow-45", "one or two elbows of 45°", false, func(rc *recipe) { rc.shape = elbows(1+rc.r.IntN(2), 45) }},
	{"elbow-90", "an elbow of 90°", false, func(rc *recipe) { rc.shape = elbows(1, 90) }},
	{"elbows", "several elbows of 22 to 90°", false, func(rc *recipe) { rc.shape = elbows(2+rc.r.IntN(4), 22.5, 45, 90, 90) }},
	{"sweep", "a bend of 8 to 60 m radius", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) { sweep(r, s, 8, 60) }
	}},
	{"tight-sweep", "a bend of 2.5 to 6 m radius, read closely", false, func(rc *recipe) {
		rc.spacingM = rc.r.between(1, 2)
		rc.shape = func(s *shape, r random) { sweep(r, s, 2.5, 6) }
	}},
	{"s-curve", "two bends in opposite directions", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) {
			side := r.sign()
			s.straight(r.between(10, 30)).arc(r.between(12, 50), side*r.between(25, 70))
			s.arc(r.between(12, 50), -side*r.between(25, 70)).straight(r.between(10, 30))
		}
	}},
	{"wander", "a cable laid by eye", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) { s.wander(r, r.between(60, 180)) }
	}},
	{"mixed", "straight runs, an elbow, a bend and a wandering piece", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) {
			s.straight(r.between(20, 40)).corner(r.sign() * oneOf(r, 45.0, 90))
			sweep(r, s, 10, 40)
			s.wander(r, r.between(20, 50))
		}
	}},
	{"loop", "a ring that nearly closes", false, func(rc *recipe) {
		rc.lead = false
		rc.shape = circle
	}},
	{"doubled", "a line that comes back beside itself", false, func(rc *recipe) { rc.shape = doubled }},
	{"long", "some hundreds of metres with elbows and bends", false, func(rc *recipe) {
		rc.shape = func(s *shape, r random) {
			elbows(2, 45, 90)(s, r)
			sweep(r, s, 10, 60)
			s.straight(r.between(60, 120))
		}
	}},
	{"dead-end", "a line that ends under the last reading", false, func(rc *recipe) {
		rc.lead = false
	}},
}

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

package tracetest

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

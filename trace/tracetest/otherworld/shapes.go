package otherworld

import (
	"math"

	"loamline.example/trace/tracetest"
)

// shape draws the traced stretch of a line, of about a length.
type shape func(r rng, lengthM float64) *plan

func deg(d float64) float64 { return d * math.Pi / 180 }

func straightRun(r rng, lengthM float64) *plan {
	return newPlan(r.in(-math.Pi, math.Pi)).straight(lengthM)
}

// elbows are two to six legs joined by the angles of fittings.
func elbows(r rng, lengthM float64) *plan {
	n := 2 + r.IntN(5)
	p := newPlan(r.in(-math.Pi, math.Pi))
	for i := range n {
		if i > 0 {
			p.elbow(r.side() * deg(pick(r, 90, 90, 90, 45, 45, 22.5, 60, 30)))
		}
		p.straight(math.Max(4, lengthM/float64(n)*r.in(0.6, 1.4)))
	}
	return p
}

// sweeps turn by long-radius bends.
func sweeps(r rng, lengthM float64) *plan {
	n := 2 + r.IntN(4)
	p := newPlan(r.in(-math.Pi, math.Pi))
	for i := range n {
		if i > 0 {
			p.bend(r.scale(0.5, 5), r.side()*deg(r.in(20, 110)))
		}
		p.straight(math.Max(4, lengthM/float64(n)*r.in(0.6, 1.4)))
	}
	return p
}

// mixedShape takes turns of every kind.
func mixedShape(r rng, lengthM float64) *plan {
	n := 3 + r.IntN(4)
	p := newPlan(r.in(-math.Pi, math.Pi))
	for i := range n {
		if i > 0 {
			switch r.IntN(3) {
			case 0:
				p.elbow(r.side() * deg(r.in(15, 100)))
			case 1:
				p.bend(r.scale(0.5, 5), r.side()*deg(r.in(15, 100)))
			default:
				p.bend(r.scale(8, 80), r.side()*deg(r.in(10, 60)))
			}
		}
		p.straight(math.Max(4, lengthM/float64(n)*r.in(0.5, 1.5)))
	}
	return p
}

// wavy is a line that somebody laid by eye.
func wavy(r rng, lengthM float64) *plan {
	p := newPlan(r.in(-math.Pi, math.Pi))
	if r.yes(0.4) {
		p.bend(r.scale(60, 400), r.side()*math.Min(1, lengthM/60)).straight(lengthM / 3)
	} else {
		p.straight(lengthM)
	}
	for range 2 + r.IntN(3) {
		l := r.scale(12, 70)
		p.sways = append(p.sways, tracetest.Wave{AmplitudeM: l * r.in(0.006, 0.03), LengthM: l, PhaseRad: r.in(0, 2*math.Pi)})
	}
	return p
}

// letters are L, Z and U shapes.
func letters(r rng, lengthM float64) *plan {
	p := newPlan(r.in(-math.Pi, math.Pi))
	s := r.side()
	switch r.IntN(3) {
	case 0:
		return p.straight(lengthM/2).turn(r, s*math.Pi/2).straight(lengthM / 2)
	case 1:
		a := deg(pick(r, 45.0, 90, 90, 60))
		return p.straight(lengthM*0.4).turn(r, s*a).straight(r.in(3, 0.3*lengthM)).turn(r, -s*a).straight(lengthM * 0.4)
	}
	return p.straight(lengthM*0.4).turn(r, s*math.Pi/2).straight(r.in(4, 0.3*lengthM)).turn(r, s*math.Pi/2).straight(lengthM * 0.4)
}

// ring runs most of the way round, or past its own beginning.
func ring(r rng, _ float64) *plan {
	radius, turn := r.scale(5, 40), r.side()*deg(r.in(270, 380))
	return newPlan(r.in(-math.Pi, math.Pi)).bend(radius, turn)
}

// arc is one wide curve between two straights.
func arc(r rng, lengthM float64) *plan {
	radius := r.scale(6, 120)
	turn := math.Min(deg(150), lengthM*r.in(0.4, 0.9)/radius)
	rest := math.Max(8, lengthM-radius*turn)
	f := r.in(0.2, 0.8)
	return newPlan(r.in(-math.Pi, math.Pi)).straight(f*rest).bend(radius, r.side()*turn).straight((1 - f) * rest)
}

// hairpin goes out and comes back close beside itself.
func hairpin(r rng, lengthM float64) *plan {
	s, apart := r.side(), r.in(0.6, 2)
	p := newPlan(r.in(-math.Pi, math.Pi)).straight(lengthM / 2)
	if r.yes(0.5) {
		return p.elbow(s * math.Pi / 2).straight(apart).elbow(s * math.Pi / 2).straight(lengthM / 2 * r.in(0.6, 1))
	}
	return p.bend(apart/2, s*math.Pi).straight(lengthM / 2 * r.in(0.6, 1))
}

// shortLeg steps aside by a metre or four and, mostly, back again.
func shortLeg(r rng, lengthM float64) *plan {
	p := newPlan(r.in(-math.Pi, math.Pi)).straight(lengthM * r.in(0.3, 0.5))
	s, a := r.side(), deg(pick(r, 45.0, 90, 90))
	aside := r.in(1, 4) / math.Sin(a)
	p.elbow(s * a).straight(aside).elbow(-s * a).straight(r.in(2, 4))
	if r.yes(0.7) {
		p.elbow(-s * a).straight(aside).elbow(s * a)
	}
	return p.straight(lengthM * 0.5)
}

// spur is a branch that is walked out and back under the line's own name: the
// line that the locator follows runs over the branch twice.
func spur(r rng, lengthM float64) *plan {
	s, out := r.side(), r.scale(5, 30)
	p := newPlan(r.in(-math.Pi, math.Pi)).straight(lengthM * r.in(0.3, 0.6)).elbow(s * math.Pi / 2).straight(out)
	return p.elbow(math.Pi).straight(out).elbow(s * math.Pi / 2).straight(lengthM * 0.5)
}

// anyShape is what a job has that is not about its shape.
func anyShape(r rng, lengthM float64) *plan {
	return pick[shape](r, straightRun, straightRun, elbows, elbows, sweeps, mixedShape, wavy, letters, arc)(r, lengthM)
}

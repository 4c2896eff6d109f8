package otherworld

import (
	"math"

	"loamline.example/trace/tracetest"
)

// trench draws how deep a line lies: a grade, slow waves, and what a family
// adds to that.
type trench struct {
	meanM   float64
	gradeM  float64 // change from one end to the other
	waves   []tracetest.Wave
	feature func(r rng, t trench, fromM, toM float64) []tracetest.Knot
}

func drawTrench(r rng) trench {
	t := trench{meanM: r.scale(0.4, 2.2)}
	if r.yes(0.5) {
		t.gradeM = r.gauss(0.2 * t.meanM)
	}
	for range r.IntN(4) {
		l := r.scale(15, 90)
		t.waves = append(t.waves, tracetest.Wave{AmplitudeM: math.Min(0.15*t.meanM, l*r.in(0.001, 0.008)), LengthM: l, PhaseRad: r.in(0, 2*math.Pi)})
	}
	return t
}

func (t trench) profile(r rng, l, fromM, toM float64) tracetest.Profile {
	grade := func(s float64) float64 { return math.Max(0.3, t.meanM+t.gradeM*(s/l-0.5)) }
	p := tracetest.Profile{Waves: t.waves, Knots: []tracetest.Knot{{StationM: 0, DepthM: grade(0)}}}
	if t.feature != nil {
		p.Knots = append(p.Knots, t.feature(r, t, fromM, toM)...)
	}
	last := p.Knots[len(p.Knots)-1]
	if t.feature != nil {
		grade = func(float64) float64 { return last.DepthM }
	}
	p.Knots = append(p.Knots, tracetest.Knot{StationM: math.Max(l, last.StationM+1), DepthM: grade(l)})
	return p
}

// excursion leaves the trench's depth for another over ramps, stays, and comes
// back.
func excursion(r rng, fromM, toM, depthM, otherM, rampM float64) []tracetest.Knot {
	stay := r.scale(2, 15)
	at := r.in(fromM+0.2*(toM-fromM), fromM+0.6*(toM-fromM))
	return []tracetest.Knot{
		{StationM: at, DepthM: depthM}, {StationM: at + rampM, DepthM: otherM},
		{StationM: at + rampM + stay, DepthM: otherM}, {StationM: at + rampM + stay + rampM*r.in(0.8, 1.3), DepthM: depthM},
	}
}

// dive goes under something, to three metres at most.
func dive(r rng, t trench, fromM, toM float64) []tracetest.Knot {
	deep := math.Min(3, t.meanM+r.in(0.6, 2.2))
	return excursion(r, fromM, toM, t.meanM, deep, (deep-t.meanM)*r.scale(1, 6))
}

// hump goes over something.
func hump(r rng, t trench, fromM, toM float64) []tracetest.Knot {
	high := math.Max(0.25, t.meanM*r.in(0.3, 0.7))
	return excursion(r, fromM, toM, t.meanM, high, (t.meanM-high)*r.scale(1, 8))
}

// depthSteps are drops and rises within half a metre to a metre.
func depthSteps(r rng, t trench, fromM, toM float64) []tracetest.Knot {
	n := 1 + r.IntN(3)
	d, out := t.meanM, []tracetest.Knot(nil)
	for i := range n {
		at := fromM + (toM-fromM)*(float64(i)+r.in(0.3, 0.7))/float64(n)
		to := d + r.side()*r.in(0.3, 1.4)
		if to < 0.35 || to > 3 {
			to = d + (d - to)
		}
		to = math.Max(0.35, math.Min(3, to))
		out = append(out, tracetest.Knot{StationM: at, DepthM: d}, tracetest.Knot{StationM: at + r.in(0.3, 1.2), DepthM: to})
		d = to
	}
	return out
}

// longRamp runs steadily from one depth to another.
func longRamp(r rng, t trench, fromM, toM float64) []tracetest.Knot {
	a := r.in(fromM+0.1*(toM-fromM), fromM+0.4*(toM-fromM))
	b := r.in(fromM+0.6*(toM-fromM), fromM+0.9*(toM-fromM))
	return []tracetest.Knot{{StationM: a, DepthM: t.meanM}, {StationM: b, DepthM: r.in(0.5, 3)}}
}

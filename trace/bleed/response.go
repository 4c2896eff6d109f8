package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// response is what coupling does to one reading.
type response struct {
	shiftM  float64 // mark minus true line
	nullM   float64 // null minus mark
	lnDepth float64 // log of depth shown over true
	lnField float64 // log of the lower antenna's field over that of the line alone
}

// Judgement, on the numerical method: the most Newton steps to the line and to the null, and
// how far one of the latter goes, in depths; the part of the farthest place at which the slope of
// the field has a solution up to which one is taken, as the mark slides away there; and the
// ratio of the two antennas' signals that shows some depth at all, to a thousandth.
const (
	newtonSteps  = 20
	nullSteps    = 30
	mostNullStep = 0.3
	nearLimit    = 0.97
	leastRatio   = 1.001
)

// respond returns the response to a neighbour at asideM from the mark, depth2M
// deep, that carries the share r of the line's current. It solves the fields
// of two long lines (package receiver) the other way round: the mark is known, so
// where the true line lies follows from the horizontal field's slope being zero
// there,
//
//	t/(t²+d²)² = −r d2 a/(d (a²+d2²)²)
//
// for the line t to the right of the mark. It is not ok where that has no
// solution, where the null is out of reach, or where no depth would show.
func respond(depthM, gapM, asideM, depth2M, r float64) (response, bool) {
	d, a, e := depthM, asideM, depth2M
	q := a*a + e*e
	target := -r * e * a / (d * q * q)
	t := target * d * d * d * d
	limit := d / math.Sqrt(3) // beyond it the slope falls again
	for range newtonSteps {
		s := t*t + d*d
		step := (t/(s*s) - target) / ((d*d - 3*t*t) / (s * s * s))
		t -= step
		if !(math.Abs(t) < nearLimit*limit) {
			return response{}, false
		}
		if math.Abs(step) < 1e-9*d {
			break
		}
	}
	null, ok := nullBeside(t, d, a, e, r)
	if !ok {
		return response{}, false
	}
	low := d/(t*t+d*d) + r*e/q
	high := (d+gapM)/(t*t+(d+gapM)*(d+gapM)) + r*(e+gapM)/(a*a+(e+gapM)*(e+gapM))
	if low < 0 {
		low, high = -low, -high
	}
	if !(high > 0) || !(low > leastRatio*high) {
		return response{}, false
	}
	return response{-t, null, math.Log(receiver.TwoAntennaDepthM(low, high, gapM) / d), math.Log(low * d)}, true
}

// nullBeside finds the zero of the vertical field near the mark at 0.
func nullBeside(t, d, a, e, r float64) (float64, bool) {
	x := t
	for range nullSteps {
		u, v := x-t, x-a
		p, q := u*u+d*d, v*v+e*e
		f := u/p + r*v/q
		slope := (d*d-u*u)/(p*p) + r*(e*e-v*v)/(q*q)
		if !(slope > 0) {
			return 0, false
		}
		step := math.Max(-mostNullStep*d, math.Min(mostNullStep*d, f/slope))
		x -= step
		if math.Abs(x) > 2*d {
			return 0, false
		}
		if math.Abs(step) < 1e-9*d {
			return x, true
		}
	}
	return 0, false
}

// respondFromLine is respond with the neighbour at asideM from the true line:
// the mark climbs uphill from there, and may slide far towards the neighbour.
func respondFromLine(depthM, gapM, asideM, depth2M, r float64) (response, bool) {
	lines := [2]receiver.Conductor{{DepthM: depthM, CurrentA: 1}, {XM: asideM, DepthM: depth2M, CurrentA: complex(r, 0)}}
	s := receiver.Section{Lines: lines[:]}.Survey(0, gapM)
	if math.IsInf(s.DepthM, 0) || !(math.Abs(s.PeakM) < 3*depthM) || !(math.Abs(s.NullOffsetM) < 3*depthM) {
		return response{}, false
	}
	return response{s.PeakM, s.NullOffsetM, math.Log(s.DepthM / depthM),
		math.Log(s.LowT * depthM / receiver.TeslaMetrePerAmpere)}, true
}

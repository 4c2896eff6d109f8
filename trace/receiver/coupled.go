package receiver

import "math"

// Coupled is what the current on another long line, beside one under test, does to what a
// receiver across the line shows there.
type Coupled struct {
	ShiftM  float64 // mark minus true line
	NullM   float64 // null minus mark
	LnDepth float64 // log of depth shown over true
	LnField float64 // log of the lower antenna's field over that of the line alone
}

// Judgement, on the numerical method: the most Newton steps to the line and to the null, and
// how far one of the latter goes, in depths; and the part of the farthest place at which the
// slope of the field has a solution up to which one is taken, as the mark slides away there.
const (
	newtonSteps  = 20
	nullSteps    = 30
	mostNullStep = 0.3
	nearLimit    = 0.97
)

// LeastRatio is the ratio of the two antennas' signals that shows some depth at all, to a
// thousandth: 400 m and more. Judgement.
const LeastRatio = 1.001

// AtMark returns what a neighbour does that is asideM from the mark and depth2M deep, and
// carries the share r of the line's current. It solves the fields of a [Section] of two lines
// the other way round: the mark is known, so where the true line lies follows from the
// horizontal field's slope being zero there,
//
//	t/(t²+d²)² = −r d2 a/(d (a²+d2²)²)
//
// for the line t to the right of the mark. It is not ok where that has no
// solution, where the null is out of reach, or where no depth would show.
func AtMark(depthM, gapM, asideM, depth2M, r float64) (Coupled, bool) {
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
			return Coupled{}, false
		}
		if math.Abs(step) < 1e-9*d {
			break
		}
	}
	null, ok := nullNearMark(t, d, a, e, r)
	if !ok {
		return Coupled{}, false
	}
	low := d/(t*t+d*d) + r*e/q
	high := (d+gapM)/(t*t+(d+gapM)*(d+gapM)) + r*(e+gapM)/(a*a+(e+gapM)*(e+gapM))
	if low < 0 {
		low, high = -low, -high
	}
	if !(high > 0) || !(low > LeastRatio*high) {
		return Coupled{}, false
	}
	return Coupled{-t, null, math.Log(TwoAntennaDepthM(low, high, gapM) / d), math.Log(low * d)}, true
}

// nullNearMark finds the zero of the vertical field near the mark at 0.
func nullNearMark(t, d, a, e, r float64) (float64, bool) {
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

// AtLine is AtMark with the neighbour at asideM from the true line: the mark climbs uphill
// from there, and may slide far towards the neighbour.
func AtLine(depthM, gapM, asideM, depth2M, r float64) (Coupled, bool) {
	lines := [2]Conductor{{DepthM: depthM, CurrentA: 1}, {XM: asideM, DepthM: depth2M, CurrentA: complex(r, 0)}}
	s := Section{Lines: lines[:]}.Survey(0, gapM)
	if math.IsInf(s.DepthM, 0) || !(math.Abs(s.PeakM) < 3*depthM) || !(math.Abs(s.NullOffsetM) < 3*depthM) {
		return Coupled{}, false
	}
	return Coupled{s.PeakM, s.NullOffsetM, math.Log(s.DepthM / depthM), math.Log(s.LowT * depthM / TeslaMetrePerAmpere)}, true
}

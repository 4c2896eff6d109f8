package receiver

import "math"

// Closed forms that the section and the wire are held against.

// halfWidthM returns how far beside a single line at depthM the horizontal
// field falls to the fraction p of its peak: d·√(1/p−1), for 0 < p <= 1. The
// total field is wider; see totalHalfWidthM.
func halfWidthM(p, depthM float64) float64 { return depthM * math.Sqrt(1/p-1) }

// totalHalfWidthM is halfWidthM for the magnitude of the field: d·√(1/p²−1).
func totalHalfWidthM(p, depthM float64) float64 { return depthM * math.Sqrt(1/(p*p)-1) }

// widthDepthM returns the depth of a single line from the full width at the
// fraction p of the horizontal peak. At 80 % depth and width are the same.
func widthDepthM(p, fullWidthM float64) float64 { return fullWidthM / (2 * math.Sqrt(1/p-1)) }

// offCentreDepthM returns the two-antenna depth shown xM beside a single line:
// (d+g)(x²+d²)/(d(d+g)−x²). It reads deep, and without bound as x nears
// √(d(d+g)), where the result is +Inf.
func offCentreDepthM(depthM, gapM, xM float64) float64 {
	d, dg, x2 := depthM, depthM+gapM, xM*xM
	if x2 >= d*dg {
		return math.Inf(1)
	}
	return dg * (x2 + d*d) / (d*dg - x2)
}

// offsetM returns how far beside a single line the receiver stands, from the
// vertical and horizontal field and the depth: d·Bv/Bh.
func offsetM(bv, bh, depthM float64) float64 { return depthM * bv / bh }

// lengthFactor returns the field of a straight line that reaches halfM to each
// side, over that of an endless one, at distance rM: L/√(L²+r²).
func lengthFactor(halfM, rM float64) float64 { return halfM / math.Hypot(halfM, rM) }

// dipoleAntennaRatio returns the field's magnitude at the lower antenna over
// that at the upper one, gapM above, beside a vertical dipole on the lower
// antenna's height: √(1+3cos²θ)/R³ at each. It is 1 within a thousandth beyond
// three metres, which is why an air-coupled depth reads far too deep.
func dipoleAntennaRatio(distanceM, gapM float64) float64 {
	r2 := distanceM * distanceM
	s2 := r2 + gapM*gapM
	return math.Pow(s2/r2, 1.5) / math.Sqrt(1+3*gapM*gapM/s2)
}

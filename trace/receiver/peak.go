package receiver

import (
	"math"
	"math/cmplx"
)

// PeakM returns the x of the maximum of |Bh| that is reached uphill from
// fromM, as a locator walks across the line from the previous mark; NaN where
// the field only rises towards infinity. The error is below 1e-9 of the depth.
func (s Section) PeakM(fromM float64) float64 {
	return s.walk(fromM, s.horizontalSlope)
}

// NullM returns the x of the minimum of |Bv| that is reached downhill from
// fromM; NaN where there is none. With currents in phase Bv is zero there.
func (s Section) NullM(fromM float64) float64 {
	return s.walk(fromM, func(xM float64) float64 { return -s.verticalSlope(xM) })
}

// nullFloor returns |Bv| at the null over |Bh| at the peak. Currents that are
// out of phase leave a floor above zero: a blurred null.
func (s Section) nullFloor(peakM, nullM float64) float64 {
	return cmplx.Abs(s.Bv(nullM, 0)) / cmplx.Abs(s.Bh(peakM, 0))
}

// level is the slope, as a share of the greatest that the section can have, up
// to which a place is level: the square of what rounding leaves of a field. Two
// slopes of less than its square would multiply to nothing, and the walk would
// stand or go by how it was scaled. A bound of the arithmetic.
const level = 1e-30

// walk climbs along slope from fromM to the first place where it changes sign,
// then closes in by the Illinois method (Dowell and Jarratt, 1971, BIT 11:168).
// From a level place, halfway between two equal peaks too, no way is uphill.
func (s Section) walk(fromM float64, slope func(float64) float64) float64 {
	a, fa := fromM, slope(fromM)
	if math.Abs(fa) <= level*s.steepest() {
		return a
	}
	step := math.Copysign(s.stepM(), fa)
	b, fb := a, fa
	for i := 0; fa*fb > 0; i++ {
		if i == 4000 {
			return math.NaN()
		}
		a, fa = b, fb
		b += step
		fb = slope(b)
	}
	for range 60 {
		if fb == 0 || math.Abs(b-a) < 1e-10*math.Abs(step) {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := slope(c)
		if fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return b
}

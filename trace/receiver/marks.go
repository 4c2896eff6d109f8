package receiver

import "math"

// Where another field is about than that of the line's own straight, from its bends or from
// another line, peak and null stand apart and neither over the line. A receiver takes the field
// across the line, or the whole of it, and the two have not the same peak. With K = mu0·I/2pi,
// depth d and the other field's parts e_x across and e_z upward, the line's own field and twice
// their product with it are
//
//	|B|² = K²/(x²+d²) + 2K·(d·e_x + x·e_z)/(x²+d²)
//
// to first order, whose slope is zero at x = (d³/K)·∂e_x/∂x + (d²/K)·e_z; the field across has
// its peak at x_p = (d³/2K)·∂e_x/∂x and the null is at x_n = -(d²/K)·e_z. So the peak of the
// whole field is at 2·x_p - x_n: it lies as far to the other side of x_p as the null lies to
// this one, and a null that is shown from the peak is twice as far off. Depth and current, of
// the field's size near the line, are the same to that order.

// PeakOffM is how far to one side of the line the peak of the field across stands where another
// field across rises by slope a metre towards that side, in units of [TeslaMetrePerAmpere] for
// each ampere of the line: where the slope of the own field h/(x²+h²), taken at atM, and it
// cancel. From 0 it is the first order of that, from its own result the next.
func PeakOffM(slope, atM, depthM float64) float64 {
	r2 := atM*atM + depthM*depthM
	return slope * (r2 * r2) / (2 * depthM)
}

// NullOffM is how far to one side of the line the null stands where another field has the
// downward part e, in the same units: where x/(x²+d²) = −e, but no farther than a depth aside,
// for beyond that there is none.
func NullOffM(e, depthM float64) float64 {
	if math.Abs(2*e*depthM) >= 1 {
		return math.Copysign(depthM, -e)
	}
	if e == 0 {
		return 0
	}
	v := 2 * e * depthM
	return (math.Sqrt(1-v*v) - 1) / (2 * e)
}

// WholePeakM is where the peak of the whole field stands, from that of the field across and
// how far beside it the null is; WholeNullTimes is how many times as far from it the null is
// then.
func WholePeakM(peakM, nullOffsetM float64) float64 { return peakM - nullOffsetM }

// WholeNullTimes: see WholePeakM. Derived above.
const WholeNullTimes = 2

// LegNullM is how far another conductor of the line's own, awayM aside, with times the current,
// pulls the null of a line at depthM: its vertical field, that of the current at that distance,
// over how fast the vertical field of the line grows across it.
func LegNullM(depthM, awayM, times float64) float64 { return depthM * depthM / awayM * times }

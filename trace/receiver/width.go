package receiver

import (
	"math"
	"math/cmplx"
)

// HalfWidthM returns how far beside a single line at depthM the horizontal
// field falls to the fraction p of its peak: d·√(1/p−1), for 0 < p <= 1. The
// total field is wider; see TotalHalfWidthM.
func HalfWidthM(p, depthM float64) float64 { return depthM * math.Sqrt(1/p-1) }

// TotalHalfWidthM is HalfWidthM for the magnitude of the field: d·√(1/p²−1).
func TotalHalfWidthM(p, depthM float64) float64 { return depthM * math.Sqrt(1/(p*p)-1) }

// WidthDepthM returns the depth of a single line from the full width at the
// fraction p of the horizontal peak. At 80 % depth and width are the same.
func WidthDepthM(p, fullWidthM float64) float64 { return fullWidthM / (2 * math.Sqrt(1/p-1)) }

// WidthsM returns how far left and right of peakM the horizontal field falls
// to the fraction p of its value there; NaN on a side where it does not within
// 20 times the shallowest depth. A single line gives two equal widths.
func (s Section) WidthsM(peakM, p float64) (leftM, rightM float64) {
	return s.fallM(peakM, p, -1), s.fallM(peakM, p, 1)
}

func (s Section) fallM(peakM, p, direction float64) float64 {
	target := p * cmplx.Abs(s.Bh(peakM, 0))
	step := s.stepM()
	for a := 0.0; a < 320*step; a += step {
		if cmplx.Abs(s.Bh(peakM+direction*(a+step), 0)) > target {
			continue
		}
		lo, hi := a, a+step
		for range 50 {
			mid := (lo + hi) / 2
			if cmplx.Abs(s.Bh(peakM+direction*mid, 0)) > target {
				lo = mid
			} else {
				hi = mid
			}
		}
		return (lo + hi) / 2
	}
	return math.NaN()
}

package receiver

import (
	"math"
	"math/cmplx"
)

// WidthsM returns how far left and right of peakM the horizontal field falls
// to the fraction p of its value there; NaN on a side where it does not within
// 20 times the shallowest depth. A single line gives two equal widths.
func (s Section) WidthsM(peakM, p float64) (leftM, rightM float64) {
	return s.fallM(peakM, p, -1), s.fallM(peakM, p, 1)
}

func (s Section) fallM(peakM, p, direction float64) float64 {
	target := p * cmplx.Abs(s.Bh(peakM, 0))
	step := s.stepM()
	// Derived: 20 times the shallowest depth, of which a step is a sixteenth.
	for a := 0.0; a < 320*step; a += step {
		if cmplx.Abs(s.Bh(peakM+direction*(a+step), 0)) > target {
			continue
		}
		lo, hi := a, a+step
		for range 50 { // halvings: a bound of the arithmetic
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

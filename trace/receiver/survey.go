package receiver

import "math/cmplx"

// Shown is what a locator with two antennas shows over a section.
type Shown struct {
	PeakM       float64 // x of the mark
	NullM       float64 // x of the null
	NullOffsetM float64 // null minus peak
	NullFloor   float64 // |Bv| at the null over |Bh| at the peak
	DepthM      float64 // two-antenna depth at the peak
	CurrentA    float64
	LowT, HighT float64 // fields at the two antennas at the peak
}

// Survey walks uphill from fromM to the peak, then to the null, and reads depth
// and current at the peak with the antennas gapM apart.
func (s Section) Survey(fromM, gapM float64) Shown {
	p := s.PeakM(fromM)
	n := s.NullM(p)
	low, high := cmplx.Abs(s.Bh(p, 0)), cmplx.Abs(s.Bh(p, gapM))
	d := TwoAntennaDepthM(low, high, gapM)
	return Shown{p, n, n - p, s.nullFloor(p, n), d, CurrentA(low, d), low, high}
}

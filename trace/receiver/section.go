package receiver

import (
	"math"
	"math/cmplx"
)

// Conductor is a long straight line seen end on.
type Conductor struct {
	XM       float64    // to the right of the section's origin
	DepthM   float64    // of the electrical centre below the lower antenna
	CurrentA complex128 // rms; negative flows back, imaginary is out of phase
}

// Section is a cut across parallel lines. AirT is a horizontal field, the same
// everywhere, such as an induction transmitter's own.
type Section struct {
	Lines []Conductor
	AirT  complex128
}

// Bh returns the horizontal component across the lines, in tesla, at x and at
// zM above the lower antenna: k I d/(x²+d²), summed.
func (s Section) Bh(xM, zM float64) complex128 {
	sum := s.AirT
	for _, c := range s.Lines {
		x, d := xM-c.XM, c.DepthM+zM
		sum += c.CurrentA * complex(TeslaMetrePerAmpere*d/(x*x+d*d), 0)
	}
	return sum
}

// Bv returns the vertical component in tesla: k I x/(x²+d²), summed.
func (s Section) Bv(xM, zM float64) complex128 {
	var sum complex128
	for _, c := range s.Lines {
		x, d := xM-c.XM, c.DepthM+zM
		sum += c.CurrentA * complex(TeslaMetrePerAmpere*x/(x*x+d*d), 0)
	}
	return sum
}

// horizontalSlope is the derivative of |Bh|² along x at height 0, and
// verticalSlope that of |Bv|².
func (s Section) horizontalSlope(xM float64) float64 {
	b, db := s.AirT, complex128(0)
	for _, c := range s.Lines {
		x, d := xM-c.XM, c.DepthM
		r2 := x*x + d*d
		b += c.CurrentA * complex(TeslaMetrePerAmpere*d/r2, 0)
		db += c.CurrentA * complex(-2*TeslaMetrePerAmpere*d*x/(r2*r2), 0)
	}
	return 2 * real(cmplx.Conj(b)*db)
}

func (s Section) verticalSlope(xM float64) float64 {
	var b, db complex128
	for _, c := range s.Lines {
		x, d := xM-c.XM, c.DepthM
		r2 := x*x + d*d
		b += c.CurrentA * complex(TeslaMetrePerAmpere*x/r2, 0)
		db += c.CurrentA * complex(TeslaMetrePerAmpere*(d*d-x*x)/(r2*r2), 0)
	}
	return 2 * real(cmplx.Conj(b)*db)
}

// stepM is the stride of searches: a small part of the shallowest depth, so
// that results scale with the section. Judgement.
func (s Section) stepM() float64 {
	step := s.Lines[0].DepthM
	for _, c := range s.Lines[1:] {
		step = min(step, c.DepthM)
	}
	return step / 16
}

// steepest is the order of the greatest slope of |B|² along x, in T²/m: the
// fields of all lines straight above them, added up, over the shallowest depth.
func (s Section) steepest() float64 {
	fieldT, shallowestM := cmplx.Abs(s.AirT), math.Inf(1)
	for _, c := range s.Lines {
		fieldT += cmplx.Abs(c.CurrentA) * TeslaMetrePerAmpere / c.DepthM
		shallowestM = min(shallowestM, c.DepthM)
	}
	return fieldT * fieldT / shallowestM
}

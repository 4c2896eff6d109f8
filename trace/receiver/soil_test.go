package receiver

import (
	"math"
	"math/cmplx"
)

// vacuumPermeability is mu0 in H/m, to ten digits.
const vacuumPermeability = 4e-7 * math.Pi

// skinDepthM returns √(ρ/(π f mu0)) in metres, for ρ in ohm-metres.
func skinDepthM(resistivityOhmM, freqHz float64) float64 {
	return math.Sqrt(resistivityOhmM / (math.Pi * freqHz * vacuumPermeability))
}

// halfSpaceDepthBias returns the relative error of the two-antenna depth over
// a single line in uniform ground, the lower antenna at the surface: negative,
// so it reads shallow. The field above ground is
//
//	Bh ∝ |∫ 2λ e^(−u d − λ z)/(u+λ) dλ|, u = √(λ² + jωμ0/ρ)
//
// over λ from 0 to infinity (as in Wait and Spies, 1971, Radio Science 6:781);
// the quadrature is good to 1e-5 for depths from 0.1 to 10 m. The resistivity
// of a site is not known: use it to choose a frequency, never to correct.
func halfSpaceDepthBias(resistivityOhmM, freqHz, depthM, gapM float64) float64 {
	jw := complex(0, 2*math.Pi*freqHz*vacuumPermeability/resistivityOhmM)
	at := func(zM float64) float64 {
		f := func(l float64) complex128 {
			u := cmplx.Sqrt(complex(l*l, 0) + jw)
			return complex(2*l*math.Exp(-l*zM), 0) * cmplx.Exp(-u*complex(depthM, 0)) / (u + complex(l, 0))
		}
		return cmplx.Abs(simpson(f, 40/depthM, 4000))
	}
	return TwoAntennaDepthM(at(0), at(gapM), gapM)/depthM - 1
}

// simpson integrates f from 0 to b, with nodes crowded at 0 by λ = b t².
func simpson(f func(float64) complex128, b float64, n int) complex128 {
	var sum complex128
	for i := range n + 1 {
		t := float64(i) / float64(n)
		w := 2.0
		switch {
		case i == 0 || i == n:
			w = 1
		case i%2 == 1:
			w = 4
		}
		sum += complex(w*2*b*t, 0) * f(b*t*t)
	}
	return sum / complex(3*float64(n), 0)
}

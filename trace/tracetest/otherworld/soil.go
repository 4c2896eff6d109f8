package otherworld

import (
	"math"
	"math/cmplx"
)

// groundSignal is the horizontal field at a height over an infinitely long line
// in uniform ground, relative to other heights only:
//
//	∫₀^∞ 2λ e^(−u·depth − λ·height)/(u+λ) dλ,  u = √(λ² + jωμ0/ρ),
//
// the half-space solution of the family of Wait and Spies, Radio Science 6(8),
// 781 (1971). Without ground currents it is 1/(depth+height).
func groundSignal(depthM, heightM, freqHz, ohmM float64) float64 {
	k2 := complex(0, 2*math.Pi*freqHz*mu0/ohmM)
	// Substituting λ = t²/(depth) makes the integrand smooth at zero, where u
	// has its root; exp(−t²) has died away by t = 6.
	const steps, last = 600, 6.0
	var sum complex128
	h := last / steps
	for i := 0; i <= steps; i++ {
		t := float64(i) * h
		lambda := complex(t*t/depthM, 0)
		u := cmplx.Sqrt(lambda*lambda + k2)
		f := 2 * lambda * cmplx.Exp(-u*complex(depthM, 0)-lambda*complex(heightM, 0)) / (u + lambda) * complex(2*t/depthM, 0)
		w := 4.0
		switch {
		case i == 0 || i == steps:
			w = 1
		case i%2 == 0:
			w = 2
		}
		sum += complex(w, 0) * f
	}
	return cmplx.Abs(sum) * h / 3
}

// groundDepth is the depth that two antennas show over a single line in uniform
// ground, over its true depth: less than one.
func groundDepth(depthM, gapM, freqHz, ohmM float64) float64 {
	low, high := groundSignal(depthM, 0, freqHz, ohmM), groundSignal(depthM, gapM, freqHz, ohmM)
	return gapM * high / (low - high) / depthM
}

package receiver

import "math"

// DipoleT returns the field in tesla of a small loop beside it, in the plane
// square to its axis, for a moment in A·m² at a distance in metres:
// mu0 m/(4 pi r³). It falls by 18 dB when the distance doubles.
func DipoleT(momentAm2, distanceM float64) float64 {
	return 1e-7 * momentAm2 / (distanceM * distanceM * distanceM)
}

// DipoleAntennaRatio returns the field's magnitude at the lower antenna over
// that at the upper one, gapM above, beside a vertical dipole on the lower
// antenna's height: √(1+3cos²θ)/R³ at each. It is 1 within a thousandth beyond
// three metres, which is why an air-coupled depth reads far too deep.
func DipoleAntennaRatio(distanceM, gapM float64) float64 {
	r2 := distanceM * distanceM
	s2 := r2 + gapM*gapM
	return math.Pow(s2/r2, 1.5) / math.Sqrt(1+3*gapM*gapM/s2)
}

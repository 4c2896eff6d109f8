package receiver

// DipoleT returns the field in tesla of a small loop beside it, in the plane
// square to its axis, for a moment in A·m² at a distance in metres:
// mu0 m/(4 pi r³). It falls by 18 dB when the distance doubles.
func DipoleT(momentAm2, distanceM float64) float64 {
	return 1e-7 * momentAm2 / (distanceM * distanceM * distanceM)
}

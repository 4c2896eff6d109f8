package receiver

import "math"

// AttenuationDBPerKm returns how fast a current falls from i1 to i2 over a
// length: 20 log10(i1/i2) per kilometre.
func AttenuationDBPerKm(i1, i2, lengthM float64) float64 {
	return 20 * math.Log10(i1/i2) / lengthM * 1000
}

// OpenEndCurrent returns the current at yM along a line of lengthM that is
// insulated at its far end, as a share of the current fed in:
// sinh(α(L−y))/sinh(αL), with α per metre (Sunde, Earth Conduction Effects in
// Transmission Systems, from memory). For a long line it is e^(−αy).
func OpenEndCurrent(alphaPerM, lengthM, yM float64) float64 {
	if alphaPerM == 0 {
		return (lengthM - yM) / lengthM
	}
	// By exponentials of negative arguments, which cannot overflow.
	far := math.Exp(-2 * alphaPerM * (lengthM - yM))
	return math.Exp(-alphaPerM*yM) * (1 - far) / (1 - math.Exp(-2*alphaPerM*lengthM))
}

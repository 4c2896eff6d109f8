package geo

import (
	"math"
	"strconv"
)

// feetInches words a whole number of inches: "3 ft 5 in", "4 ft", "7 in".
func feetInches(inches float64) string {
	sign := ""
	if inches < 0 {
		sign, inches = "-", -inches
	}
	feet := math.Floor(inches / 12)
	rest := inches - 12*feet
	n := func(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }
	switch {
	case feet == 0:
		return sign + n(rest) + " in"
	case rest == 0:
		return sign + n(feet) + " ft"
	}
	return sign + n(feet) + " ft " + n(rest) + " in"
}

// feetInchesWithBand rounds to whole inches, or to whole feet where the band is
// a yard or more. The band is rounded up.
func feetInchesWithBand(m, bandM float64) string {
	stepIn := 1.0
	if bandM >= 3*FootM {
		stepIn = 12
	}
	s := feetInches(math.Round(m/InchM/stepIn) * stepIn)
	if math.IsNaN(bandM) {
		return s
	}
	return s + " ± " + feetInches(math.Ceil(bandM/InchM/stepIn-1e-9)*stepIn)
}

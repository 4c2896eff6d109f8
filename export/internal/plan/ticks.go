package plan

import "math"

// Ticks returns the multiples of step within [from, to].
func Ticks(from, to, step float64) []float64 {
	if !(step > 0) || math.IsInf(from, 0) || math.IsInf(to, 0) {
		return nil
	}
	var out []float64
	for i := math.Ceil(from/step - 1e-9); i <= to/step+1e-9 && len(out) < 10000; i++ {
		out = append(out, i*step+0) // +0 turns -0 into 0
	}
	return out
}

// RoundStep returns the smallest of 1, 2 and 5 times a power of ten that is at
// least min.
func RoundStep(min float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(min)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*p >= min*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

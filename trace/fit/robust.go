package fit

import (
	"math"

	"loamline.example/trace/ranked"
)

// median returns the middle value, the mean of the two middle values for an
// even count, NaN for none. It changes the order of its argument.
func median(v []float64) float64 { return quantile(v, 0.5) }

// quantile returns the p quantile by linear interpolation between order
// statistics (type 7 of Hyndman and Fan, 1996, Am. Stat. 50:361). It changes the
// order of its argument.
func quantile(v []float64, p float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	at := p * float64(len(v)-1)
	i := int(at)
	x := ranked.At(v, i)
	if i+1 >= len(v) {
		return x
	}
	return x + (at-float64(i))*(ranked.At(v[i+1:], 0)-x)
}

// mad returns the scaled median absolute deviation about the median.
func mad(v []float64) float64 {
	c := append([]float64(nil), v...)
	m := median(c)
	for i, x := range v {
		c[i] = math.Abs(x - m)
	}
	return ranked.NormalSigma * median(c)
}

// clamp holds x to [lo, hi].
func clamp(x, lo, hi float64) float64 { return max(lo, min(hi, x)) }

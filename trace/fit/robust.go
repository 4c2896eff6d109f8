package fit

import (
	"math"
	"slices"
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
	putInPlace(v, i)
	if i+1 >= len(v) {
		return v[len(v)-1]
	}
	return v[i] + (at-float64(i))*(slices.Min(v[i+1:])-v[i])
}

// mostParted is how often values are parted before the rest is sorted after all.
const mostParted = 50

// putInPlace puts at i what sorting would put there, and nothing larger before it
// (Hoare 1961, CACM 4:321, algorithm 65). What is not a number comes first.
func putInPlace(v []float64, i int) {
	if slices.ContainsFunc(v, math.IsNaN) {
		slices.Sort(v)
		return
	}
	from, to := 0, len(v)-1
	for range mostParted {
		if from >= to {
			return
		}
		pivot, lo, hi := v[(from+to)/2], from, to
		for lo <= hi {
			for v[lo] < pivot {
				lo++
			}
			for pivot < v[hi] {
				hi--
			}
			if lo <= hi {
				v[lo], v[hi] = v[hi], v[lo]
				lo, hi = lo+1, hi-1
			}
		}
		switch {
		case i <= hi:
			to = hi
		case i >= lo:
			from = lo
		default:
			return
		}
	}
	slices.Sort(v[from : to+1])
}

// madScale makes the median absolute deviation a standard deviation under
// Gaussian noise (Hampel 1974, JASA 69:383).
const madScale = 1.4826

// mad returns the scaled median absolute deviation about the median.
func mad(v []float64) float64 {
	c := append([]float64(nil), v...)
	m := median(c)
	for i, x := range v {
		c[i] = math.Abs(x - m)
	}
	return madScale * median(c)
}

// clamp holds x to [lo, hi].
func clamp(x, lo, hi float64) float64 { return max(lo, min(hi, x)) }

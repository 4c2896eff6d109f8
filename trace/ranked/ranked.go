// Package ranked finds single values of many by their rank, in time that grows as their
// number: where the median is all that is asked, the rest need not be in order.
package ranked

import (
	"iter"
	"math"
	"math/bits"
	"slices"
)

// fewEnough values are sorted sooner than parted. Judgement: it saves time alone.
const fewEnough = 12

// At returns the value that would stand at k were v sorted, and leaves v so that none
// before k is more and none behind it less (Hoare, 1961, CACM 4:321). NaN is less than
// any number, as in [slices.Sort].
func At(v []float64, k int) float64 {
	lo, hi := 0, len(v)-1
	for i, x := range v {
		if math.IsNaN(x) {
			v[i], v[lo] = v[lo], v[i]
			lo++
		}
	}
	if k < lo {
		return v[k]
	}
	// Parts that hardly shrink are left to sorting, which no order of values makes slow.
	for rounds := 2 * bits.Len(uint(len(v))); hi-lo >= fewEnough && rounds > 0; rounds-- {
		below, above := part(v, lo, hi)
		switch {
		case k <= below:
			hi = below
		case k >= above:
			lo = above
		default:
			return v[k]
		}
	}
	slices.Sort(v[lo : hi+1])
	return v[k]
}

// part parts v[lo:hi+1] by one of its values: none up to below is more, none from above on
// less, and all between are that value.
func part(v []float64, lo, hi int) (below, above int) {
	a, b, c := v[lo], v[lo+(hi-lo)/2], v[hi]
	by := max(min(a, b), min(max(a, b), c))
	i, j := lo, hi
	for i <= j {
		for v[i] < by {
			i++
		}
		for v[j] > by {
			j--
		}
		if i <= j {
			v[i], v[j] = v[j], v[i]
			i++
			j--
		}
	}
	return j, i
}

// Median returns the middle value, the mean of the two middle values of an even number.
// There must be one. The order of v is lost.
func Median(v []float64) float64 {
	n := len(v)
	high := At(v, n/2)
	if n%2 == 1 {
		return high
	}
	low := v[0]
	for _, x := range v[1 : n/2] {
		if x > low || math.IsNaN(low) {
			low = x
		}
	}
	return (low + high) / 2
}

// NormalSigma is one sigma of normal errors over the median of their absolute values
// (Hampel, 1974, JASA 69:383).
const NormalSigma = 1.4826

// FarMADs is by how many medians of the absolute deviations, scaled by NormalSigma, a value lies
// far off (Hampel, 1974, JASA 69:383).
const FarMADs = 3.5

// About yields of each value of v the known ones among it and so many to either side, in
// order. They are to be used before the next.
func About(v []float64, aside int) iter.Seq2[int, []float64] {
	return func(yield func(int, []float64) bool) {
		sorted := make([]float64, 0, 2*aside+2)
		for k := -aside; k < len(v); k++ {
			if in := k + aside; in < len(v) && !math.IsNaN(v[in]) {
				at, _ := slices.BinarySearch(sorted, v[in])
				sorted = slices.Insert(sorted, at, v[in])
			}
			if out := k - aside - 1; out >= 0 && !math.IsNaN(v[out]) {
				at, _ := slices.BinarySearch(sorted, v[out])
				sorted = slices.Delete(sorted, at, at+1)
			}
			if k >= 0 && !yield(k, sorted) {
				return
			}
		}
	}
}

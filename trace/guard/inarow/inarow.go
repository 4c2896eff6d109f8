// Package inarow marks what lies off together: several neighbours in a row, each of which
// would pass alone ([Mark]), and scatter run by run ([Scatter]).
package inarow

import "math"

// Limits on offsets over their sigma: a run of five does not come to Limit even where all five
// share one error, but once in 370 times at the outermost. Judgement, on that ground.
const (
	Limit  = 3.0
	Length = 5
)

// Mark marks the members of any run of Length whose root mean square is over Limit, that lie
// off by more than 1.96 themselves; whole tells whether the run that ends at k lies together.
func Mark(z []float64, bad []bool, whole func(k int) bool) {
	for k := Length - 1; k < len(z); k++ {
		sum := 0.0
		for _, x := range z[k-Length+1 : k+1] {
			sum += x * x
		}
		if sum <= Length*Limit*Limit || !whole(k) {
			continue
		}
		for m := k - Length + 1; m <= k; m++ {
			bad[m] = bad[m] || math.Abs(z[m]) > 1.96
		}
	}
}

// leastReadings have a scatter. Judgement.
const leastReadings = 8

// Scatter is the standard deviation of values, and by how many standard errors their
// successive differences are larger than those of independent ones; 0 for both of few.
func Scatter(ys []float64) (sd, runs float64) {
	n := float64(len(ys))
	if len(ys) < leastReadings {
		return 0, 0
	}
	mean := 0.0
	for _, y := range ys {
		mean += y / n
	}
	sum, steps := 0.0, 0.0
	for k, y := range ys {
		sum += (y - mean) * (y - mean)
		if k > 0 {
			steps += (y - ys[k-1]) * (y - ys[k-1])
		}
	}
	if sum == 0 {
		return 0, 0
	}
	return math.Sqrt(sum / (n - 1)), (steps/sum - 2) / (2 * math.Sqrt((n-2)/(n*n-1)))
}

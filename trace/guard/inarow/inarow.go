// Package inarow marks what lies off together: several neighbours in a row, each of which
// would pass alone ([Mark]).
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

package receiver

import "math"

// Step returns the coarsest decimal step, in the values' own unit, on which all
// the values of all columns lie: 1e-5 for degrees that were written with five
// decimals. It is 0 where there is none coarser than 1e-8, or where in no column
// three values differ. Columns of one instrument belong together: where one stays
// on a rounder figure by chance, such as along a parallel, the other tells.
func Step(columns ...[]float64) float64 {
	if different(columns) < 3 {
		return 0
	}
	return coarsest(columns)
}

// coarsest is that step, whatever the values are.
func coarsest(columns [][]float64) float64 {
	for k := range finestDecimals + 1 {
		step := math.Pow10(-k)
		if onLattice(columns, step) {
			return step
		}
	}
	return 0
}

// StepIn is the same for metres that were written in one of several units: the
// coarsest step of any, in metres.
func StepIn(unitsM []float64, columnsM ...[]float64) float64 {
	best := 0.0
	for _, unit := range unitsM {
		in := make([][]float64, len(columnsM))
		for k, c := range columnsM {
			for _, v := range c {
				in[k] = append(in[k], v/unit)
			}
		}
		best = math.Max(best, Step(in...)*unit)
	}
	return best
}

// finestDecimals is up to how many decimals a step is looked for: a ninth of a degree is a
// tenth of a millimetre, which nobody measures (judgement).
const finestDecimals = 8

// How far from a step a value may lie, in steps, that was written on it and read
// back: what a double loses, and nothing that a ninth decimal would show. Bounds of the
// arithmetic.
const (
	ungridded   = 1e-10
	ungriddedOf = 1e-15 // of the number of steps
)

func onLattice(columns [][]float64, step float64) bool {
	for _, c := range columns {
		for _, v := range c {
			if !onStep(v, step) {
				return false
			}
		}
	}
	return true
}

func onStep(v, step float64) bool {
	n := v / step
	return math.Abs(n-math.Round(n)) <= ungridded+ungriddedOf*math.Abs(n)
}

// different is how many values differ in the column where most do.
func different(columns [][]float64) int {
	most := 0
	for _, c := range columns {
		seen := make(map[float64]bool, len(c))
		for _, v := range c {
			seen[v] = true
		}
		most = max(most, len(seen))
	}
	return most
}

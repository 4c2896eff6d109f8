package cases

import "slices"

// All is the table, in a fixed order. It is made anew at each call and is the
// same each time.
func All() []Case {
	return slices.Concat(plainCases(), fittingCases(), depthCases(), depthScaleCases(), depthRoundedCases(), depthStepCases(), displayCases(), factorCases(), fixCases(), lostCases(), nameCases(), unheardCases(), setupCases(), leadCases(), inductionCases(), shapeCases(), sparseCases(), passCases(),
		sweepCases(), stopCases(), jumpCases(), heardCases(), turnCases(), alongCases(), computedCases(), accuracyCases(), exposureCases(), inputCases())
}

// recipe makes one case at a bench of its own.
type recipe struct {
	name, shows string
	cook        func(b *bench)
}

func cook(recipes []recipe) []Case {
	var out []Case
	for _, r := range recipes {
		b := newBench(r.name, 0)
		r.cook(b)
		out = append(out, b.caseOf(r.name, r.shows))
	}
	return out
}

package receiver

import (
	"math"
	"slices"
)

// LeastDepthStepM is the step below which rounding is lost in any receiver's noise.
// Judgement: of a depth of 1 m its sigma, a step over √12, is a tenth of DepthNoiseRel.
const LeastDepthStepM = 0.015

// DepthStep returns the step in metres on which depths were written: of the
// units of the trade the coarsest that all lie on, 0 where there is none. Of manyDepths
// and more also the halves of decimal steps, which displays of 5 cm have: by chance one in
// four hundred thousand lines read to the centimetre lies on them; and two figures are enough
// then, for a receiver's own noise would make more. Of steps that hide more than that
// noise, one figure again and again tells as well, and a few figures may lie off them.
func DepthStep(depthsM []float64) float64 {
	if step := coarseDepthStep(depthsM); step > 0 {
		return step
	}
	units := []float64{1, footM, inchM}
	if len(depthsM) < manyDepths {
		return StepIn(units, depthsM)
	}
	if !slices.ContainsFunc(depthsM, func(d float64) bool { return d != depthsM[0] }) { // all alike
		return 0
	}
	best := 0.0
	for _, unit := range units {
		for _, part := range [2]float64{1, 0.5} {
			in := make([]float64, len(depthsM))
			for k, v := range depthsM {
				in[k] = v / (part * unit)
			}
			best = math.Max(best, coarsest([][]float64{in})*part*unit)
		}
	}
	return best
}

// manyDepths tell a step of 5 cm from chance. Judgement.
const manyDepths = 8

const (
	footM = 0.3048 // derived: by definition (international yard and pound agreement of 1959)
	inchM = 0.0254 // derived: by definition, a twelfth of it
)

// CoarseDepthM is the step from which rounding is more than the noise of a depth of 1 m
// may hide (judgement: half of it is more than DepthNoiseRel).
const CoarseDepthM = 0.1

// coarseDepths are steps that people and displays round depths to, the coarsest first,
// each with the finest figures that its unit is else written to (judgement): whole,
// half, quarter, fifth and tenth metres, whole and half feet.
var coarseDepths = []struct{ stepM, finestM float64 }{
	{1, 0.01}, {0.5, 0.01}, {footM, inchM}, {0.25, 0.01}, {0.2, 0.01}, {footM / 2, inchM}, {CoarseDepthM, 0.01},
}

// How depths show a coarse step. Judgement.
const (
	// alikeChance is how seldom a figure follows itself that was read to the finest: depths
	// of a quiet receiver scatter by two centimetres.
	alikeChance = 0.4
	// coarseChance is how seldom depths may lie on a step by chance: three different ones
	// that lie on tenths, as everywhere else here.
	coarseChance = 1e-3
	// fewOffStep is the part of depths that may lie off it: written by hand, or a tape's.
	fewOffStep = 0.1
)

// coarseDepthStep is the coarsest of coarseDepths that all depths lie on, or, where they
// lie on none, the coarsest that all but a few do, which takes more of them; 0 where they
// may do so by chance.
func coarseDepthStep(depthsM []float64) float64 {
	for _, off := range [2]int{0, int(fewOffStep * float64(len(depthsM)))} {
		for _, c := range coarseDepths {
			on := make([]float64, 0, len(depthsM))
			for i, d := range depthsM {
				if OnDepthStep(d, c.stepM) {
					on = append(on, d)
				} else if i-len(on) >= off {
					break // one too many
				}
			}
			others := len(depthsM) - len(on)
			if len(on) == 0 || others > off {
				continue
			}
			figures := different([][]float64{on})
			chance := math.Pow(c.finestM/c.stepM, float64(figures)) * math.Pow(alikeChance, float64(len(on)-figures)) *
				math.Pow(float64(len(depthsM)), float64(others)) // which of them lie off
			if others == 0 && chance <= coarseChance*(1+1e-9) || chance <= byChance {
				return c.stepM
			}
		}
	}
	return 0
}

// OnDepthStep reports whether a depth lies on a step; on feet and their parts as well as
// centimetres tell, for that is what they were turned into where they were written down.
func OnDepthStep(depthM, stepM float64) bool {
	if onStep(depthM, stepM) {
		return true
	}
	feet := stepM / footM
	off := math.Abs(depthM - stepM*math.Round(depthM/stepM))
	return (feet == 1 || feet == 0.5) && off <= 0.005*(1+1e-9) // derived: half of a centimetre
}

package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// depthLogs are the logs of the depths of a line's readings, on the scale of
// those shown. Two antennas say more than the figure shown beside them, which is
// rounded and may be missing, or was dropped for a spike that the antennas did not
// see: where their depths are the steadier ones, those stand, and the figures shown
// fill in; else the other way round. byAntennas tells which are the antennas'.
func depthLogs(rds []reading, gapM, fullScale float64) (lnD []float64, byAntennas []bool) {
	n := len(rds)
	shown, antennas := make([]float64, n), make([]float64, n)
	var apart []float64
	for k, r := range rds {
		shown[k], antennas[k] = logOf(r.DepthM), math.NaN()
		if r.SignalLow > r.SignalHigh && r.SignalHigh > 0 && r.SignalLow < fullScale {
			if d := antennaDepthM(r, gapM); d < receiver.DeepestM {
				antennas[k] = math.Log(d)
			}
		}
		if x := shown[k] - antennas[k]; !math.IsNaN(x) {
			apart = append(apart, x)
		}
	}
	byAntennas = make([]bool, n)
	if len(apart) < leastAntennas {
		return shown, byAntennas
	}
	scale := median(apart)
	for k := range antennas {
		antennas[k] += scale
	}
	first, second := shown, antennas
	steadier := secondSigma(antennas) < withStep(secondSigma(shown), rds)
	if steadier {
		first, second = antennas, shown
	}
	for k := range first {
		byAntennas[k] = steadier
		if math.IsNaN(first[k]) {
			first[k], byAntennas[k] = second[k], !steadier
		}
	}
	return first, byAntennas
}

// leastAntennas is how many readings with both tell how the depth shown stands to
// that of the antennas. Judgement: a median of fewer is a reading's slip.
const leastAntennas = 5

// withStep is the error of the depths shown that scatter by sigma: on steps wider than
// their own noise they look steadier than they are, and err by what a step hides.
func withStep(sigma float64, rds []reading) float64 {
	shown, stepM := shownDepths(rds)
	if step := median(newShownFigure(shown, func(k int) float64 { return stepM / shown[k] }).sd); step > 0 && !(sigma > step) {
		return step
	}
	return sigma
}

// fullScale is the end of the signal's display, of the lower antenna where both were read.
func fullScale(rds []reading) float64 {
	shown := make([]float64, len(rds))
	for k, r := range rds {
		shown[k] = signalShown(r)
	}
	return receiver.FullScale(shown)
}

// signalLogs are the logs of the field at the lower antenna, on one scale along the
// line. Where the display had reached its end, the current shown over the depth
// shown stands in, brought to that scale.
func signalLogs(rds []reading, fullScale float64) []float64 {
	lnS := make([]float64, len(rds))
	var apart []float64
	for k, r := range rds {
		lnS[k] = logOf(signalOf(r))
		if !signalRead(r) {
			continue
		}
		if x := lnS[k] - logOf(r.CurrentMA/r.DepthM); signalShown(r) < fullScale && !math.IsNaN(x) {
			apart = append(apart, x)
		}
	}
	for k, r := range rds {
		if !(signalShown(r) >= fullScale) {
			continue
		}
		lnS[k] = math.NaN()
		if len(apart) >= leastAntennas {
			lnS[k] = logOf(r.CurrentMA/r.DepthM) + median(slices.Clone(apart))
		}
	}
	return lnS
}

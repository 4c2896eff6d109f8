package receiver

import "math"

// SignalStep is the step that signals or currents are shown on which share one display: the
// coarsest of decimals, of their halves and fifths, on which all of them lie and finer ones
// would lie by chance alone; 0 where there is none. What is not known counts for nothing.
func SignalStep(signals ...[]float64) float64 {
	var shown []float64
	for _, column := range signals {
		for _, s := range column {
			if !math.IsNaN(s) {
				shown = append(shown, s)
			}
		}
	}
	columns := [][]float64{shown}
	figures := different(columns)
	alike := math.Pow(alikeChance, float64(len(shown)-figures))
	for k := coarsestPower; k >= -finestDecimals; k-- {
		for _, times := range [...]float64{5, 2, 1} { // Judgement, as columnParts
			finer := 1 / times
			if times == 1 {
				finer = 0.1 // derived: of decimals
			}
			step := times * math.Pow10(k)
			if math.Pow(finer, float64(figures))*alike <= coarseChance*(1+1e-9) && onLattice(columns, step) {
				return step
			}
		}
	}
	return 0
}

// AntennaStep is the step that the signals of two antennas are shown on. Judgement: to whole
// figures at least, and rounder ones by chance.
func AntennaStep(low, high []float64) float64 { return math.Min(1, SignalStep(low, high)) }

// LevelStep is the step of signals that were shown in decibels, as the part of a signal that
// one step is; 0 where they were not.
func LevelStep(signals []float64) float64 {
	levels := make([]float64, len(signals))
	// Derived: 20 dB are a factor of ten in a field (IEC 60027-3).
	for k, s := range signals {
		if levels[k] = 20 * math.Log10(s); math.IsInf(levels[k], 0) { // derived, as said
			levels[k] = math.NaN()
		}
	}
	return SignalStep(levels) * math.Ln10 / 20 // derived, likewise
}

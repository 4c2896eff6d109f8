package clean

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// leastGaps is from how many readings a distance of the antennas is taken. Judgement.
const leastGaps = 5

// AntennaGapM is the distance between the antennas as stated or, where it is
// not, as the readings themselves imply it.
func AntennaGapM(t trace.Trace, statedM float64) float64 {
	if trace.Known(statedM) {
		return statedM
	}
	return impliedGapM(t, leastGaps)
}

// impliedGapM is the median distance of the antennas that depths and signals of a
// trace suppose, Unknown where fewer than least readings tell it.
func impliedGapM(t trace.Trace, least int) float64 {
	var gaps []float64
	full := displayOf(t).fullScale
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.SignalLow >= full {
			continue
		}
		if g := receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM); g > 0 && !math.IsInf(g, 0) && !(r.RaiseM > 0) {
			gaps = append(gaps, g)
		}
	}
	return medianOfAtLeast(gaps, least)
}

func medianOfAtLeast(v []float64, n int) float64 {
	if len(v) < n {
		return trace.Unknown
	}
	return ranked.Median(v)
}
